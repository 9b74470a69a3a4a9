import type { Clause, Editions } from '../trace/clause.ts';
import type { LoadKind } from './load.ts';

/**
 * Load duration factors CD, NDS 2018/2024 Table 2.3.2 (frequently used values, from memory; both editions
 * alike): permanent 0.9, ten years (occupancy) 1.0, two months (snow) 1.15, seven days (construction, taken
 * for roof live load) 1.25, ten minutes (wind, earthquake) 1.6.
 */
const DURATION_FACTORS: Readonly<Record<LoadKind, number>> = { D: 0.9, L: 1.0, S: 1.15, Lr: 1.25, W: 1.6 };

export function durationFactor(kind: LoadKind): number {
  return DURATION_FACTORS[kind];
}

/** NDS 2.3.2: the load of shortest duration in a combination decides CD for all of it. */
export function shortestDuration(kinds: Iterable<LoadKind>): LoadKind {
  let shortest: LoadKind = 'D';
  for (const kind of kinds) if (DURATION_FACTORS[kind] > DURATION_FACTORS[shortest]) shortest = kind;
  return shortest;
}

export function durationClause(editions: Pick<Editions, 'nds'>): Clause {
  return { standard: 'NDS', edition: editions.nds, section: '2.3.2, Table 2.3.2', provenance: 'from memory' };
}
