import { randomUUID } from 'node:crypto';
import type { RecordedEvent, Transaction } from '../../record/events/append.ts';
import type { ExtraCheck } from './check.ts';
import { extraCheck, type ProducedCheck } from './produce.ts';
import { recordChecks, type CheckRow } from './record.ts';

/** A room that asks for checks of its own when a set is issued: local requirements, circuits in the wall. */
export type ExtraSource = (
  tx: Transaction,
  where: { readonly projectId: string; readonly openingId: string },
) => Promise<readonly ExtraCheck[]>;

/** Rows as they go into the list of a set, from this place on. */
export function checkRows(
  checks: readonly ProducedCheck[],
  to: { readonly projectId: string; readonly setId: string; readonly after: number },
): CheckRow[] {
  return checks.map(({ rule: _rule, ...check }, index) => ({
    id: randomUUID(),
    projectId: to.projectId,
    setId: to.setId,
    ordinal: to.after + index + 1,
    ...check,
  }));
}

/**
 * Adds to the list of an issued set what a further source asks for by now. What is there stays: of two checks that mean
 * the same thing in other words the later one counts. The caller holds the project's lock; `cause` is what led to it.
 */
export async function addExtraChecks(
  tx: Transaction,
  cause: RecordedEvent,
  set: { readonly setId: string; readonly number: number },
  extra: readonly ExtraCheck[],
): Promise<void> {
  if (extra.length === 0) return;
  const { setId } = set;
  const produced = extra.map(extraCheck);
  const there = await tx.check.findMany({
    where: { setId, key: { in: produced.map((check) => check.key) } },
    select: { key: true },
  });
  const known = new Set(there.map((row) => row.key));
  const missing = produced.filter((check) => !known.has(check.key));
  if (missing.length === 0) return;
  const last = await tx.check.aggregate({ where: { setId }, _max: { ordinal: true } });
  const after = last._max.ordinal ?? 0;
  await recordChecks(tx, cause, set, after, checkRows(missing, { projectId: cause.projectId, setId, after }));
}
