import { randomUUID } from 'node:crypto';
import type { EventListener } from '../../record/use-case.ts';
import { appendEvent, type RecordedEvent } from '../../record/events/append.ts';
import { checklistHash } from '../../record/hash.ts';
import { produceChecks } from './produce.ts';

/** Issuing a set produces its checklist in the same transaction: no set is without one, no check without a set. */
export const checksOnIssue: EventListener = async (tx, event) => {
  if (event.type !== 'set.issued') return;
  const { payload, projectId } = event as RecordedEvent<'set.issued'>;
  const versions = await tx.version.findMany({
    where: { id: { in: payload.entries.map((entry) => entry.versionId) } },
    include: { item: true },
  });
  const byId = new Map(versions.map((version) => [version.id, version]));
  const entries = payload.entries.flatMap(({ versionId }) => {
    const version = byId.get(versionId);
    if (version === undefined) return [];
    const { id: itemId, kind, key, title } = version.item;
    return [{ itemId, versionId, kind, key, title, content: JSON.parse(version.content) as unknown }];
  });
  const checks = produceChecks(entries).map((check, index) => ({
    id: randomUUID(),
    projectId,
    setId: payload.setId,
    versionId: check.versionId,
    key: check.key,
    ordinal: index + 1,
    visitKind: check.visitKind,
    title: check.title,
    criterion: check.criterion,
    clause: check.clause,
    howToLook: check.howToLook,
    photoRequired: check.photoRequired,
    holdPoint: check.holdPoint,
  }));
  await tx.check.createMany({ data: checks });
  const sum = checklistHash();
  for (const check of checks) sum.add(check);
  const { setId, number } = payload;
  const { at, actorId, actorName } = event;
  // The use case holds the project's lock: the line comes right after the one of the set.
  await appendEvent(tx, {
    projectId,
    at,
    actorId,
    actorName,
    type: 'checklist.produced',
    payload: { setId, number, checks: checks.length, hash: sum.digest() },
  });
};
