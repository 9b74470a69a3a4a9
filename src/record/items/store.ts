import { Prisma } from '../../database/generated/client.ts';
import type { Role } from '../../people/roles.ts';
import type { Transaction } from '../events/append.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import type { ItemFacts, MarkWord } from './state.ts';

export interface FactsRow {
  readonly item_id: string;
  readonly project_id: string;
  readonly opening_id: string | null;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly version_id: string | null;
  readonly number: number | null;
  readonly hash: string | null;
  readonly author_id: string | null;
  readonly author_name: string | null;
  readonly author_role: Role | null;
  readonly version_reason: string | null;
  readonly version_at: Date | null;
  readonly submitted_at: Date | null;
  readonly mark_id: string | null;
  readonly mark_number: number | null;
  readonly word: MarkWord | null;
  readonly mark_reason: string | null;
  readonly by_id: string | null;
  readonly by_name: string | null;
  readonly marked_at: Date | null;
}

/**
 * Each item with its newest version, the last word on that version, and when it was submitted: one index look-up
 * each. To be followed by WHERE, ORDER BY and LIMIT on `i`, `v`, `m` and `s`.
 */
export const factsQuery = Prisma.sql`
  SELECT i.id AS item_id, i.project_id, i.opening_id, i.kind::text AS kind, i.key, i.title,
         i.created_at AS item_created_at,
         v.id AS version_id, v.number, v.hash, v.author_id, author.name AS author_name,
         v.author_role::text AS author_role, v.reason AS version_reason, v.created_at AS version_at,
         s.at AS submitted_at,
         m.id AS mark_id, m.number AS mark_number, m.word::text AS word, m.reason AS mark_reason, m.by_id,
         marker.name AS by_name, m.at AS marked_at
  FROM item i
  LEFT JOIN LATERAL (
    SELECT id, number, hash, author_id, author_role, reason, created_at
    FROM version WHERE item_id = i.id ORDER BY number DESC LIMIT 1
  ) v ON true
  LEFT JOIN person author ON author.id = v.author_id
  LEFT JOIN LATERAL (
    SELECT id, number, word, reason, by_id, at FROM mark WHERE version_id = v.id ORDER BY number DESC LIMIT 1
  ) m ON true
  LEFT JOIN person marker ON marker.id = m.by_id
  LEFT JOIN LATERAL (
    SELECT submission.at FROM submission_entry entry
    JOIN submission ON submission.id = entry.submission_id
    WHERE entry.version_id = v.id ORDER BY submission.number LIMIT 1
  ) s ON true`;

/** The same decision as `itemState` in state.ts, made by the database on rows of `factsQuery` named `f`; a test holds the two together. */
export const stateInSql = Prisma.sql`
  CASE WHEN f.version_id IS NULL THEN 'empty'
       WHEN f.word IS NOT NULL THEN f.word
       WHEN f.submitted_at IS NOT NULL OR f.author_role = 'engineer' THEN 'awaiting mark'
       ELSE 'not submitted' END`;

/** The order of lists: along the load path, then by key: front before rear, N2 before N10 (the database’s `list_key`). */
export const listOrder = Prisma.sql`i.kind, list_key(i.key), i.key, i.id`;

export function readFacts(kinds: KindRegistry, row: FactsRow): ItemFacts {
  return {
    itemId: row.item_id,
    projectId: row.project_id,
    openingId: row.opening_id,
    kind: row.kind,
    key: row.key,
    title: row.title,
    reviewable: kinds.get(row.kind).reviewable,
    newest:
      row.version_id === null
        ? null
        : {
            versionId: row.version_id,
            number: row.number ?? 0,
            hash: row.hash ?? '',
            authorId: row.author_id ?? '',
            authorName: row.author_name ?? '',
            authorRole: row.author_role ?? 'contractor',
            reason: row.version_reason ?? '',
            at: row.version_at ?? new Date(0),
          },
    submittedAt: row.submitted_at,
    mark:
      row.mark_id === null
        ? null
        : {
            markId: row.mark_id,
            number: row.mark_number ?? 0,
            word: row.word ?? 'returned',
            reason: row.mark_reason ?? '',
            byId: row.by_id ?? '',
            byName: row.by_name ?? '',
            at: row.marked_at ?? new Date(0),
          },
  };
}

/** The items of one opening (without the project's own criteria), in list order. */
export async function factsOfOpening(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  openingId: string,
): Promise<ItemFacts[]> {
  const rows = await tx.$queryRaw<FactsRow[]>`${factsQuery}
    WHERE i.project_id = ${projectId}::uuid AND i.opening_id = ${openingId}::uuid ORDER BY ${listOrder}`;
  return rows.map((row) => readFacts(kinds, row));
}

/** Items of one project by id; ids of other projects are not found. */
export async function factsOfItems(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  itemIds: readonly string[],
  /** The first so many of them in list order; left out: all. */
  limit?: number,
): Promise<ItemFacts[]> {
  const first = limit === undefined ? Prisma.empty : Prisma.sql`LIMIT ${limit}`;
  const rows = await tx.$queryRaw<FactsRow[]>`${factsQuery}
    WHERE i.project_id = ${projectId}::uuid AND i.id = ANY(${[...itemIds]}::uuid[]) ORDER BY ${listOrder} ${first}`;
  return rows.map((row) => readFacts(kinds, row));
}
