import type { PrismaClient } from '../database/generated/client.ts';

/** Work of an opening that was done before it was its turn, for whoever relies on the order. */
export interface OutOfOrderWork {
  readonly title: string;
  /** A day of the site's calendar, as 2026-05-09. */
  readonly doneOn: string;
  readonly at: Date;
  /** What stood against it then, a sentence for each. */
  readonly outOfOrder: readonly string[];
}

/** Newest first; entries taken back are none of them. */
export async function workOutOfOrder(
  reader: Pick<PrismaClient, 'workEntry'>,
  projectId: string,
  openingId: string,
): Promise<OutOfOrderWork[]> {
  const rows = await reader.workEntry.findMany({
    where: { projectId, openingId, outOfOrder: { not: '[]' }, withdrawal: null },
    orderBy: { number: 'desc' },
    select: { title: true, doneOn: true, at: true, outOfOrder: true },
  });
  return rows.map((row) => ({ ...row, outOfOrder: JSON.parse(row.outOfOrder) as string[] }));
}
