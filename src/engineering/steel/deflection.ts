import { makeCheck, notNegative, positive, qty, type Check, type Clause } from '../trace/index.ts';

/**
 * Deflections as statics gives them for E·I = 1 lb-in², so that one analysis serves every candidate:
 * δ = (E·I·δ) ÷ (E·I).
 */
export interface DeflectionDemand {
  readonly spanIn: number;
  readonly liveLbIn3: number;
  readonly totalLbIn3: number;
  /** Span ÷ this = allowed. */
  readonly liveRatio: number;
  readonly totalRatio: number;
  readonly absoluteIn?: number;
}

const BENDING: Clause = { standard: 'Mechanics', edition: '', section: 'elastic bending, δ = (EIδ) / EI' };

/** Live and total deflection against span ratios and, where given, the absolute limit. `creep`: total counts more. */
export function deflectionChecks(
  prefix: string,
  demand: DeflectionDemand,
  liveRigidityLbIn2: number,
  totalIn: number,
  totalStep: Check['steps'][number],
  limits: Clause,
): Check[] {
  const span = positive(demand.spanIn, 'deflection.spanIn');
  positive(demand.liveRatio, 'deflection.liveRatio');
  positive(demand.totalRatio, 'deflection.totalRatio');
  const liveIn = notNegative(demand.liveLbIn3, 'deflection.liveLbIn3') / liveRigidityLbIn2;
  const checks = [
    makeCheck({
      id: `${prefix}.deflection.live`,
      title: 'Deflection under live load',
      clause: limits,
      demand: qty(liveIn, 'in'),
      capacity: qty(span / demand.liveRatio, 'in'),
      steps: [
        {
          id: `${prefix}.deflection.live.value`,
          title: 'Deflection under live load',
          clause: BENDING,
          formula: 'δ = EIδ / EI',
          values: { EIδ: qty(demand.liveLbIn3), EI: qty(liveRigidityLbIn2, 'lb-in²') },
          result: qty(liveIn, 'in'),
          note: 'EIδ from statics, lb-in³.',
        },
      ],
    }),
    makeCheck({
      id: `${prefix}.deflection.total`,
      title: 'Deflection under all load',
      clause: limits,
      demand: qty(totalIn, 'in'),
      capacity: qty(span / demand.totalRatio, 'in'),
      steps: [totalStep],
    }),
  ];
  if (demand.absoluteIn !== undefined) {
    checks.push(
      makeCheck({
        id: `${prefix}.deflection.absolute`,
        title: 'Deflection under all load, absolute limit',
        clause: {
          standard: 'Declared',
          edition: '',
          section: 'limit of the project',
          provenance: 'declared',
        },
        demand: qty(totalIn, 'in'),
        capacity: qty(positive(demand.absoluteIn, 'deflection.absoluteIn'), 'in'),
        steps: [totalStep],
      }),
    );
  }
  return checks;
}
