import type postgres from 'postgres';
import { Lexicon, type Pattern } from './pattern.ts';

/** One table of the original project: its rows as patterns, column by column; null is SQL's null. */
export interface OriginalTable {
  readonly name: string;
  readonly columns: readonly string[];
  readonly rows: readonly OriginalRow[];
}

export type OriginalRow = Readonly<Record<string, Pattern | null>>;

export interface Original {
  readonly tables: ReadonlyMap<string, OriginalTable>;
  readonly lexicon: Lexicon;
}

/** Where the hashes stand that hang on ids, and so differ from copy to copy. */
const HASHES_OF_THE_RECORD = `
  SELECT hash FROM version UNION SELECT hash FROM approved_set UNION SELECT hash FROM event
  UNION SELECT payload::json ->> 'hash' FROM event WHERE type = 'checklist.produced'`;

/** Reads all rows of a database that holds one project and its people, every value as PostgreSQL writes it. */
export async function readOriginal(sql: postgres.Sql): Promise<Original> {
  const lexicon = new Lexicon();
  for (const { hash } of await sql.unsafe<{ hash: string }[]>(HASHES_OF_THE_RECORD)) lexicon.addHash(hash);
  const columns = await sql<{ table: string; column: string }[]>`
    SELECT table_name AS "table", column_name AS "column" FROM information_schema.columns
    WHERE table_schema = 'public' AND table_name <> '_prisma_migrations' ORDER BY table_name, ordinal_position`;
  const tables = new Map<string, OriginalTable>();
  for (const name of new Set(columns.map(({ table }) => table))) {
    const names = columns.filter(({ table }) => table === name).map(({ column }) => column);
    const list = names.map((column) => `"${column}"::text AS "${column}"`).join(', ');
    const rows = await sql.unsafe<Record<string, string | null>[]>(`SELECT ${list} FROM "${name}"`);
    if (rows.length === 0) continue;
    tables.set(name, {
      name,
      columns: names,
      rows: rows.map((row) =>
        Object.fromEntries(
          names.map((column) => {
            const value = row[column] ?? null;
            return [column, value === null ? null : lexicon.pattern(value)];
          }),
        ),
      ),
    });
  }
  return { tables, lexicon };
}
