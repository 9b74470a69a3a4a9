import postgres from 'postgres';
import { canonicalJson } from '../../record/canonical.ts';
import { selectOf, type PackedTable } from './tables.ts';

/** Rows in memory at once. A version with its calculation can be long. */
const BATCH = 50;

export type Row = Readonly<Record<string, unknown>>;

export interface Rows {
  /** The rows of a table, in the order of its key. */
  of: (table: PackedTable) => AsyncGenerator<Row>;
}

/** Reads the rows of a project as they are at one moment, whatever is written meanwhile, in batches from a cursor. */
export async function withRows<Result>(
  databaseUrl: string,
  projectId: string,
  work: (rows: Rows) => Promise<Result>,
): Promise<Result> {
  const sql = postgres(databaseUrl, { max: 1, onnotice: () => undefined, connection: { TimeZone: 'UTC' } });
  try {
    return (await sql.begin('isolation level repeatable read read only', (tx) =>
      work({
        async *of(table) {
          const cursor = tx.unsafe<{ row: string }[]>(selectOf(table), [projectId]).cursor(BATCH);
          for await (const batch of cursor) for (const { row } of batch) yield JSON.parse(row) as Row;
        },
      }),
    )) as Result;
  } finally {
    await sql.end({ timeout: 5 });
  }
}

/** Rows as lines of canonical JSON (RFC 8785), counted. */
export async function* asLines(rows: AsyncIterable<Row>, count: (row: Row) => void): AsyncGenerator<string> {
  for await (const row of rows) {
    count(row);
    yield `${canonicalJson(row)}\n`;
  }
}
