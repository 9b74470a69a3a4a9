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

/** A set as lists name it, without its content. */
export interface SetHead {
  readonly setId: string;
  readonly number: number;
  readonly issuedAt: Date;
  readonly issuedByName: string;
}

/** The sets of an opening, newest first, below a number where one is given. One query, which reads no content. */
export async function setHeads(
  tx: Pick<Transaction, '$queryRaw'>,
  projectId: string,
  openingId: string,
  page: { readonly limit: number; readonly before: number | null },
): Promise<SetHead[]> {
  return tx.$queryRaw<SetHead[]>`
    SELECT s.id AS "setId", s.number, s.issued_at AS "issuedAt", person.name AS "issuedByName"
    FROM approved_set s JOIN person ON person.id = s.issued_by_id
    WHERE s.project_id = ${projectId}::uuid AND s.opening_id = ${openingId}::uuid
      AND (${page.before}::int IS NULL OR s.number < ${page.before}::int)
    ORDER BY s.number DESC LIMIT ${page.limit}`;
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
