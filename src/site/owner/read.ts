import { attachmentsShared, type GalleryPage } from '../../attachments/store.ts';
import { approvedDrawings, type ApprovedDrawing } from '../../attachments/approved.ts';
import { statusesNow } from '../../inspection/load.ts';
import { visitsOfOpening } from '../../inspection/store.ts';
import { dayOf } from '../../house-time.ts';
import { standingsOfOpening } from '../../record/items/standings.ts';
import { findOpening } from '../../record/openings/find.ts';
import { lastSet } from '../../record/sets/store.ts';
import type { ProjectViewer } from '../../record/read-together.ts';
import type { Deps } from '../../web/deps.ts';
import { ownersDays, readOwnersWork, type OwnersDays } from './days.ts';
import { outcomeWords, safetyWords, type SafetyWords } from './safety.ts';
import { progressStages, type Stage } from './stages.ts';

export interface OwnersPage {
  readonly openingId: string;
  readonly openingName: string;
  readonly stages: readonly Stage[];
  /** The first that is not done; null once all are. */
  readonly next: Stage | null;
  readonly safety: SafetyWords;
  /** What is planned and done, by day. */
  readonly days: OwnersDays;
  readonly visits: readonly { readonly on: Date; readonly words: string }[];
  readonly planNumber: number;
  /** The approved set that it is; '' where there is none. */
  readonly planId: string;
  /** A page of them, oldest first. */
  readonly photos: GalleryPage;
  readonly drawings: readonly ApprovedDrawing[];
}

/** All that the owner's page tells of an opening; nothing of drafts, prices, notes, reasons and people goes into it. */
export async function readOwnersPage(
  deps: Pick<Deps, 'prisma' | 'kinds' | 'clock'>,
  viewer: ProjectViewer,
  id: string,
  /** The `next` of the photos before. */
  after?: string,
): Promise<OwnersPage> {
  const { prisma } = deps;
  const { projectId } = viewer;
  // Before anything is kept for its sake.
  const { id: openingId, name, project } = await findOpening(prisma, viewer, id);
  // All at once: one after another, each would wait for its turn among everybody else's.
  const [standings, set, allVisits, submission, { plan, work, moves }, photos, drawings] = await Promise.all([
    standingsOfOpening(prisma, deps.kinds, viewer, openingId),
    lastSet(prisma, openingId),
    visitsOfOpening(prisma, projectId, openingId),
    prisma.submission.findFirst({
      where: { projectId, openingId },
      orderBy: { at: 'desc' },
      select: { at: true },
    }),
    readOwnersWork(prisma, projectId, openingId),
    attachmentsShared(prisma, projectId, openingId, after),
    approvedDrawings(prisma, viewer, openingId),
  ]);
  const days = ownersDays(plan, work, moves, dayOf(deps.clock(), project.timeZone));
  const statuses = set === null ? [] : await statusesNow(prisma, viewer, openingId, set);
  const visits = allVisits.flatMap(({ kind, closing }) =>
    closing === null ? [] : [{ kind, outcome: closing.outcome, closedAt: closing.closedAt }],
  );
  const survey = standings.find(({ facts }) => facts.kind === 'survey');
  const stages = progressStages({
    standings,
    setNumber: set?.number ?? 0,
    setGaps: set?.content.gaps.length ?? 0,
    statuses,
    openVisits: allVisits.filter(({ closing }) => closing === null).length,
    dates: {
      surveyed: survey?.facts.newest?.at ?? null,
      submitted: submission?.at ?? null,
      issued: set === null ? null : new Date(set.content.issuedAt),
      visited: visits[0]?.closedAt ?? null,
    },
  });
  return {
    openingId,
    openingName: name,
    stages,
    next: stages.find((stage) => stage.state !== 'done') ?? null,
    days,
    safety: safetyWords(set?.number ?? 0, visits, days.loggedSteps),
    visits: visits.map(({ outcome, closedAt }) => ({ on: closedAt, words: outcomeWords(outcome) })),
    planNumber: set?.number ?? 0,
    planId: set?.setId ?? '',
    photos,
    drawings,
  };
}
