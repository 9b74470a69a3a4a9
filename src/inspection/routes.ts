import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply } from 'fastify';
import QRCode from 'qrcode';
import type { Actor } from '../actor.ts';
import { approvedDrawings } from '../attachments/approved.ts';
import { readUpload } from '../attachments/multipart.ts';
import { roleMay } from '../people/permissions.ts';
import { idOr404 } from '../people/routes.ts';
import { Invalid, NotFound, Refused } from '../problems.ts';
import { backTo } from '../record/marks/routes.ts';
import { workOutOfOrder } from '../record/out-of-order.ts';
import type { Deps } from '../web/deps.ts';
import { typedFrom } from '../web/forms/read.ts';
import type { FormState } from '../web/forms/judge.ts';
import { actorOf } from '../web/plugins/access.ts';
import { acceptHoldPoint } from './acceptance/service.ts';
import { holdPoints } from './checks/check.ts';
import { heldBesides, reasonsToHold } from './held-besides.ts';
import { holdPointStates } from './hold-points.ts';
import { loadList } from './load.ts';
import { lateWaiting } from './offline/late.ts';
import { keyOfVisit, visitName } from './plan/plan.ts';
import { jurisdictionOf, planOf } from './plan/store.ts';
import { openCalls } from './self-check/service.ts';
import { findingBoxes, pageOfChecklist, pageOfVisit } from './kept-pages.ts';
import { lastFoundIn, stoppedVisits } from './shown.ts';
import { checksOfVisit, partedForVisit } from './status.ts';
import { checksOfSet, setForChecklist, visitsOfOpening } from './store.ts';
import { compareChecks } from './visits/set-change.ts';
import { outcomes } from './visits/outcomes.ts';
import { choiceIsOpen, setInForce, withSets } from './visits/set-in-force.ts';
import { answerCorrection, closeVisit, openVisit, recordFinding } from './visits/service.ts';

const results = ['pass', 'correction', 'not_applicable'] as const;
/** Made by the page for each form it shows; a program that records without a page makes its own. */
const clientKeyForm = /^[\w-]{8,80}$/;

interface OpeningPath {
  Params: { openingId: string };
}
interface VisitPath {
  Params: { visitId: string };
}

export async function inspectionRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, blobs, config } = deps;

  async function findOpening(projectId: string, openingId: string) {
    const opening = await prisma.opening.findFirst({ where: { id: idOr404(openingId), projectId } });
    if (opening === null) throw new NotFound('That opening');
    return opening;
  }

  async function checklistPage(
    actor: Actor,
    reply: FastifyReply,
    asked: { readonly openingId: string; readonly setNumber?: number | undefined },
    form?: FormState,
  ) {
    const opening = await findOpening(actor.projectId, asked.openingId);
    const set = await setForChecklist(prisma, actor.projectId, opening.id, asked.setNumber);
    const visits = await visitsOfOpening(prisma, actor.projectId, opening.id);
    if (set === null) return reply.page('inspection/no-set.njk', { opening, asked: asked.setNumber });
    const loaded = await loadList(prisma, actor, opening.id, set);
    const plan = await planOf(prisma, actor.projectId);
    const reasons = await reasonsToHold(prisma, deps.kinds, {
      projectId: actor.projectId,
      openingId: opening.id,
      setId: set.setId,
    });
    const held = heldBesides(holdPointStates(loaded.statuses), reasons);
    return reply.page('inspection/checklist.njk', {
      ...loaded,
      opening,
      set,
      visits,
      jurisdiction: await jurisdictionOf(prisma, actor.projectId),
      holdPoints: held,
      nothingShored: !held.some((point) => point.step === holdPoints.wallOut),
      stopped: stoppedVisits(visits),
      outOfOrder: await workOutOfOrder(prisma, actor.projectId, opening.id),
      lateWaiting: await lateWaiting(prisma, actor.projectId, opening.id),
      visitNames: Object.fromEntries(visits.map((visit) => [visit.id, visitName(plan, keyOfVisit(visit))])),
      groups: plan.visits
        .map(({ key, kind, name, on, decidedBy }) => ({
          key,
          kind,
          title: name,
          on,
          decidedBy,
          statuses: loaded.statuses.filter((status) => status.visitKey === key),
          open: visits.find((visit) => keyOfVisit(visit) === key && visit.closing === null) ?? null,
        }))
        // A final visit looks at the whole list, so that it needs no checks of its own.
        .filter((group) => (group.kind === 'final' && group.on) || group.statuses.length > 0),
      mayAccept: roleMay(actor.role, 'hold.accept') && set.number === set.newestNumber,
      calls: await openCalls(prisma, actor.projectId, opening.id),
      may: {
        open: roleMay(actor.role, 'visit.open'),
        answer: roleMay(actor.role, 'correction.answer'),
        selfCheck: roleMay(actor.role, 'self_check.answer'),
      },
      form: form ?? { values: {}, errors: {} },
    });
  }

  app.get<OpeningPath & { Querystring: { set?: string } }>(
    '/projects/:projectId/openings/:openingId/checklist',
    { config: { access: 'checklist.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const asked = /^[1-9]\d{0,5}$/.test(request.query.set ?? '') ? Number(request.query.set) : undefined;
      return checklistPage(actor, reply, { openingId, setNumber: asked });
    },
  );

  /** The printed list's way back to the live one: a picture of its own, since pages carry no inline styles. */
  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId/checklist/code.svg',
    { config: { access: 'checklist.read' } },
    async (request, reply) => {
      const { projectId } = actorOf(request);
      const opening = await findOpening(projectId, request.params.openingId);
      const url = `${config.publicUrl}/projects/${projectId}/openings/${opening.id}/checklist`;
      return reply
        .type('image/svg+xml')
        .send(await QRCode.toString(url, { type: 'svg', margin: 2, errorCorrectionLevel: 'M' }));
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/visits',
    { config: { access: 'visit.open' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const opening = await findOpening(actor.projectId, request.params.openingId);
      const { kind = '' } = typedFrom(request.body);
      const { visitId } = await openVisit(deps, actor, { openingId: opening.id, visitKey: kind });
      return reply.redirect(`/projects/${actor.projectId}/visits/${visitId}`, 303);
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/acceptances',
    { config: { access: 'hold.accept', keepForm: pageOfChecklist } },
    async (request, reply) => {
      const actor = actorOf(request);
      const openingId = idOr404(request.params.openingId);
      const typed = typedFrom(request.body);
      const { step = '', setNumber = '' } = typed;
      const basis = typed[`basis.${step}`] ?? '';
      try {
        await acceptHoldPoint(deps, actor, { openingId, setNumber: Number(setNumber), step, basis });
        reply.flash(`Accepted: ${step}.`);
        return await reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/checklist`, 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        const form = {
          values: typed,
          errors: { [`basis.${step}`]: error.fields.basis ?? error.message },
        };
        return checklistPage(actor, reply.status(422), { openingId }, form);
      }
    },
  );

  async function visitPage(actor: Actor, reply: FastifyReply, visitId: string, form?: FormState) {
    const visit = await prisma.visit.findFirst({
      where: { id: idOr404(visitId), projectId: actor.projectId },
      include: { opening: true, closing: true, ...withSets },
    });
    if (visit === null) throw new NotFound('That visit');
    const newest = await setForChecklist(prisma, actor.projectId, visit.openingId);
    const set = setInForce(visit);
    const closedAt = visit.closing?.closedAt;
    const asOfClosing =
      closedAt === undefined ? undefined : { until: closedAt, planNumber: visit.planNumber };
    const loaded = await loadList(prisma, actor, visit.openingId, set, asOfClosing);
    const plan = await planOf(prisma, actor.projectId, visit.planNumber);
    const visitKey = keyOfVisit(visit);
    const own = checksOfVisit(visitKey, loaded.statuses);
    const closedBy =
      visit.closing === null
        ? null
        : await prisma.person.findUnique({
            where: { id: visit.closing.closedById },
            select: { name: true },
          });
    const recording = visit.closing === null && roleMay(actor.role, 'finding.record');
    const choice = visit.closing === null && newest !== null && choiceIsOpen(visit, newest);
    return reply.page('inspection/visit.njk', {
      ...loaded,
      visit,
      set,
      sheets: recording ? await approvedDrawings(prisma, actor.projectId, visit.openingId) : [],
      change: choice
        ? compareChecks(
            checksOfVisit(visitKey, loaded.statuses),
            checksOfVisit(visitKey, await checksOfSet(prisma, newest.setId)),
          )
        : null,
      lateWaiting: await lateWaiting(prisma, actor.projectId, visit.openingId),
      closedBy: closedBy?.name ?? '',
      title: visitName(plan, visitKey),
      statuses: own,
      parted: visit.closing === null ? partedForVisit(own, visit.number) : { now: own, before: [] },
      outcomes,
      supersededBy: newest !== null && newest.number > set.number ? newest.number : null,
      left: own.filter((status) => status.state === 'open').length,
      corrections: own.filter((status) => status.state === 'correction').length,
      lastFound: lastFoundIn(visit.number, own),
      lacking: own.filter((status) => loaded.withoutPhoto.includes(status.checkId)).length,
      // One key for each form as shown: a double tap or a resend is one finding.
      keyFor: Object.fromEntries(own.map((status) => [status.checkId, randomUUID()])),
      may: {
        record: roleMay(actor.role, 'finding.record'),
        answer: roleMay(actor.role, 'correction.answer'),
      },
      form: form ?? { values: { signedName: actor.name }, errors: {} },
    });
  }

  /** The last finding of somebody else on the same check that the page, when it was shown, did not have yet. */
  async function foundMeanwhile(actor: Actor, checkId: string, clientKey: string, seen: string) {
    const last = await prisma.finding.findFirst({
      where: { projectId: actor.projectId, checkId: idOr404(checkId), clientKey: { not: clientKey } },
      orderBy: { receivedAt: 'desc' },
    });
    if (last === null || seen === '' || last.id === seen || last.byId === actor.personId) return null;
    const by = await prisma.person.findUnique({ where: { id: last.byId }, select: { name: true } });
    return { byName: by?.name ?? '', result: last.result };
  }

  /** An answer that can't be kept comes back on the page it was written on, at its own correction. */
  async function answerAgain(
    actor: Actor,
    reply: FastifyReply,
    findingId: string,
    fields: Readonly<Record<string, string>>,
    error: Invalid,
  ) {
    const form = {
      values: { [`note.${findingId}`]: noteOf(fields, findingId) },
      errors: { [`note.${findingId}`]: error.fields.note ?? error.message },
    };
    const visitId = /\/visits\/([0-9a-f-]{36})$/.exec(fields.back ?? '')?.[1];
    if (visitId !== undefined) return visitPage(actor, reply, visitId, form);
    const finding = await prisma.finding.findFirst({
      where: { id: idOr404(findingId), projectId: actor.projectId },
      select: { visit: { select: { openingId: true } } },
    });
    if (finding === null) throw new NotFound('That correction');
    return checklistPage(actor, reply, { openingId: finding.visit.openingId }, form);
  }

  app.get<VisitPath>(
    '/projects/:projectId/visits/:visitId',
    { config: { access: 'visit.read' } },
    async (request, reply) => {
      return visitPage(actorOf(request), reply, request.params.visitId);
    },
  );

  app.post<VisitPath>(
    '/projects/:projectId/visits/:visitId/findings',
    {
      config: {
        access: 'finding.record',
        csrfInStream: true,
        keepForm: pageOfVisit,
        keepBoxes: (_params, fields) => findingBoxes(fields),
      },
      bodyLimit: config.uploadLimitBytes * 21,
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { visitId } = request.params;
      const { fields, files } = await readUpload(app, request, reply, blobs, config.uploadLimitBytes);
      try {
        const result = results.find((one) => one === fields.result);
        const { checkId = '', clientKey = '', reason = '', location = '', seen = '', sheetId = '' } = fields;
        const square = (fields.square ?? '').trim().toUpperCase();
        if (result === undefined) {
          // What the return key of a keyboard sends: never taken for a pass.
          throw new Invalid({
            [`reason.${checkId}`]: 'Press Pass, Correction needed or Does not apply.',
          });
        }
        if (!clientKeyForm.test(clientKey)) throw new Refused('This form can’t be told from another one.');
        for (const file of files) await file.received.commit();
        const { title, repeated } = await recordFinding(deps, actor, {
          visitId: idOr404(visitId),
          checkId: idOr404(checkId),
          clientKey,
          result,
          reason,
          location,
          place: square === '' ? null : { sheetId, square },
          files,
        });
        const meanwhile = repeated ? null : await foundMeanwhile(actor, checkId, clientKey, seen);
        if (meanwhile !== null) {
          reply.flash(
            `${title}: ${meanwhile.byName} recorded “${meanwhile.result.replace('_', ' ')}” while you looked. Both stay in the record; yours is the later one.`,
          );
        }
        // What is left comes first on the page, so that the next one is under the thumb.
        return await reply.redirect(`/projects/${actor.projectId}/visits/${visitId}#left`, 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        const again = files.length > 0 ? { '': 'The photo has to be chosen again.' } : {};
        return await visitPage(actor, reply.status(422), visitId, {
          values: findingBoxes(fields),
          errors: { ...error.fields, ...again },
        });
      } finally {
        await Promise.all(files.map((file) => file.received.discard()));
      }
    },
  );

  app.post<VisitPath>(
    '/projects/:projectId/visits/:visitId/closing',
    { config: { access: 'visit.close', keepForm: pageOfVisit } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { visitId } = request.params;
      const typed = typedFrom(request.body);
      const outcome = outcomes.find((one) => one.value === typed.outcome)?.value;
      try {
        if (outcome === undefined) throw new Invalid({ outcome: 'Choose an outcome.' });
        const { portion = '', summary = '', signedName = '' } = typed;
        await closeVisit(deps, actor, { visitId: idOr404(visitId), outcome, portion, summary, signedName });
        reply.flash('The visit is closed.');
        return await reply.redirect(`/projects/${actor.projectId}/visits/${visitId}`, 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        return visitPage(actor, reply.status(422), visitId, { values: typed, errors: error.fields });
      }
    },
  );

  app.post<{ Params: { findingId: string } }>(
    '/projects/:projectId/findings/:findingId/answers',
    {
      config: {
        access: 'correction.answer',
        csrfInStream: true,
        keepForm: ({ projectId = '' }, { back }) => backTo(projectId, back),
      },
      bodyLimit: config.uploadLimitBytes * 21,
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { fields, files } = await readUpload(app, request, reply, blobs, config.uploadLimitBytes);
      try {
        for (const file of files) await file.received.commit();
        const findingId = idOr404(request.params.findingId);
        await answerCorrection(deps, actor, {
          findingId,
          note: noteOf(fields, findingId),
          disturbs: disturbedOf(fields),
          files,
        });
        reply.flash('The inspector sees that it is done.');
        return await reply.redirect(backTo(actor.projectId, fields.back), 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        return await answerAgain(actor, reply.status(422), request.params.findingId, fields, error);
      } finally {
        await Promise.all(files.map((file) => file.received.discard()));
      }
    },
  );
}

/** Each checkbox of what was disturbed has a name of its own: the upload keeps one value a name. */
function disturbedOf(fields: Readonly<Record<string, string>>): string[] {
  return Object.keys(fields)
    .filter((name) => name.startsWith('disturbs.'))
    .map((name) => idOr404(name.slice('disturbs.'.length)));
}

/** Pages with several corrections name each box by its finding. */
function noteOf(fields: Readonly<Record<string, string>>, findingId: string): string {
  return fields[`note.${findingId}`] ?? fields.note ?? '';
}
