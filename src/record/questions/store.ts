import { Prisma } from '../../database/generated/client.ts';
import type { Transaction } from '../events/append.ts';
import type { TimeCursor } from '../time-cursor.ts';
import type { OpenQuestion, Said, Thread } from './rules.ts';

interface Row {
  readonly id: string;
  readonly thread_id: string | null;
  readonly item_id: string;
  readonly version_id: string | null;
  readonly text: string;
  readonly closes: boolean;
  readonly by_id: string;
  readonly by_name: string;
  readonly at: Date;
}

function said(row: Row): Said {
  return {
    questionId: row.id,
    versionId: row.version_id,
    text: row.text,
    closes: row.closes,
    byId: row.by_id,
    byName: row.by_name,
    at: row.at,
  };
}

/** Rows of whole threads, oldest first, put together. */
function threads(rows: readonly Row[]): Thread[] {
  const found = new Map<string, { question: Row; answers: Row[] }>();
  for (const row of rows) if (row.thread_id === null) found.set(row.id, { question: row, answers: [] });
  for (const row of rows) if (row.thread_id !== null) found.get(row.thread_id)?.answers.push(row);
  return [...found.values()].map(({ question, answers }) => ({
    threadId: question.id,
    itemId: question.item_id,
    question: said(question),
    answers: answers.map(said),
    open: !answers.some((answer) => answer.closes),
  }));
}

/** The threads of one item, oldest first: those begun after `after`, at most `limit`, each whole. */
export async function threadsOfItem(
  tx: Transaction,
  projectId: string,
  itemId: string,
  page: { readonly after: TimeCursor | null; readonly limit: number },
): Promise<Thread[]> {
  const beyond =
    page.after === null
      ? Prisma.empty
      : Prisma.sql`AND (at, id) > (${page.after.at}::timestamptz, ${page.after.id}::uuid)`;
  const rows = await tx.$queryRaw<Row[]>`
    WITH begun AS (
      SELECT id FROM question
      WHERE project_id = ${projectId}::uuid AND item_id = ${itemId}::uuid AND thread_id IS NULL ${beyond}
      ORDER BY at, id LIMIT ${page.limit}
    )
    SELECT q.id, q.thread_id, q.item_id, q.version_id, q.text, q.closes, q.by_id, person.name AS by_name, q.at
    FROM question q JOIN person ON person.id = q.by_id
    WHERE q.project_id = ${projectId}::uuid AND q.item_id = ${itemId}::uuid
      AND (q.id IN (SELECT id FROM begun) OR q.thread_id IN (SELECT id FROM begun))
    ORDER BY q.at, q.id`;
  return threads(rows);
}

/** The threads of some items of a project, oldest first. */
export async function threadsOfItems(
  tx: Transaction,
  projectId: string,
  itemIds: readonly string[],
): Promise<Thread[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT q.id, q.thread_id, q.item_id, q.version_id, q.text, q.closes, q.by_id, person.name AS by_name, q.at
    FROM question q JOIN person ON person.id = q.by_id
    WHERE q.project_id = ${projectId}::uuid AND q.item_id = ANY(${[...itemIds]}::uuid[]) ORDER BY q.at, q.id`;
  return threads(rows);
}

/** One thread by the id of its question. */
export async function findThread(
  tx: Transaction,
  projectId: string,
  threadId: string,
): Promise<Thread | undefined> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT q.id, q.thread_id, q.item_id, q.version_id, q.text, q.closes, q.by_id, person.name AS by_name, q.at
    FROM question q JOIN person ON person.id = q.by_id
    WHERE q.project_id = ${projectId}::uuid AND (q.id = ${threadId}::uuid OR q.thread_id = ${threadId}::uuid)
    ORDER BY q.at, q.id`;
  return threads(rows)[0];
}

/** The open questions on the items of one opening, oldest first. */
export async function openQuestionsOfOpening(
  tx: Transaction,
  projectId: string,
  openingId: string,
): Promise<OpenQuestion[]> {
  const rows = await tx.$queryRaw<(Row & { title: string })[]>`
    SELECT q.id, q.item_id, q.text, person.name AS by_name, q.at, i.title
    FROM question q JOIN person ON person.id = q.by_id JOIN item i ON i.id = q.item_id
    WHERE q.project_id = ${projectId}::uuid AND q.thread_id IS NULL
      AND (i.opening_id = ${openingId}::uuid OR i.opening_id IS NULL)
      AND NOT EXISTS (SELECT 1 FROM question closing WHERE closing.thread_id = q.id AND closing.closes)
    ORDER BY q.at, q.id`;
  return rows.map((row) => ({
    threadId: row.id,
    itemId: row.item_id,
    itemTitle: row.title,
    text: row.text,
    byName: row.by_name,
    at: row.at,
  }));
}
