import { Prisma } from '../../database/generated/client.ts';
import type { Transaction } from '../events/append.ts';
import type { EventType } from '../events/payloads.ts';
import { Broken } from './report.ts';

interface Recorded {
  readonly table: string;
  readonly types: readonly EventType[];
  /** The name of the row's id in the payload. */
  readonly idField: string;
}

/** The tables whose every row has its event. */
const recorded: readonly Recorded[] = [
  { table: 'version', types: ['version.saved'], idField: 'versionId' },
  { table: 'mark', types: ['version.marked'], idField: 'markId' },
  { table: 'submission', types: ['versions.submitted'], idField: 'submissionId' },
  { table: 'approved_set', types: ['set.issued'], idField: 'setId' },
  {
    table: 'question',
    types: ['question.asked', 'question.answered', 'question.closed'],
    idField: 'questionId',
  },
];

/**
 * Looks for rows that no event recorded: slipped in past the program, or left behind when the end of the log was
 * cut off.
 *
 * @throws Broken at the first.
 */
export async function checkStrays(tx: Transaction, projectId: string): Promise<void> {
  for (const { table, types, idField } of recorded) {
    // Table names come from the list above, never from outside.
    const rows = await tx.$queryRaw<{ id: string }[]>`
      SELECT stray.id FROM ${Prisma.raw(table)} stray
      WHERE stray.project_id = ${projectId}::uuid AND stray.id::text NOT IN (
        SELECT event.payload::json ->> ${idField} FROM event
        WHERE event.project_id = ${projectId}::uuid AND event.type = ANY(${[...types]}::text[])
          AND event.payload::json ->> ${idField} IS NOT NULL
      ) ORDER BY stray.id LIMIT 1`;
    const [stray] = rows;
    if (stray) throw new Broken(table, stray.id, 'No event recorded it.');
  }
}
