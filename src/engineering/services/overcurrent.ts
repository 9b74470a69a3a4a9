import { makeCheck, positive, qty, type Check, type Clause } from '../trace/index.ts';
import type { Circuit } from './service.ts';

/** NFPA 70-2020; the values below stand in the 2017 and 2023 editions, too. */
const EDITION = '2020';

type Metal = Exclude<Circuit['conductor'], 'not read'>;
type Size = Exclude<Circuit['awg'], 'not read'>;

/**
 * The largest breaker on a small conductor, A: NEC 240.4(D)(3) to (7), as reprinted under a wire maker's size table
 * and quoted clause by clause in public; exceptions in 240.4(E) and (G) (taps, motors, air conditioners) are not
 * taken. 14 AWG copper-clad, 10 A: the 2023 edition alone, from memory.
 */
const smallConductorA: Readonly<Record<Metal, Partial<Record<Size, number>>>> = {
  copper: { '14': 15, '12': 20, '10': 30 },
  aluminium: { '12': 15, '10': 25 },
  'copper-clad': { '14': 10, '12': 15, '10': 25 },
};

/**
 * Ampacity in the 60 °C column of NEC Table 310.16, A, which nonmetallic-sheathed cable is held to (334.80). Read in
 * two public reprints; they differ in 8 AWG aluminium (30 before 2011, 35 since): the present value is here.
 */
const ampacity60A: Readonly<Record<'copper' | 'aluminium', Partial<Record<Size, number>>>> = {
  copper: { '8': 40, '6': 55, '4': 70, '3': 85, '2': 95, '1': 110 },
  aluminium: { '8': 35, '6': 40, '4': 55, '3': 65, '2': 75, '1': 85 },
};

/** Standard ratings of breakers, A: NEC 240.6(A). */
const standardRatingsA = [15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125];

export interface ConductorOnBreaker {
  readonly amps: number;
  readonly awg: Circuit['awg'];
  readonly conductor: Circuit['conductor'];
}

/** The largest breaker that protects a conductor, A, and the clause that says so; null where the tables have none. */
export function largestBreaker(metal: Metal, size: Size): { amps: number; clause: Clause } | null {
  const small = smallConductorA[metal][size];
  if (small !== undefined) {
    const newer = metal === 'copper-clad' && size === '14';
    return {
      amps: small,
      clause: newer
        ? { standard: 'NEC', edition: '2023', section: '240.4(D)', provenance: 'from memory' }
        : { standard: 'NEC', edition: EDITION, section: '240.4(D)', provenance: 'seen' },
    };
  }
  const ampacity = ampacity60A[metal === 'copper' ? 'copper' : 'aluminium'][size];
  if (ampacity === undefined) return null;
  // The next standard rating above the ampacity is allowed (240.4(B)).
  const next = standardRatingsA.find((rating) => rating >= ampacity) ?? ampacity;
  return {
    amps: next,
    clause: {
      standard: 'NEC',
      edition: EDITION,
      section: 'Table 310.16 (60 °C), 240.4(B)',
      provenance: 'seen',
    },
  };
}

/**
 * Is the breaker small enough for the conductor? Null where size or metal was not read: nothing is assumed.
 * @throws Refusal for a breaker without a rating
 */
export function checkOvercurrent(
  id: string,
  stage: 'as found' | 'after the work',
  on: ConductorOnBreaker,
): Check | null {
  positive(on.amps, `${id}.amps`);
  if (on.awg === 'not read' || on.conductor === 'not read') return null;
  const largest = largestBreaker(on.conductor, on.awg);
  const name = `${on.awg} AWG ${on.conductor}`;
  return makeCheck({
    id,
    title: `Breaker, ${stage}`,
    clause: largest?.clause ?? {
      standard: 'NEC',
      edition: EDITION,
      section: '310.3(A)',
      provenance: 'from memory',
    },
    demand: qty(on.amps, 'A'),
    capacity: qty(largest?.amps ?? 0, 'A'),
    sentence: (passes) => {
      if (largest === null) return `The tables have no ${name} for building wire: read the jacket again.`;
      return passes
        ? `${on.amps} A on ${name}: at most ${largest.amps} A.`
        : `${on.amps} A is more than the ${largest.amps} A that ${name} may be fused at: the cable can burn before the breaker trips.`;
    },
  });
}
