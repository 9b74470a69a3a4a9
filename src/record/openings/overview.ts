import { itemState, type ItemFacts, type ItemStanding, type ItemState } from '../items/state.ts';
import { factsOfItems } from '../items/store.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { staleOfOpening } from '../staleness/store.ts';
import type { ProjectViewer } from '../read-together.ts';
import type { RecordDeps } from '../use-case.ts';
import { countStates, firstOfKinds, firstUnsubmitted, type StateCount } from './overview-store.ts';

/** Items of one kind that an opening's page shows; its list of that kind has the others. */
const OF_EACH_KIND = 30;
/** Items out of date that the page names; the count says how many there are. */
const STALE_SHOWN = 20;
/** Versions handed over by one press of the button: each of them stands beside it. */
const TO_SUBMIT = 100;

/** An opening as its page shows it: all of it in counts, and the first items of each kind. */
export interface OpeningOverview {
  readonly counts: StateCounts;
  readonly ofKind: (kind: ItemKind) => { readonly count: number; readonly items: readonly ItemStanding[] };
  readonly stale: { readonly count: number; readonly items: readonly ItemStanding[] };
  /** The first of those not yet submitted; `counts` says how many there are. */
  readonly unsubmitted: readonly ItemFacts[];
}

/** What the next steps are told from. */
export interface StateCounts {
  readonly total: number;
  readonly stale: number;
  readonly of: (...states: readonly ItemState['is'][]) => number;
  /** Has the opening an item of the kind with something entered? */
  readonly has: (kind: ItemKind) => boolean;
  /** How many items of the kind hold something. */
  readonly entered: (kind: ItemKind) => number;
}

export function stateCounts(rows: readonly StateCount[], stale: number): StateCounts {
  const sum = (some: readonly StateCount[]) => some.reduce((total, row) => total + row.count, 0);
  return {
    total: sum(rows),
    stale,
    of: (...states) => sum(rows.filter((row) => states.includes(row.state))),
    has: (kind) => rows.some((row) => row.kind === kind && row.state !== 'empty'),
    entered: (kind) => sum(rows.filter((row) => row.kind === kind && row.state !== 'empty')),
  };
}

/** Reads an opening: a fixed number of queries and of rows shown, however many items. */
export async function readOverview(
  { prisma: tx, kinds }: Pick<RecordDeps, 'prisma' | 'kinds'>,
  viewer: ProjectViewer,
  openingId: string,
): Promise<OpeningOverview> {
  const { projectId } = viewer;
  const [rows, first, reasons, unsubmitted] = await Promise.all([
    countStates(tx, kinds, projectId, openingId),
    firstOfKinds(tx, kinds, projectId, openingId, OF_EACH_KIND),
    staleOfOpening(tx, kinds, viewer, openingId),
    firstUnsubmitted(tx, kinds, projectId, openingId, TO_SUBMIT),
  ]);
  const staleFacts = await factsOfItems(tx, kinds, projectId, [...reasons.keys()], STALE_SHOWN);
  const standing = (facts: ItemFacts): ItemStanding => ({
    facts,
    state: itemState(facts),
    stale: reasons.get(facts.itemId) ?? [],
  });
  return {
    counts: stateCounts(rows, reasons.size),
    ofKind: (kind) => ({
      count: rows.reduce((total, row) => total + (row.kind === kind ? row.count : 0), 0),
      items: first.filter((facts) => facts.kind === kind).map(standing),
    }),
    stale: { count: reasons.size, items: staleFacts.map(standing) },
    unsubmitted,
  };
}
