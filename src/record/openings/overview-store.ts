import type { Transaction } from '../events/append.ts';
import type { ItemFacts, ItemState } from '../items/state.ts';
import { factsQuery, listOrder, readFacts, stateInSql, type FactsRow } from '../items/store.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { KindRegistry } from '../kinds/registry.ts';

/** How many items of one kind of an opening stand in one state. */
export interface StateCount {
  readonly kind: ItemKind;
  readonly state: ItemState['is'];
  readonly count: number;
}

function reviewable(kinds: KindRegistry): string[] {
  return kinds.all.filter((kind) => kind.reviewable).map((kind) => kind.kind);
}

/** The items of an opening in counts, by kind and state. One query, which reads no content. */
export async function countStates(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  openingId: string,
): Promise<StateCount[]> {
  return tx.$queryRaw<StateCount[]>`
    SELECT kind, state, count(*)::int AS count FROM (
      SELECT f.kind, CASE WHEN f.version_id IS NOT NULL AND f.kind <> ALL(${reviewable(kinds)}::text[])
                          THEN 'basis' ELSE ${stateInSql} END AS state
      FROM (${factsQuery} WHERE i.project_id = ${projectId}::uuid AND i.opening_id = ${openingId}::uuid) f
    ) standing GROUP BY kind, state`;
}

/** The first items of every kind of an opening, in list order: at most `each` of a kind. One query. */
export async function firstOfKinds(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  openingId: string,
  each: number,
): Promise<ItemFacts[]> {
  const rows = await tx.$queryRaw<FactsRow[]>`${factsQuery}
    WHERE i.id IN (
      SELECT first.id FROM unnest(${kinds.all.map((kind) => kind.kind)}::item_kind[]) AS listed(kind)
      CROSS JOIN LATERAL (
        SELECT id FROM item
        WHERE project_id = ${projectId}::uuid AND opening_id = ${openingId}::uuid AND item.kind = listed.kind
        ORDER BY list_key(key), key, id LIMIT ${each}
      ) first
    ) ORDER BY ${listOrder}`;
  return rows.map((row) => readFacts(kinds, row));
}

/** The first items of an opening that were not yet handed to the engineer, in list order. One query. */
export async function firstUnsubmitted(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  openingId: string,
  limit: number,
): Promise<ItemFacts[]> {
  const rows = await tx.$queryRaw<FactsRow[]>`
    SELECT f.* FROM (
      ${factsQuery}
      WHERE i.project_id = ${projectId}::uuid AND i.opening_id = ${openingId}::uuid
        AND i.kind = ANY(${reviewable(kinds)}::item_kind[])
    ) f WHERE ${stateInSql} = 'not submitted'
    ORDER BY f.kind::item_kind, list_key(f.key), f.key, f.item_id LIMIT ${limit}`;
  return rows.map((row) => readFacts(kinds, row));
}
