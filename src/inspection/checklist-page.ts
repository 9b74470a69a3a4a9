import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Actor } from '../actor.ts';
import { roleMay } from '../people/permissions.ts';
import { findOpening } from '../record/openings/find.ts';
import { workOutOfOrder } from '../record/out-of-order.ts';
import { cursorText, readNumberCursor } from '../record/time-cursor.ts';
import type { Deps } from '../web/deps.ts';
import type { FormState } from '../web/forms/judge.ts';
import { listPage } from '../web/list-page.ts';
import type { ReadPage } from '../web/plugins/views.ts';
import { holdPoints } from './checks/check.ts';
import { heldBesides, reasonsToHold } from './held-besides.ts';
import { holdPointStates } from './hold-points.ts';
import { loadStatuses, photosOfShown } from './load.ts';
import { lateWaiting } from './offline/late.ts';
import { keyOfVisit, visitName } from './plan/plan.ts';
import { jurisdictionOf, planOf } from './plan/store.ts';
import { openCalls } from './self-check/service.ts';
import { CHECKS_ON_PAGE, stateCounts, stoppedVisits, withTyped } from './shown.ts';
import { nowAmong, setForChecklist, visitsOfNow, visitsPage } from './store.ts';

/** Where its lists go on: the visits, and the checks of one inspection. */
export const checklistQuery = z.object({ visits: cursorText, group: cursorText, after: cursorText });

export interface AskedChecklist extends Partial<z.infer<typeof checklistQuery>> {
  readonly openingId: string;
  readonly setNumber?: number | undefined;
}

/** The list of a set with its visits: all of it in counts, the checks of each inspection a page at a time. */
export async function checklistPage(
  deps: Deps,
  actor: Actor,
  reply: FastifyReply,
  asked: AskedChecklist,
  form?: FormState,
) {
  if (form === undefined) {
    return reply.keptPage('', () => readChecklist(deps, actor, asked, { values: {}, errors: {} }));
  }
  const { template, data } = await readChecklist(deps, actor, asked, form);
  return reply.page(template, data);
}

async function readChecklist(
  deps: Deps,
  actor: Actor,
  asked: AskedChecklist,
  form: FormState,
): Promise<ReadPage> {
  const { prisma } = deps;
  const { projectId } = actor;
  const opening = await findOpening(prisma, projectId, asked.openingId);
  // All at once: one after another, each would wait for its turn among everybody else's.
  const [set, visits, plan, jurisdiction, outOfOrder, late, calls] = await Promise.all([
    setForChecklist(prisma, projectId, opening.id, asked.setNumber),
    visitsPage(
      prisma,
      projectId,
      opening.id,
      asked.visits === undefined ? null : readNumberCursor(asked.visits),
    ),
    planOf(prisma, projectId),
    jurisdictionOf(prisma, projectId),
    workOutOfOrder(prisma, projectId, opening.id),
    lateWaiting(prisma, projectId, opening.id),
    openCalls(prisma, projectId, opening.id),
  ]);
  if (set === null) {
    return { template: 'inspection/no-set.njk', data: { opening, asked: asked.setNumber } };
  }
  const allThere = asked.visits === undefined && visits.next === null;
  const [statuses, reasons, ofNow] = await Promise.all([
    loadStatuses(prisma, actor, opening.id, set, { plan }),
    reasonsToHold(prisma, deps.kinds, { projectId, openingId: opening.id, setId: set.setId }),
    allThere ? nowAmong(visits.visits) : visitsOfNow(prisma, projectId, opening.id),
  ]);
  const ofVisit = (key: string) => statuses.filter((status) => status.visitKey === key);
  const groups = plan.visits
    .map(({ key, kind, name, on, decidedBy }) => ({
      key,
      kind,
      title: name,
      on,
      decidedBy,
      states: stateCounts(ofVisit(key)),
      page: listPage(
        ofVisit(key),
        ({ checkId }) => checkId,
        asked.group === key ? asked.after : undefined,
        CHECKS_ON_PAGE,
      ),
      open: ofNow.find((visit) => keyOfVisit(visit) === key && visit.closing === null) ?? null,
    }))
    // A final visit looks at the whole list, so that it needs no checks of its own.
    .filter((group) => (group.kind === 'final' && group.on) || group.page.total > 0)
    .map((group) => ({ ...group, shown: withTyped(ofVisit(group.key), group.page.entries, form) }));
  const held = heldBesides(holdPointStates(statuses), reasons);
  const data = {
    ...(await photosOfShown(
      prisma,
      actor,
      groups.flatMap(({ shown }) => shown),
    )),
    opening,
    set,
    visits,
    jurisdiction,
    holdPoints: held,
    nothingShored: !held.some((point) => point.step === holdPoints.wallOut),
    stopped: stoppedVisits(ofNow),
    outOfOrder,
    lateWaiting: late,
    visitNames: Object.fromEntries(
      visits.visits.map((visit) => [visit.id, visitName(plan, keyOfVisit(visit))]),
    ),
    groups,
    mayAccept: roleMay(actor.role, 'hold.accept') && set.number === set.newestNumber,
    calls,
    may: {
      open: roleMay(actor.role, 'visit.open'),
      answer: roleMay(actor.role, 'correction.answer'),
      selfCheck: roleMay(actor.role, 'self_check.answer'),
    },
    form,
  };
  return { template: 'inspection/checklist.njk', data };
}
