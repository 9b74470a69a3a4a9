import type { EventListener } from '../record/use-case.ts';
import { appendEvent, type RecordedEvent, type Transaction } from '../record/events/append.ts';
import type { KindRegistry } from '../record/kinds/registry.ts';
import { heldBesides, reasonsToHold, type HoldReason } from './held-besides.ts';
import { holdPointStates, type HoldPointState } from './hold-points.ts';
import { checkStatuses, type CheckStatus } from './status.ts';
import { checksOfSet, findingsOfOpening } from './store.ts';

interface SetInForce {
  readonly projectId: string;
  readonly openingId: string;
  readonly setId: string;
  readonly number: number;
}

/**
 * Says in the log, in the same transaction, that a step which was released is held again: because of the engineer's
 * word on an item (raised, or taken back), or because of what the next set holds. Whoever is to be told is told by
 * this event. It comes after `checksOnIssue`, whose lines it looks at.
 */
export function holdPointsClosedAgain(kinds: KindRegistry): EventListener {
  return async (tx, event) => {
    if (event.type === 'version.marked') {
      await afterMark(tx, kinds, event as RecordedEvent<'version.marked'>);
    } else if (event.type === 'set.issued') {
      await afterIssue(tx, kinds, event as RecordedEvent<'set.issued'>);
    }
  };
}

async function afterMark(
  tx: Transaction,
  kinds: KindRegistry,
  event: RecordedEvent<'version.marked'>,
): Promise<void> {
  const { itemId, versionId, word } = event.payload;
  if (word === 'returned') return;
  const { projectId } = event;
  const entry = await tx.setEntry.findFirst({
    where: { itemId, set: { projectId } },
    orderBy: { set: { number: 'desc' } },
    select: { versionId: true, set: { select: { id: true, number: true, openingId: true } } },
  });
  if (entry === null || (entry.versionId === versionId) !== (word === 'withdrawn')) return;
  const { id: setId, number, openingId } = entry.set;
  const newest = await tx.approvedSet.aggregate({ where: { openingId }, _max: { number: true } });
  if (newest._max.number !== number) return;
  const set = { projectId, openingId, setId, number };
  const statuses = await statusesOf(tx, set);
  if (!statuses.some((status) => status.finding !== null)) return;
  const points = holdPointStates(statuses);
  const reasons = await reasonsToHold(tx, kinds, set);
  // What goes out of date with the item is no reason that stood before.
  const others = reasons.filter(
    ({ causes }) => causes.some((cause) => cause !== itemId) || causes.length === 0,
  );
  await tellOf(tx, event, set, heldBesides(points, others), heldBesides(points, reasons), reasons);
}

async function afterIssue(
  tx: Transaction,
  kinds: KindRegistry,
  event: RecordedEvent<'set.issued'>,
): Promise<void> {
  const { projectId } = event;
  const { setId, openingId, number } = event.payload;
  const before = await tx.approvedSet.findUnique({
    where: { openingId_number: { openingId, number: number - 1 } },
    select: { id: true },
  });
  if (before === null) return;
  const last = { projectId, openingId, setId: before.id, number: number - 1 };
  const statuses = await statusesOf(tx, last);
  if (!statuses.some((status) => status.finding !== null)) return;
  const set = { projectId, openingId, setId, number };
  const then = heldBesides(holdPointStates(statuses), await reasonsToHold(tx, kinds, last));
  const reasons = await reasonsToHold(tx, kinds, set);
  const now = heldBesides(holdPointStates(await statusesOf(tx, set)), reasons);
  await tellOf(tx, event, set, then, now, reasons);
}

async function statusesOf(tx: Transaction, { setId, number, projectId, openingId }: SetInForce) {
  const findings = await findingsOfOpening(tx, projectId, openingId);
  const statuses: readonly CheckStatus[] =
    findings.length === 0 ? [] : checkStatuses(number, await checksOfSet(tx, setId), findings);
  return statuses;
}

async function tellOf(
  tx: Transaction,
  cause: RecordedEvent,
  { openingId, setId }: SetInForce,
  before: readonly HoldPointState[],
  after: readonly HoldPointState[],
  reasons: readonly HoldReason[],
): Promise<void> {
  const { projectId, at, actorId, actorName } = cause;
  for (const { step, released, missing } of after) {
    const was = before.find((point) => point.step === step);
    if (released || was?.released !== true) continue;
    const itemIds = [
      ...new Set(
        reasons.flatMap((reason) => (reason.step === step && reason.itemId !== null ? [reason.itemId] : [])),
      ),
    ];
    const payload = { openingId, setId, step, itemIds, missing };
    await appendEvent(tx, { projectId, at, actorId, actorName, type: 'hold_point.closed', payload });
  }
}
