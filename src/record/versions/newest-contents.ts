import type { Transaction } from '../events/append.ts';
import type { ItemKind } from '../kinds/definition.ts';

/** The newest contents of some kinds of an opening's items and of the project's own, by kind, in the order of keys. */
export async function newestContents(
  tx: Pick<Transaction, 'item'>,
  projectId: string,
  openingId: string | null,
  kinds: readonly ItemKind[],
): Promise<ReadonlyMap<ItemKind, readonly unknown[]>> {
  const items = await tx.item.findMany({
    where: {
      projectId,
      kind: { in: [...kinds] },
      OR: [{ openingId: null }, ...(openingId === null ? [] : [{ openingId }])],
    },
    orderBy: { key: 'asc' },
    select: {
      kind: true,
      versions: { orderBy: { number: 'desc' }, take: 1, select: { content: true } },
    },
  });
  const found = new Map<ItemKind, unknown[]>();
  for (const { kind, versions } of items) {
    const [newest] = versions;
    if (newest === undefined) continue;
    found.set(kind, [...(found.get(kind) ?? []), JSON.parse(newest.content) as unknown]);
  }
  return found;
}
