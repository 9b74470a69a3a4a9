import { once } from 'node:events';
import { finished } from 'node:stream/promises';
import type postgres from 'postgres';
import { Copier, type CopiedRow } from './copy.ts';
import type { Original } from './original.ts';

/** Copies that go into one COPY of each table. */
const AT_A_TIME = 10;

/**
 * Adds copies of the original by COPY, without triggers and without looking up what rows refer to: the copies are whole
 * by their making, and `scripts/verify` says whether they are. Needs a role that may do so.
 */
export async function addCopies(
  sql: postgres.Sql,
  original: Original,
  count: number,
  told: (done: number) => void,
): Promise<void> {
  const copier = new Copier(original);
  const connection = await sql.reserve();
  try {
    await connection`SET session_replication_role = replica`;
    for (let from = 0; from < count; from += AT_A_TIME) {
      const lines = new Map<string, string[]>();
      const to = Math.min(from + AT_A_TIME, count);
      for (let copy = from + 1; copy <= to; copy += 1) {
        for (const { table, rows } of copier.rows(copy)) {
          const known = lines.get(table) ?? [];
          known.push(rows.map(asLine).join(''));
          lines.set(table, known);
        }
      }
      await connection`BEGIN`;
      for (const [table, chunks] of lines) await copyIn(connection, original, table, chunks);
      await connection`COMMIT`;
      told(to);
    }
    await connection`SET session_replication_role = DEFAULT`;
  } finally {
    connection.release();
  }
  await sql`VACUUM ANALYZE`;
}

async function copyIn(
  connection: postgres.ReservedSql,
  original: Original,
  table: string,
  chunks: readonly string[],
): Promise<void> {
  const columns =
    original.tables
      .get(table)
      ?.columns.map((column) => `"${column}"`)
      .join(', ') ?? '';
  const into = await connection.unsafe(`COPY "${table}" (${columns}) FROM STDIN`).writable();
  for (const chunk of chunks) if (!into.write(chunk)) await once(into, 'drain');
  into.end();
  await finished(into);
}

const ESCAPES: Readonly<Record<string, string>> = { '\\': '\\\\', '\n': '\\n', '\r': '\\r', '\t': '\\t' };

/** A row in the text format of COPY. */
function asLine(row: CopiedRow): string {
  const values = row.map((value) =>
    value === null ? '\\N' : value.replace(/[\\\n\r\t]/g, (found) => ESCAPES[found] ?? found),
  );
  return `${values.join('\t')}\n`;
}
