import { appendEvent, type RecordedEvent, type Transaction } from '../../record/events/append.ts';
import type { VisitKind } from './check.ts';
import { checklistHash, type HashedCheck } from '../../record/hash.ts';

/** A row of a checklist as it is written. */
export interface CheckRow extends HashedCheck {
  readonly projectId: string;
  readonly setId: string;
  readonly visitKind: VisitKind;
}

/**
 * Puts lines into the checklist of a set, with the event that vouches for them. `after` is the last ordinal that was
 * there; the rows carry on from it without a gap. The caller holds the project's lock.
 */
export async function recordChecks(
  tx: Transaction,
  cause: Pick<RecordedEvent, 'projectId' | 'at' | 'actorId' | 'actorName'>,
  set: { readonly setId: string; readonly number: number },
  after: number,
  rows: readonly CheckRow[],
): Promise<void> {
  await tx.check.createMany({ data: [...rows] });
  const sum = checklistHash();
  for (const row of rows) sum.add(row);
  const { projectId, at, actorId, actorName } = cause;
  const payload = { ...set, after, checks: rows.length, hash: sum.digest() };
  await appendEvent(tx, { projectId, at, actorId, actorName, type: 'checklist.produced', payload });
}
