import { randomUUID } from 'node:crypto';
import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Actor } from '../actor.ts';
import { approvedDrawings } from '../attachments/approved.ts';
import { roleMay } from '../people/permissions.ts';
import { idOr404 } from '../people/routes.ts';
import { NotFound } from '../problems.ts';
import { cursorText } from '../record/time-cursor.ts';
import type { Deps } from '../web/deps.ts';
import type { FormState } from '../web/forms/judge.ts';
import { listPage } from '../web/list-page.ts';
import { loadStatuses, newestNow, photosOfShown, planNow, statusesNow } from './load.ts';
import { keyOfVisit, visitName } from './plan/plan.ts';
import { CHECKS_ON_PAGE, lastFoundIn, withTyped } from './shown.ts';
import { checksOfVisit, partedForVisit } from './status.ts';
import { checksOfSet } from './store.ts';
import { outcomes } from './visits/outcomes.ts';
import { compareChecks } from './visits/set-change.ts';
import { choiceIsOpen, setInForce, withSets } from './visits/set-in-force.ts';

/** Where its lists go on: what is to look at, and what was in order before. */
export const visitQuery = z.object({ now: cursorText, before: cursorText });

interface AskedVisit extends Partial<z.infer<typeof visitQuery>> {
  readonly form?: FormState;
}

/** A visit with its checks, what is to look at first, a page at a time; a closed one as it stood then. */
export async function visitPage(
  { prisma }: Pick<Deps, 'prisma'>,
  actor: Actor,
  reply: FastifyReply,
  visitId: string,
  { form = { values: { signedName: actor.name }, errors: {} }, ...asked }: AskedVisit = {},
) {
  const visit = await prisma.visit.findFirst({
    where: { id: idOr404(visitId), projectId: actor.projectId },
    include: { opening: true, closing: true, ...withSets },
  });
  if (visit === null) throw new NotFound('That visit');
  const { openingId, closing } = visit;
  const set = setInForce(visit);
  const itsPlan = planNow(prisma, actor, visit.planNumber);
  const recording = closing === null && roleMay(actor.role, 'finding.record');
  const [{ set: newest, late }, statuses, plan, closedBy, sheets] = await Promise.all([
    newestNow(prisma, actor, openingId),
    closing === null
      ? statusesNow(prisma, actor, openingId, set)
      : loadStatuses(prisma, actor, openingId, set, { plan: itsPlan, until: closing.closedAt }),
    itsPlan,
    closing === null
      ? null
      : prisma.person.findUnique({ where: { id: closing.closedById }, select: { name: true } }),
    recording ? approvedDrawings(prisma, actor, openingId) : [],
  ]);
  const visitKey = keyOfVisit(visit);
  const own = checksOfVisit(visitKey, statuses);
  const photos = await photosOfShown(prisma, actor, own);
  const parted = closing === null ? partedForVisit(own, visit.number) : { now: own, before: [] };
  const page = {
    now: listPage(parted.now, ({ checkId }) => checkId, asked.now, CHECKS_ON_PAGE),
    before: listPage(parted.before, ({ checkId }) => checkId, asked.before, CHECKS_ON_PAGE),
  };
  const lastFound = lastFoundIn(visit.number, own);
  const now = withTyped(parted.now, page.now.entries, form);
  const shown = {
    // The line on what was recorded last leads to it, wherever in the list it stands.
    now: lastFound === null || now.includes(lastFound) ? now : [...now, lastFound],
    before: withTyped(parted.before, page.before.entries, form),
  };
  const onPage = [...shown.now, ...shown.before];
  const choice = closing === null && newest !== null && choiceIsOpen(visit, newest);
  return reply.page('inspection/visit.njk', {
    ...photos,
    visit,
    set,
    sheets,
    change: choice
      ? compareChecks(
          checksOfVisit(visitKey, statuses),
          checksOfVisit(visitKey, await checksOfSet(prisma, newest.setId)),
        )
      : null,
    lateWaiting: late,
    closedBy: closedBy?.name ?? '',
    title: visitName(plan, visitKey),
    page,
    shown,
    siblings: onPage,
    outcomes,
    supersededBy: newest !== null && newest.number > set.number ? newest.number : null,
    left: own.filter((status) => status.state === 'open').length,
    corrections: own.filter((status) => status.state === 'correction').length,
    lastFound,
    lacking: photos.withoutPhoto.length,
    // One key for each form as shown: a double tap or a resend is one finding.
    keyFor: Object.fromEntries(onPage.map((status) => [status.checkId, randomUUID()])),
    may: {
      record: roleMay(actor.role, 'finding.record'),
      answer: roleMay(actor.role, 'correction.answer'),
    },
    form,
  });
}
