import type { Clause, Editions } from '../trace/clause.ts';
import { qty } from '../trace/quantity.ts';
import { notNegative, refuseUnless } from '../trace/refusal.ts';
import type { Step } from '../trace/step.ts';

export interface RoofLiveInput {
  readonly asce7: Editions['asce7'];
  /** Plan area that the member carries. */
  readonly tributaryFt2: number;
  readonly riseIn12: number;
  /** Lo; 20 psf for ordinary pitched roofs (ASCE 7 Table 4.3-1). */
  readonly unreducedPsf?: number;
}

export interface RoofLive {
  readonly psf: number;
  readonly steps: readonly Step[];
}

/**
 * Reduced roof live load on plan area.
 *
 * Lr = Lo · R1 · R2, held between 12 and 20 psf. R1 = 1.2 − 0.001 At between 200 and 600 ft², 1 below and 0.6
 * above; R2 = 1.2 − 0.05 F between 4 and 12 in 12, 1 below and 0.6 above (ASCE 7-16/7-22 4.8.2, Eq. 4.8-1;
 * both editions alike; from memory).
 *
 * @throws Refusal for a negative area or rise, or Lo outside 12 to 20 psf
 */
export function roofLiveLoad(input: RoofLiveInput): RoofLive {
  const area = notNegative(input.tributaryFt2, 'tributaryFt2');
  const rise = notNegative(input.riseIn12, 'riseIn12');
  const unreduced = input.unreducedPsf ?? 20;
  refuseUnless(
    unreduced >= 12 && unreduced <= 20,
    'unreducedPsf',
    'The reduction of roof live load is for Lo between 12 and 20 psf.',
  );
  const areaFactor = Math.min(1, Math.max(0.6, 1.2 - 0.001 * area));
  const slopeFactor = Math.min(1, Math.max(0.6, 1.2 - 0.05 * rise));
  const psf = Math.min(20, Math.max(12, unreduced * areaFactor * slopeFactor));
  const clause: Clause = {
    standard: 'ASCE 7',
    edition: input.asce7,
    section: '4.8.2, Eq. 4.8-1',
    provenance: 'from memory',
  };
  return {
    psf,
    steps: [
      {
        id: 'roof-live.R1',
        title: 'Roof live load: factor for tributary area',
        clause,
        formula: 'R1 = min(1, max(0.6, 1.2 − 0.001 · At))',
        values: { At: qty(area, 'ft²') },
        result: qty(areaFactor),
      },
      {
        id: 'roof-live.R2',
        title: 'Roof live load: factor for slope',
        clause,
        formula: 'R2 = min(1, max(0.6, 1.2 − 0.05 · F))',
        values: { F: qty(rise, 'in') },
        result: qty(slopeFactor),
        note: 'F: inches of rise per foot of run.',
      },
      {
        id: 'roof-live.Lr',
        title: 'Roof live load on plan area',
        clause,
        formula: 'Lr = min(20, max(12, Lo · R1 · R2))',
        values: { Lo: qty(unreduced, 'psf'), R1: qty(areaFactor), R2: qty(slopeFactor) },
        result: qty(psf, 'psf'),
      },
    ],
  };
}
