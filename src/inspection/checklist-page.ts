import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Actor } from '../actor.ts';
import { roleMay } from '../people/permissions.ts';
import { findOpening } from '../record/openings/find.ts';
import { workOutOfOrder } from '../record/out-of-order.ts';
import { readTogether, type ProjectViewer } from '../record/read-together.ts';
import { cursorText, readNumberCursor } from '../record/time-cursor.ts';
import type { Deps } from '../web/deps.ts';
import type { FormState } from '../web/forms/judge.ts';
import { listPage } from '../web/list-page.ts';
import type { ReadPage } from '../web/plugins/views.ts';
import { holdPoints } from './checks/check.ts';
import { heldBesides, reasonsToHold } from './held-besides.ts';
import { holdPointStates } from './hold-points.ts';
import { newestNow, photosOfShown, planNow, statusesNow } from './load.ts';
import { keyOfVisit, visitName } from './plan/plan.ts';
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

interface AskedList {
  readonly openingId: string;
  /** Null: the newest. */
  readonly setNumber: number | null;
  /** Of the page of visits before; null for the first one. */
  readonly before: number | null;
}

/** A list as it stands, whoever looks at it; without a set where none of that number was issued. */
async function readList(deps: Deps, viewer: ProjectViewer, { openingId, setNumber, before }: AskedList) {
  const { prisma } = deps;
  const { projectId } = viewer;
  // All at once: one after another, each would wait for its turn among everybody else's.
  const [newest, older, visits, plan, outOfOrder, calls] = await Promise.all([
    newestNow(prisma, viewer, openingId),
    setNumber === null ? null : setForChecklist(prisma, projectId, openingId, setNumber),
    visitsPage(prisma, projectId, openingId, before),
    planNow(prisma, viewer),
    workOutOfOrder(prisma, projectId, openingId),
    openCalls(prisma, projectId, openingId),
  ]);
  const set = setNumber === null ? newest.set : older;
  const around = { visits, plan, outOfOrder, late: newest.late, calls };
  if (set === null) return { set, ...around };
  const allThere = before === null && visits.next === null;
  const [statuses, reasons, ofNow] = await Promise.all([
    statusesNow(prisma, viewer, openingId, set),
    reasonsToHold(prisma, deps.kinds, { projectId, openingId, setId: set.setId }, viewer),
    allThere ? nowAmong(visits.visits) : visitsOfNow(prisma, projectId, openingId),
  ]);
  return { set, ...around, statuses, ofNow, held: heldBesides(holdPointStates(statuses), reasons) };
}

async function readChecklist(
  deps: Deps,
  actor: Actor,
  asked: AskedChecklist,
  form: FormState,
): Promise<ReadPage> {
  const { prisma } = deps;
  const before = asked.visits === undefined ? null : readNumberCursor(asked.visits);
  const { setNumber = null } = asked;
  const opening = await findOpening(prisma, actor, asked.openingId);
  const read = () => readList(deps, actor, { openingId: opening.id, setNumber, before });
  // The pages behind it are rarely asked for, and any number of them may be.
  const list = await (before === null && setNumber === null
    ? readTogether(actor, ['list', opening.id], read)
    : read());
  if (list.set === null) {
    return { template: 'inspection/no-set.njk', data: { opening, asked: asked.setNumber } };
  }
  const { set, visits, plan, outOfOrder, late, calls, statuses, ofNow, held } = list;
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
  const data = {
    ...(await photosOfShown(
      prisma,
      actor,
      groups.flatMap(({ shown }) => shown),
    )),
    opening,
    set,
    visits,
    jurisdiction: opening.project.jurisdiction,
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
