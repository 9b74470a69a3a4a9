import { positive, qty, refuseUnless, type Editions, type Step } from '../trace/index.ts';
import { ircClause, mechanicsClause } from './clauses.ts';

export interface RafterPair {
  /** Out to out of the walls that the pair stands on, ft of plan. */
  readonly spanIn: number;
  readonly riseIn12: number;
  readonly spacingIn: number;
  /** Everything on the pair, psf of plan: dead load brought to plan, and roof live or snow. */
  readonly loadPlanPsf: number;
  /** Height of the tie above the plate ÷ height of the ridge above the plate (Hc/Hr); 0: ties at the plate. */
  readonly tieHeightShare: number;
}

/**
 * By how much the thrust grows where the tie sits above the plate: 1/(1 − Hc/Hr). IRC Table R802.5.2 footnote
 * prints 1.5, 1.33, 1.25, 1.2 and 1.11 at 1/3, 1/4, 1/5, 1/6 and 1/10, which is this formula (records HEEL-1_*).
 * @throws Refusal above a third, where the code wants a ridge beam or a design
 */
export function raisedTieFactor(tieHeightShare: number): number {
  refuseUnless(
    Number.isFinite(tieHeightShare) && tieHeightShare >= 0 && tieHeightShare <= 1 / 3 + 1e-9,
    'tieHeightShare',
    'Ties above the lower third of the roof do not hold the rafters’ feet: it takes a ridge beam (IRC R802.5.2.1).',
  );
  return 1 / (1 - tieHeightShare);
}

/**
 * Thrust of one rafter pair at the tie, lb: H = w L² / (8 h) of a three-hinged pair under a uniform plan load,
 * raised by Hc/Hr. The heel joint of IRC Table R802.5.2 resists the same force.
 */
export function rafterThrust(
  pair: RafterPair,
  editions: Editions,
  id = 'thrust',
): { thrustLb: number; steps: readonly Step[] } {
  const spanIn = positive(pair.spanIn, 'spanIn');
  const spacingIn = positive(pair.spacingIn, 'spacingIn');
  const loadPsf = positive(pair.loadPlanPsf, 'loadPlanPsf');
  positive(pair.riseIn12, 'riseIn12');
  const riseIn = (spanIn / 2) * (pair.riseIn12 / 12);
  const loadPerIn = (loadPsf / 144) * spacingIn;
  const atPlateLb = (loadPerIn * spanIn ** 2) / (8 * riseIn);
  const factor = raisedTieFactor(pair.tieHeightShare);
  const thrustLb = atPlateLb * factor;
  return {
    thrustLb,
    steps: [
      {
        id: `${id}.H0`,
        title: 'Thrust of one rafter pair at the plate',
        clause: mechanicsClause('three-hinged rafter pair, uniform plan load'),
        formula: 'H0 = w · L² / (8 · h)',
        values: { w: qty(loadPerIn, 'lb/in'), L: qty(spanIn, 'in'), h: qty(riseIn, 'in') },
        result: qty(atPlateLb, 'lb'),
      },
      {
        id: `${id}.H`,
        title: 'Thrust at the height of the tie',
        clause: ircClause(editions, 'Table R802.5.2 footnote', 'from memory'),
        formula: 'H = H0 / (1 − Hc/Hr)',
        values: { H0: qty(atPlateLb, 'lb'), 'Hc/Hr': qty(pair.tieHeightShare) },
        result: qty(thrustLb, 'lb'),
      },
    ],
  };
}
