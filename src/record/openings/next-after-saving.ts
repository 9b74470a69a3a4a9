import type { Actor } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import type { Beam } from '../../engineering/proposal/design.ts';
import { loadStale } from '../staleness/store.ts';
import { asMember, type RecordDeps } from '../use-case.ts';
import { newestContents } from '../versions/newest-contents.ts';
import { nextSteps, type NextStep } from './next-steps.ts';
import { countStates } from './overview-store.ts';
import { stateCounts, type StateCounts } from './overview.ts';

/** What to do after something of an opening was saved: the first of its next steps that waits for this person. */
async function nextAfterSaving(
  deps: RecordDeps,
  actor: Actor,
  openingId: string,
): Promise<NextStep | undefined> {
  return asMember(deps, actor, 'item.read', async (tx, { projectId, role }) => {
    const stale = await loadStale(tx, deps.kinds, { projectId, openingId });
    const counts = stateCounts(await countStates(tx, deps.kinds, projectId, openingId), stale.size);
    const criteria = await tx.item.findFirst({
      where: { projectId, kind: 'criteria' },
      select: { id: true },
    });
    const set = await tx.approvedSet.findFirst({
      where: { projectId, openingId },
      orderBy: { number: 'desc' },
      select: { number: true },
    });
    const facts = {
      hasCriteria: criteria !== null,
      beamIsFlush: await beamIsFlush(tx, projectId, openingId, counts),
      newestSet: set?.number ?? 0,
      returned: [],
    };
    return nextSteps(role, openingId, facts, counts).find((step) => step.waits !== true);
  });
}

/** Asked only while hangers are what may come next. */
export async function beamIsFlush(
  prisma: Pick<PrismaClient, 'item'>,
  projectId: string,
  openingId: string,
  { has }: StateCounts,
): Promise<boolean> {
  if (has('hanger') || !has('footing')) return false;
  const [beam] = (await newestContents(prisma, projectId, openingId, ['beam'])).get('beam') ?? [];
  return (beam as Beam | undefined)?.placement === 'flush';
}

/** The same as a link; none where it can't be read: what was saved is saved all the same. */
export async function nextLink(
  deps: RecordDeps,
  actor: Actor,
  openingId: string | null,
): Promise<{ readonly words: string; readonly href: string } | undefined> {
  if (openingId === null) return undefined;
  const step = await nextAfterSaving(deps, actor, openingId).catch(() => undefined);
  if (step === undefined) return undefined;
  return { words: step.words, href: `/projects/${actor.projectId}${step.to || `/openings/${openingId}`}` };
}
