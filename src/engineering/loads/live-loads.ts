import type { Clause, Editions } from '../trace/clause.ts';

/** Uses of IRC Table R301.5 that a wall in a dwelling can carry. */
export const LIVE_LOAD_USES = [
  'rooms other than sleeping rooms',
  'sleeping rooms',
  'habitable attics and attics with fixed stairs',
  'uninhabitable attics with limited storage',
  'uninhabitable attics without storage',
  'stairs',
  'decks',
  'exterior balconies',
  'fire escapes',
  'passenger vehicle garages',
] as const;
export type LiveLoadUse = (typeof LIVE_LOAD_USES)[number];

export interface LiveLoad {
  readonly psf: number;
  readonly clause: Clause;
  readonly note?: string;
}

/**
 * IRC Table R301.5, minimum uniformly distributed live loads, psf. `seen` rows were read in a public adoption
 * of the table; the others are from memory.
 */
const TABLE_R301_5: Readonly<
  Record<LiveLoadUse, { psf: number; provenance: NonNullable<Clause['provenance']>; note?: string }>
> = {
  'rooms other than sleeping rooms': { psf: 40, provenance: 'seen' },
  'sleeping rooms': { psf: 30, provenance: 'seen' },
  'habitable attics and attics with fixed stairs': { psf: 30, provenance: 'seen' },
  'uninhabitable attics with limited storage': { psf: 20, provenance: 'seen' },
  'uninhabitable attics without storage': { psf: 10, provenance: 'seen' },
  stairs: {
    psf: 40,
    provenance: 'from memory',
    note: 'Or 300 lb on 4 in², whichever stresses the tread more.',
  },
  decks: { psf: 40, provenance: 'from memory' },
  'exterior balconies': {
    psf: 60,
    provenance: 'from memory',
    note: '1.5 times the live load of the area served, 40 psf rooms.',
  },
  'fire escapes': { psf: 40, provenance: 'seen' },
  'passenger vehicle garages': {
    psf: 50,
    provenance: 'from memory',
    note: 'Elevated garage floors also take 2,000 lb on 20 in².',
  },
};

/**
 * Minimum uniform live load of a use. The table's rows for the uses here are alike in 2018, 2021 and 2024,
 * except exterior balconies, where editions print 60 psf or 1.5 times the area served (from memory): both give
 * 60 psf beside a 40 psf room, and that is what is used.
 */
export function minimumLiveLoad(use: LiveLoadUse, editions: Pick<Editions, 'irc'>): LiveLoad {
  const row = TABLE_R301_5[use];
  return {
    psf: row.psf,
    clause: { standard: 'IRC', edition: editions.irc, section: 'Table R301.5', provenance: row.provenance },
    ...(row.note === undefined ? {} : { note: row.note }),
  };
}
