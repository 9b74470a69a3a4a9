import type { Actor } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import type { Beam } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import type { Role } from '../../people/roles.ts';
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
      facesToHang: await facesToHang(tx, projectId, openingId, counts),
      roles: await rolesThere(tx, projectId),
      newestSet: set?.number ?? 0,
      corrections: [],
      returned: [],
    };
    return nextSteps(role, openingId, facts, counts).find((step) => step.waits !== true);
  });
}

/** The faces of a flush beam that joists hang from. Asked only while hangers are what may come next. */
export async function facesToHang(
  prisma: Pick<PrismaClient, 'item'>,
  projectId: string,
  openingId: string,
  { has, entered }: StateCounts,
): Promise<number> {
  if (entered('hanger') > 1 || !has('footing')) return 0;
  const contents = await newestContents(prisma, projectId, openingId, ['beam', 'survey']);
  const [beam] = (contents.get('beam') ?? []) as readonly Beam[];
  if (beam?.placement !== 'flush') return 0;
  const [survey] = (contents.get('survey') ?? []) as readonly Survey[];
  const joists = survey?.strips.filter(({ carries }) => carries !== 'roof') ?? [];
  const both = joists.some((one) => one.frontSpanIn > 0) && joists.some((one) => one.rearSpanIn > 0);
  return both ? 2 : 1;
}

/** Which roles somebody in the project has. */
export async function rolesThere(
  prisma: Pick<PrismaClient, 'membership'>,
  projectId: string,
): Promise<ReadonlySet<Role>> {
  const members = await prisma.membership.findMany({
    where: { projectId, revokedAt: null },
    select: { role: true },
    distinct: ['role'],
  });
  return new Set(members.map(({ role }) => role));
}

/** The same as a link; none where it can't be read: what was saved is saved all the same. */
export async function nextLink(
  deps: RecordDeps,
  actor: Actor,
  openingId: string | null,
): Promise<{ readonly words: string; readonly href: string } | undefined> {
  const { projectId } = actor;
  if (openingId === null) {
    const there = await deps.prisma.opening.count({ where: { projectId } }).catch(() => 1);
    return there > 0 ? undefined : { words: 'Name the opening.', href: `/projects/${projectId}#openings` };
  }
  const step = await nextAfterSaving(deps, actor, openingId).catch(() => undefined);
  if (step === undefined) return undefined;
  return { words: step.words, href: `/projects/${projectId}${step.to || `/openings/${openingId}`}` };
}
