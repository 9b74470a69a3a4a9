import type { Actor } from '../actor.ts';
import type { AttachmentView } from '../attachments/store.ts';
import type { PrismaClient } from '../database/generated/client.ts';
import { readTogether, type ProjectViewer } from '../record/read-together.ts';
import { photosOfFindings } from './photos.ts';
import { lateWaiting } from './offline/late.ts';
import type { Plan } from './plan/plan.ts';
import { planOf } from './plan/store.ts';
import { asOf, lacksPhoto } from './shown.ts';
import { checkStatuses, type CheckStatus } from './status.ts';
import { checksUnderPlan, findingsOfOpening, setForChecklist } from './store.ts';

export interface ShownPhotos {
  readonly photosBy: Readonly<Record<string, readonly AttachmentView[]>>;
  /** Checks that were looked at without the photo they ask for. */
  readonly withoutPhoto: readonly string[];
}

/**
 * A list with its findings.
 *
 * @param known The plan to read it under, where it isn't the one in force or that was read already. For a visit that was
 * closed: the plan it was opened under and the moment of closing, since its page never changes after.
 */
export async function loadStatuses(
  prisma: PrismaClient,
  { projectId }: Pick<Actor, 'projectId'>,
  openingId: string,
  set: { readonly setId: string; readonly number: number },
  known: { readonly plan?: Plan | Promise<Plan>; readonly until?: Date | undefined } = {},
): Promise<CheckStatus[]> {
  const { plan = planOf(prisma, projectId), until } = known;
  const [checks, all] = await Promise.all([
    checksUnderPlan(prisma, { setId: set.setId, projectId, openingId }, plan),
    findingsOfOpening(prisma, projectId, openingId),
  ]);
  const findings = until === undefined ? all : asOf(all, until);
  return checkStatuses(set.number, checks, findings);
}

/** The plan of inspections in force, or the one with this number. */
export async function planNow(prisma: PrismaClient, viewer: ProjectViewer, number?: number): Promise<Plan> {
  return readTogether(viewer, ['plan of inspections', number ?? null], () =>
    planOf(prisma, viewer.projectId, number),
  );
}

/** The newest set of an opening, null where there is none, and how many findings came late and wait. */
export async function newestNow(prisma: PrismaClient, viewer: ProjectViewer, openingId: string) {
  const { projectId } = viewer;
  return readTogether(viewer, ['newest set', openingId], async () => {
    const [set, late] = await Promise.all([
      setForChecklist(prisma, projectId, openingId),
      lateWaiting(prisma, projectId, openingId),
    ]);
    return { set, late };
  });
}

/** A list with its findings, under the plan in force. */
export async function statusesNow(
  prisma: PrismaClient,
  viewer: ProjectViewer,
  openingId: string,
  set: { readonly setId: string; readonly number: number },
): Promise<readonly CheckStatus[]> {
  return readTogether(viewer, ['statuses', openingId, set.setId], () =>
    loadStatuses(prisma, viewer, openingId, set, { plan: planNow(prisma, viewer) }),
  );
}

/** The photos of those checks that a page shows. */
export async function photosOfShown(
  prisma: PrismaClient,
  actor: Actor,
  statuses: readonly CheckStatus[],
): Promise<ShownPhotos> {
  const photosBy = await photosOfFindings(
    prisma,
    actor,
    statuses.flatMap(({ history }) => history),
  );
  const withoutPhoto = statuses
    .filter((status) => lacksPhoto(status, photosBy))
    .map(({ checkId }) => checkId);
  return { photosBy, withoutPhoto };
}
