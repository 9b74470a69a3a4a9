import { Prisma } from '../../database/generated/client.ts';
import type { Transaction } from '../events/append.ts';
import { Broken } from './report.ts';
import { recordedTables } from './tables.ts';

/**
 * Looks for rows that no event recorded: slipped in past the program, or left behind when the end of the log was
 * cut off. PostgreSQL reads each payload once and joins; it holds neither side in memory where they are long.
 *
 * @throws Broken at the first.
 */
export async function checkStrays(tx: Transaction, projectId: string): Promise<void> {
  for (const { table, types, idField, idColumn = 'id', strays } of recordedTables) {
    if (!strays) continue;
    // Names of tables and columns come from the list, never from outside.
    const id = Prisma.raw(`stray."${idColumn}"`);
    // An aggregate, not ORDER BY with LIMIT 1: for that PostgreSQL walks the whole table along its key.
    const [stray] = await tx.$queryRaw<{ id: string | null }[]>`
      WITH said AS MATERIALIZED (
        SELECT DISTINCT payload::json ->> ${idField} AS id FROM event
        WHERE project_id = ${projectId}::uuid AND type = ANY(${[...types]}::text[])
      )
      SELECT min(${id}::text) AS id FROM ${Prisma.raw(`"${table}"`)} stray
      LEFT JOIN said ON said.id = ${id}::text
      WHERE stray.project_id = ${projectId}::uuid AND said.id IS NULL`;
    if (typeof stray?.id === 'string') throw new Broken(table, stray.id, 'No event recorded it.');
  }
}

/**
 * The one column of the record that moves, what the owner may see of a file, against the last event that moved it.
 *
 * @throws Broken at the first that differs.
 */
export async function checkShared(tx: Transaction, projectId: string): Promise<void> {
  const [differing] = await tx.$queryRaw<{ id: string; shared: boolean }[]>`
    WITH said AS (
      SELECT DISTINCT ON (payload::json ->> 'attachmentId') payload::json ->> 'attachmentId' AS attachment_id,
             (payload::json ->> 'shared')::boolean AS shared
      FROM event WHERE project_id = ${projectId}::uuid AND type = 'attachment.shared'
      ORDER BY payload::json ->> 'attachmentId', seq DESC
    )
    SELECT attachment.id, attachment.shared_with_owner AS shared
    FROM attachment LEFT JOIN said ON said.attachment_id = attachment.id::text
    WHERE attachment.project_id = ${projectId}::uuid
      AND attachment.shared_with_owner <> COALESCE(said.shared, false)
    ORDER BY attachment.uploaded_at, attachment.id LIMIT 1`;
  if (differing === undefined) return;
  const is = differing.shared ? 'shown to' : 'kept from';
  throw new Broken('attachment', differing.id, `It is ${is} the owner, and no event says so.`);
}
