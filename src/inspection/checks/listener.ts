import { randomUUID } from 'node:crypto';
import type { EventListener } from '../../record/use-case.ts';
import type { RecordedEvent } from '../../record/events/append.ts';
import { produceChecks } from './produce.ts';
import { recordChecks } from './record.ts';

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
  const { setId, number } = payload;
  await recordChecks(tx, event, { setId, number }, 0, checks);
};
