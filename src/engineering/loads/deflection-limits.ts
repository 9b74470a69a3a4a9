import type { Clause, Editions } from '../trace/clause.ts';

/** Members of IRC Table R301.7. */
export const DEFLECTION_MEMBERS = [
  'floors',
  'ceilings with plaster or stucco finish',
  'ceilings with gypsum board or flexible finish',
  'rafters over 3:12 with no ceiling attached',
  'interior walls and partitions',
  'all other structural members',
] as const;
export type DeflectionMember = (typeof DEFLECTION_MEMBERS)[number];

export interface DeflectionLimit {
  /** Span (height, for walls) ÷ this = allowed deflection under live, snow or wind load. */
  readonly ratio: number;
  readonly clause: Clause;
}

/** IRC Table R301.7, allowable deflection under live, snow or wind load. */
const TABLE_R301_7: Readonly<
  Record<DeflectionMember, { ratio: number; provenance: NonNullable<Clause['provenance']> }>
> = {
  floors: { ratio: 360, provenance: 'seen' },
  'ceilings with plaster or stucco finish': { ratio: 360, provenance: 'seen' },
  'ceilings with gypsum board or flexible finish': { ratio: 240, provenance: 'seen' },
  'rafters over 3:12 with no ceiling attached': { ratio: 180, provenance: 'from memory' },
  'interior walls and partitions': { ratio: 180, provenance: 'from memory' },
  'all other structural members': { ratio: 240, provenance: 'seen' },
};

export function deflectionLimit(member: DeflectionMember, editions: Pick<Editions, 'irc'>): DeflectionLimit {
  const row = TABLE_R301_7[member];
  return {
    ratio: row.ratio,
    clause: { standard: 'IRC', edition: editions.irc, section: 'Table R301.7', provenance: row.provenance },
  };
}
