import type { Prisma } from '../../database/generated/client.ts';
import type { Transaction } from '../events/append.ts';
import type { MarkReference } from '../items/state.ts';
import type { SetContent } from './content.ts';

/** An issued set, as kept. */
export interface SetRecord {
  readonly setId: string;
  readonly openingId: string;
  readonly number: number;
  readonly content: SetContent;
  readonly hash: string;
  readonly note: string;
  readonly issuedById: string;
  readonly issuedAt: Date;
}

function record(row: Prisma.ApprovedSetGetPayload<object>): SetRecord {
  const { id, openingId, number, content, hash, note, issuedById, issuedAt } = row;
  return {
    setId: id,
    openingId,
    number,
    content: JSON.parse(content) as SetContent,
    hash,
    note,
    issuedById,
    issuedAt,
  };
}

export async function lastSet(tx: Transaction, openingId: string): Promise<SetRecord | null> {
  const row = await tx.approvedSet.findFirst({ where: { openingId }, orderBy: { number: 'desc' } });
  return row && record(row);
}

export async function findSet(tx: Transaction, projectId: string, setId: string): Promise<SetRecord | null> {
  const row = await tx.approvedSet.findFirst({ where: { id: setId, projectId } });
  return row && record(row);
}

/** All sets of an opening, newest first. */
export async function setsOfOpening(
  tx: Transaction,
  projectId: string,
  openingId: string,
): Promise<SetRecord[]> {
  const rows = await tx.approvedSet.findMany({
    where: { projectId, openingId },
    orderBy: { number: 'desc' },
  });
  return rows.map(record);
}

/** All marks of some versions, by version, oldest first. */
export async function marksOfVersions(
  tx: Transaction,
  versionIds: readonly string[],
): Promise<ReadonlyMap<string, readonly MarkReference[]>> {
  const rows = await tx.mark.findMany({
    where: { versionId: { in: [...new Set(versionIds)] } },
    orderBy: { number: 'asc' },
    include: { by: { select: { name: true } } },
  });
  const found = new Map<string, MarkReference[]>();
  for (const { id, versionId, number, word, reason, byId, by, at } of rows) {
    const marks = found.get(versionId) ?? [];
    marks.push({ markId: id, number, word, reason, byId, byName: by.name, at });
    found.set(versionId, marks);
  }
  return found;
}
