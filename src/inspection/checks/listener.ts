import type { EventListener } from '../../record/use-case.ts';
import type { RecordedEvent, Transaction } from '../../record/events/append.ts';
import type { SetContent } from '../../record/sets/content.ts';
import { localChecks } from '../plan/plan.ts';
import { planOf } from '../plan/store.ts';
import { checkRows, type ExtraSource } from './extra.ts';
import { produceChecks } from './produce.ts';
import { recordChecks } from './record.ts';

const localRequirements: ExtraSource = async (tx, { projectId }) => localChecks(await planOf(tx, projectId));

/** What else goes into a list besides the approved versions. A room with checks of its own adds its source here. */
export const extraSources: readonly ExtraSource[] = [localRequirements];

/** Issuing a set produces its checklist in the same transaction: no set is without one, no check without a set. */
export const checksOnIssue: EventListener = async (tx, event) => {
  if (event.type !== 'set.issued') return;
  const { payload, projectId } = event as RecordedEvent<'set.issued'>;
  const frozen = [
    ...payload.entries.map((entry) => entry.versionId),
    ...(await servicesOfSet(tx, payload.setId)),
  ];
  const versions = await tx.version.findMany({
    where: { id: { in: frozen } },
    include: { item: true },
  });
  const byId = new Map(versions.map((version) => [version.id, version]));
  const entries = frozen.flatMap((versionId) => {
    const version = byId.get(versionId);
    if (version === undefined) return [];
    const { id: itemId, kind, key, title } = version.item;
    return [{ itemId, versionId, kind, key, title, content: JSON.parse(version.content) as unknown }];
  });
  const { setId, number, openingId } = payload;
  const extra = [];
  for (const source of extraSources) extra.push(...(await source(tx, { projectId, openingId })));
  const rows = checkRows(produceChecks(entries, extra), { projectId, setId, after: 0 });
  await recordChecks(tx, event, { setId, number }, 0, rows);
};

/** The services of the wall as the set froze them among its bases: the rewire checks come from those very versions. */
async function servicesOfSet(tx: Transaction, setId: string): Promise<string[]> {
  const set = await tx.approvedSet.findUniqueOrThrow({ where: { id: setId }, select: { content: true } });
  const { bases } = JSON.parse(set.content) as SetContent;
  return bases.filter((basis) => basis.kind === 'service').map((basis) => basis.versionId);
}
