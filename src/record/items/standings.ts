import type { Transaction } from '../events/append.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import { readTogether, type ProjectViewer } from '../read-together.ts';
import { loadStale, staleOfOpening } from '../staleness/store.ts';
import { itemState, type ItemFacts, type ItemStanding } from './state.ts';
import { factsOfItems, factsOfOpening } from './store.ts';

/** Every item of an opening with its state: three queries, however many items. */
export async function standingsOfOpening(
  tx: Transaction,
  kinds: KindRegistry,
  viewer: ProjectViewer,
  openingId: string,
): Promise<readonly ItemStanding[]> {
  return readTogether(viewer, ['standings', openingId], async () => {
    const facts = await factsOfOpening(tx, kinds, viewer.projectId, openingId);
    const stale = await staleOfOpening(tx, kinds, viewer, openingId);
    return facts.map((item) => ({
      facts: item,
      state: itemState(item),
      stale: stale.get(item.itemId) ?? [],
    }));
  });
}

/** Items of one project by id, with their states; ids of other projects are not found. */
export async function standingsOfItems(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  itemIds: readonly string[],
): Promise<ItemStanding[]> {
  return withStale(tx, kinds, projectId, await factsOfItems(tx, kinds, projectId, itemIds));
}

/** A page of items, each with its state. */
export async function withStale(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  facts: readonly ItemFacts[],
): Promise<ItemStanding[]> {
  const itemIds = facts.map((item) => item.itemId);
  const stale = await loadStale(tx, kinds, { projectId, itemIds });
  return facts.map((item) => ({ facts: item, state: itemState(item), stale: stale.get(item.itemId) ?? [] }));
}
