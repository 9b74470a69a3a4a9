import type { Prisma } from '../../database/generated/client.ts';
import type { Role } from '../../people/roles.ts';
import { readCalculation, type Calculation } from '../calculation.ts';
import type { Transaction } from '../events/append.ts';
import type { MarkReference } from '../items/state.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { readGrounds, type RecordedGround } from '../staleness/rules.ts';

/** A version, whole, with the words said on it. */
export interface VersionRecord {
  readonly versionId: string;
  readonly itemId: string;
  readonly number: number;
  readonly content: unknown;
  readonly restsOn: readonly RecordedGround[];
  readonly calculation: Calculation | null;
  readonly calculationHash: string;
  readonly engineVersion: string;
  readonly hash: string;
  readonly reason: string;
  readonly authorId: string;
  readonly authorName: string;
  readonly authorRole: Role;
  readonly at: Date;
  readonly submittedAt: Date | null;
  /** Oldest first; the last one speaks. */
  readonly marks: readonly MarkReference[];
}

/** A line of an item's history. */
export type VersionLine = Omit<VersionRecord, 'content' | 'restsOn' | 'calculation' | 'calculationHash'>;

const words = {
  author: { select: { name: true } },
  marks: { include: { by: { select: { name: true } } }, orderBy: { number: 'asc' } },
  submissions: { select: { submission: { select: { at: true } } } },
} as const satisfies Prisma.VersionInclude;

type Row = Prisma.VersionGetPayload<{ include: typeof words }>;

function line(row: Omit<Row, 'content' | 'restsOn' | 'calculation' | 'calculationHash'>): VersionLine {
  const submissions = row.submissions.map(({ submission }) => submission.at.getTime());
  return {
    versionId: row.id,
    itemId: row.itemId,
    number: row.number,
    engineVersion: row.engineVersion,
    hash: row.hash,
    reason: row.reason,
    authorId: row.authorId,
    authorName: row.author.name,
    authorRole: row.authorRole,
    at: row.createdAt,
    submittedAt: submissions.length === 0 ? null : new Date(Math.min(...submissions)),
    marks: row.marks.map((mark) => ({
      markId: mark.id,
      number: mark.number,
      word: mark.word,
      reason: mark.reason,
      byId: mark.byId,
      byName: mark.by.name,
      at: mark.at,
    })),
  };
}

function record(row: Row): VersionRecord {
  return {
    ...line(row),
    content: JSON.parse(row.content) as unknown,
    restsOn: readGrounds(row.restsOn),
    calculation: readCalculation(row.calculation),
    calculationHash: row.calculationHash,
  };
}

/** An item of the project, as its kind and its place need it; null where the project has no such item. */
export interface ItemRow {
  readonly itemId: string;
  readonly projectId: string;
  readonly openingId: string | null;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
}

export async function findItem(tx: Transaction, projectId: string, itemId: string): Promise<ItemRow | null> {
  const item = await tx.item.findFirst({ where: { id: itemId, projectId } });
  if (!item) return null;
  const { id, openingId, kind, key, title } = item;
  return { itemId: id, projectId, openingId, kind, key, title };
}

export async function newestVersion(tx: Transaction, itemId: string): Promise<VersionRecord | null> {
  const row = await tx.version.findFirst({ where: { itemId }, orderBy: { number: 'desc' }, include: words });
  return row && record(row);
}

export async function versionByNumber(
  tx: Transaction,
  itemId: string,
  number: number,
): Promise<VersionRecord | null> {
  const row = await tx.version.findUnique({
    where: { itemId_number: { itemId, number } },
    include: words,
  });
  return row && record(row);
}

export async function versionById(
  tx: Transaction,
  projectId: string,
  versionId: string,
): Promise<VersionRecord | null> {
  const row = await tx.version.findFirst({ where: { id: versionId, projectId }, include: words });
  return row && record(row);
}

/** Versions of one project by id, in the order of the ids; ids of other projects are left out. */
export async function versionsById(
  tx: Transaction,
  projectId: string,
  versionIds: readonly string[],
): Promise<VersionRecord[]> {
  const rows = await tx.version.findMany({
    where: { id: { in: [...versionIds] }, projectId },
    include: words,
  });
  const place = new Map(versionIds.map((id, index) => [id, index]));
  return rows.map(record).sort((a, b) => (place.get(a.versionId) ?? 0) - (place.get(b.versionId) ?? 0));
}

/** All versions of some items of one project, whole, oldest first. */
export async function versionsOfItems(
  tx: Transaction,
  projectId: string,
  itemIds: readonly string[],
): Promise<VersionRecord[]> {
  const rows = await tx.version.findMany({
    where: { itemId: { in: [...itemIds] }, projectId },
    orderBy: [{ itemId: 'asc' }, { number: 'asc' }],
    include: words,
  });
  return rows.map(record);
}

/** An item's versions, newest first, without their content. `before`: only numbers below it. */
export async function versionLines(
  tx: Transaction,
  itemId: string,
  limit: number,
  before?: number,
): Promise<VersionLine[]> {
  const rows = await tx.version.findMany({
    where: { itemId, ...(before === undefined ? {} : { number: { lt: before } }) },
    orderBy: { number: 'desc' },
    take: limit,
    include: words,
    omit: { content: true, restsOn: true, calculation: true, calculationHash: true },
  });
  return rows.map(line);
}
