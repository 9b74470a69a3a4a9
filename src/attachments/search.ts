import { Prisma } from '../database/generated/client.ts';
import type { Transaction } from '../record/events/append.ts';
import { plainLetters } from './plain-words.ts';

/** A page of a drawing that has the words searched for. */
export interface FoundPage {
  readonly attachmentId: string;
  readonly page: number;
  /** The words around the first of them, as they stand on the page. */
  readonly around: string;
}

export interface FoundFile {
  readonly attachmentId: string;
  readonly originalName: string;
  readonly caption: string;
  readonly uploadedAt: Date;
  /** Where the words stand in it; empty where its name or caption has them. */
  readonly pages: readonly FoundPage[];
}

export interface FoundFiles {
  readonly files: readonly FoundFile[];
  /** There are more than are shown. */
  readonly more: boolean;
}

const FILES_SHOWN = 30;
const PAGES_SHOWN = 5;

/** The search's words: at most eight, and none of what PostgreSQL can't keep. */
export function wordsOf(text: string): string[] {
  return text
    .replaceAll('\0', '')
    .split(/\s+/)
    .filter((word) => word !== '')
    .slice(0, 8);
}

/** Any text that contains the word; % and _ are what the person typed, not patterns. */
export function containing(word: string): string {
  return `%${word.replace(/[\\%_]/g, '\\$&')}%`;
}

/**
 * For `to_tsquery('simple', …)`: pages with a word that begins like each of them. Quoted, so that nothing typed is an
 * operator; what has no letter or figure in it becomes an empty query, which no page matches.
 */
function startingLike(words: readonly string[], join: '&' | '|'): string {
  return words.map((word) => `'${plainLetters(word).replace(/['\\]/g, '$&$&')}':*`).join(` ${join} `);
}

const onPage = (query: string) =>
  Prisma.sql`to_tsvector('simple'::regconfig, left(p.text, 60000)) @@ to_tsquery('simple'::regconfig, ${query})`;

/** The files that are an item's: attached to it or to one of its versions, or the drawing that it is now. */
const filesOfItems = (projectId: string) => Prisma.sql`(
  SELECT l.subject_id AS item_id, l.attachment_id FROM attachment_link l
    WHERE l.project_id = ${projectId}::uuid AND l.subject = 'item'
  UNION SELECT ver.item_id, l.attachment_id FROM attachment_link l JOIN version ver ON ver.id = l.subject_id
    WHERE l.project_id = ${projectId}::uuid AND l.subject = 'version'
  UNION SELECT drawing.id, a.id FROM item drawing
    CROSS JOIN LATERAL (SELECT content FROM version WHERE item_id = drawing.id ORDER BY number DESC LIMIT 1) newest
    JOIN attachment a ON a.project_id = drawing.project_id AND a.sha256 = newest.content::jsonb ->> 'sha256'
    WHERE drawing.project_id = ${projectId}::uuid AND drawing.kind = 'drawing'
)`;

/** The ids of the items one of whose files has the word on a page, for a condition on `item.id`. */
export function itemsWithWordOnPage(projectId: string, word: string): Prisma.Sql {
  return Prisma.sql`SELECT f.item_id FROM ${filesOfItems(projectId)} f
    JOIN drawing_page p ON p.attachment_id = f.attachment_id
    WHERE p.project_id = ${projectId}::uuid AND ${onPage(startingLike([word], '&'))}`;
}

interface PageRow {
  readonly of: string;
  readonly attachment_id: string;
  readonly page: number;
  readonly around: string;
}

/** The pages with all the words; where there is none, those with any. By the id in `of`, at most five for each. */
async function pagesBy(
  tx: Transaction,
  projectId: string,
  owners: Prisma.Sql,
  words: readonly string[],
): Promise<Map<string, FoundPage[]>> {
  const [first = ''] = words;
  const rows = await tx.$queryRaw<PageRow[]>`
    SELECT ranked.of, ranked.attachment_id, ranked.page,
           substring(ranked.text FROM greatest(1, position(lower(${plainLetters(first)}) IN lower(ranked.text)) - 60) FOR 160) AS around
    FROM (
      SELECT matched.*, row_number() OVER (PARTITION BY matched.of ORDER BY matched.page, matched.attachment_id) AS nth
      FROM (
        SELECT f.of, p.attachment_id, p.page, p.text, ${onPage(startingLike(words, '&'))} AS whole,
               bool_or(${onPage(startingLike(words, '&'))}) OVER (PARTITION BY f.of) AS some_whole
        FROM ${owners} f JOIN drawing_page p ON p.attachment_id = f.attachment_id
        WHERE p.project_id = ${projectId}::uuid AND ${onPage(startingLike(words, '|'))}
      ) matched WHERE matched.whole OR NOT matched.some_whole
    ) ranked WHERE ranked.nth <= ${PAGES_SHOWN} ORDER BY ranked.of, ranked.nth`;
  const found = new Map<string, FoundPage[]>();
  for (const row of rows) {
    const pages = found.get(row.of) ?? [];
    const around = row.around.replace(/\s+/g, ' ').trim();
    pages.push({ attachmentId: row.attachment_id, page: row.page, around });
    found.set(row.of, pages);
  }
  return found;
}

/** On which pages of their files the words stand, for items that a search has found. */
export async function pagesOfItems(
  tx: Transaction,
  projectId: string,
  itemIds: readonly string[],
  words: readonly string[],
): Promise<ReadonlyMap<string, readonly FoundPage[]>> {
  if (itemIds.length === 0 || words.length === 0) return new Map();
  const owners = Prisma.sql`(SELECT every.item_id AS of, every.attachment_id FROM ${filesOfItems(projectId)} every
    WHERE every.item_id = ANY(${[...itemIds]}::uuid[]))`;
  return pagesBy(tx, projectId, owners, words);
}

/** Photos and drawings whose name, caption or pages have all the words, newest first. */
export async function findFiles(
  tx: Transaction,
  projectId: string,
  words: readonly string[],
): Promise<FoundFiles> {
  if (words.length === 0) return { files: [], more: false };
  const conditions = words.map((word) => {
    const pattern = containing(word);
    return Prisma.sql`(a.caption ILIKE ${pattern} OR a.original_name ILIKE ${pattern} OR a.id IN (
      SELECT p.attachment_id FROM drawing_page p
      WHERE p.project_id = ${projectId}::uuid AND ${onPage(startingLike([word], '&'))}))`;
  });
  const rows = await tx.$queryRaw<
    { id: string; original_name: string; caption: string; uploaded_at: Date }[]
  >`
    SELECT a.id, a.original_name, a.caption, a.uploaded_at FROM attachment a
    WHERE a.project_id = ${projectId}::uuid AND ${Prisma.join(conditions, ' AND ')}
    ORDER BY a.uploaded_at DESC, a.id LIMIT ${FILES_SHOWN + 1}`;
  const shown = rows.slice(0, FILES_SHOWN);
  const owners = Prisma.sql`(SELECT a.id AS of, a.id AS attachment_id FROM attachment a
    WHERE a.project_id = ${projectId}::uuid AND a.id = ANY(${shown.map((row) => row.id)}::uuid[]))`;
  const pages = await pagesBy(tx, projectId, owners, words);
  return {
    files: shown.map((row) => ({
      attachmentId: row.id,
      originalName: row.original_name,
      caption: row.caption,
      uploadedAt: row.uploaded_at,
      pages: pages.get(row.id) ?? [],
    })),
    more: rows.length > FILES_SHOWN,
  };
}
