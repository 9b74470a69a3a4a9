import { z } from 'zod';
import { holdPoints, type ExtraCheck } from './check.ts';

/** A circuit found in the wall, as far as an inspector looks at it. */
export const circuitForChecksSchema = z.strictObject({
  /** Never changes: the circuit's own id. */
  key: z.string().min(1).max(80),
  /** As on the panel: '9', '13+15'. */
  breaker: z.string().trim().min(1).max(20),
  amps: z.number().int().min(10).max(200),
  poles: z.union([z.literal(1), z.literal(2)]),
  conductor: z.enum(['copper', 'aluminum', 'copper-clad aluminum']),
  awg: z.number().int().min(1).max(14),
  cable: z.string().trim().max(60),
  feeds: z.string().trim().min(1).max(200),
  disposition: z.enum(['keep', 'reroute', 'extend', 'remove', 'abandon']),
  /** Is arc-fault protection asked for where the circuit is changed? */
  arcFault: z.boolean(),
});
export type CircuitForChecks = z.infer<typeof circuitForChecksSchema>;

/**
 * The largest overcurrent device for small conductors, A: NEC 240.4(D)(3) to (7) (from memory): copper 14, 12, 10 AWG
 * → 15, 20, 30; aluminum and copper-clad aluminum 12, 10 AWG → 15, 25. Larger conductors: undefined, by NEC 310.
 */
export function largestBreakerA(conductor: CircuitForChecks['conductor'], awg: number): number | undefined {
  const rows = conductor === 'copper' ? { 14: 15, 12: 20, 10: 30 } : { 12: 15, 10: 25 };
  return (rows as Record<number, number | undefined>)[awg];
}

const electrical = {
  visitKind: 'electrical',
  holdPoint: holdPoints.cover,
  localVisit: '',
} as const;

/**
 * The rough-in checks of the circuits that were in the wall, one group for each circuit by what becomes of it. Pure.
 * Sections of the NEC are from memory.
 */
export function serviceChecks(circuits: readonly CircuitForChecks[]): ExtraCheck[] {
  return circuits.flatMap((given) => circuitChecks(circuitForChecksSchema.parse(given)));
}

function circuitChecks(circuit: CircuitForChecks): ExtraCheck[] {
  const { key, breaker, conductor, awg, amps, feeds, disposition } = circuit;
  const name = `Circuit ${breaker}`;
  const own = (rule: string) =>
    ({ ...electrical, rule, source: `circuit ${breaker}`, stem: `circuit:${key}:${rule}` }) as const;
  if (disposition === 'remove' || disposition === 'abandon') {
    return [
      {
        ...own('dead'),
        title: `${name}: dead at both ends`,
        criterion: `${feeds}: ${disposition === 'remove' ? 'the cable is out of the wall' : 'the cable that stays is cut free and capped at both ends'}, off its breaker in the panel, and the panel’s label says so.`,
        clause: 'NEC 110.22, 408.4(A)',
        howToLook: 'Look into the panel: the conductors are out. Try a tester at the far end.',
        photoRequired: false,
      },
    ];
  }
  const limit = largestBreakerA(conductor, awg);
  const checks: ExtraCheck[] = [
    {
      ...own('breaker'),
      title: `${name}: breaker fits the conductor`,
      criterion:
        limit === undefined
          ? `${amps} A breaker on ${awg} AWG ${conductor}: by the ampacity of the cable (${circuit.cable || 'type not recorded'}).`
          : `${awg} AWG ${conductor}: ${limit} A at most${amps > limit ? `; the ${amps} A breaker that was found is changed` : `, as the ${amps} A breaker found`}.`,
      clause: 'NEC 240.4(D)',
      howToLook: 'Read the breaker’s handle and the cable’s print at the panel.',
      photoRequired: false,
    },
  ];
  if (disposition === 'keep') {
    checks.push({
      ...own('kept'),
      title: `${name}: kept unharmed`,
      criterion: `${feeds}: sheath whole along the work, held clear of the beam and its hangers, plates where a nail could reach it.`,
      clause: 'NEC 300.4',
      howToLook: 'Follow the cable past the opening by hand, looking for nicks and crushed places.',
      photoRequired: false,
    });
    return checks;
  }
  const listed =
    conductor === 'copper'
      ? 'splices in boxes'
      : 'splices in boxes, by connectors listed for aluminum to copper and by a qualified electrician';
  checks.push({
    ...own('run'),
    title: `${name}: new run`,
    criterion: `${feeds}: ${listed}; every box stays accessible; cable held within 8 in of a box without clamps, 12 in of one with, and every 4 1/2 ft; bored holes 1 1/4 in from the face or behind plates${circuit.arcFault ? '; arc-fault protection where it was extended or changed' : ''}.`,
    clause: `NEC 314.29, 334.30, 300.4${circuit.arcFault ? ', 210.12' : ''}${conductor === 'copper' ? '' : ', 110.14(B)'}`,
    howToLook: 'Open each new box; pull gently at every conductor; tape the first staple from each box.',
    photoRequired: true,
  });
  checks.push({
    ...own('label'),
    title: `${name}: panel says what it feeds`,
    criterion: `The panel’s list names what ${breaker} feeds now (found: ${feeds}).`,
    clause: 'NEC 408.4(A)',
    howToLook: 'Switch it off and try what it is said to feed.',
    photoRequired: false,
  });
  return checks;
}
