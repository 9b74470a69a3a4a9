import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply } from 'fastify';
import QRCode from 'qrcode';
import type { Actor } from '../actor.ts';
import { readUpload } from '../attachments/multipart.ts';
import { attachmentsOf } from '../attachments/store.ts';
import { roleMay } from '../people/permissions.ts';
import { idOr404 } from '../people/routes.ts';
import { Invalid, NotFound, Refused } from '../problems.ts';
import { backTo } from '../record/marks/routes.ts';
import type { Deps } from '../web/deps.ts';
import { typedFrom } from '../web/forms/read.ts';
import type { FormState } from '../web/forms/judge.ts';
import { actorOf } from '../web/plugins/access.ts';
import { visitKinds, visitTitles } from './checks/check.ts';
import { checkStatuses, holdPointStates, inVisitOrder } from './status.ts';
import { checksOfSet, findingsOfOpening, setForChecklist, visitsOfOpening } from './store.ts';
import { answerCorrection, closeVisit, openVisit, recordFinding } from './visits/service.ts';

const outcomes = [
  { value: 'passed', text: 'Passed' },
  { value: 'partial', text: 'Partial: a portion may go on' },
  { value: 'correction_needed', text: 'Correction needed' },
  { value: 'not_ready', text: 'Not ready' },
  { value: 'no_access', text: 'No access' },
  { value: 'stop_work', text: 'Stop work' },
] as const;
const results = ['pass', 'correction', 'not_applicable'] as const;

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

  async function loadStatuses(actor: Actor, openingId: string, setId: string, setNumber: number) {
    const [checks, findings] = await Promise.all([
      checksOfSet(prisma, setId),
      findingsOfOpening(prisma, actor.projectId, openingId),
    ]);
    const statuses = checkStatuses(setNumber, checks, findings);
    const findingIds = findings.map((finding) => finding.findingId);
    const answerIds = findings.flatMap((finding) => finding.answers.map((answer) => answer.answerId));
    const [photos, answerPhotos] = await Promise.all([
      attachmentsOf(prisma, actor.projectId, actor.role, 'finding', findingIds),
      attachmentsOf(prisma, actor.projectId, actor.role, 'correction_answer', answerIds),
    ]);
    const photosBy: Record<string, typeof photos> = {};
    for (const photo of [...photos, ...answerPhotos]) (photosBy[photo.subjectId] ??= []).push(photo);
    return { statuses, photosBy };
  }

  app.get<OpeningPath & { Querystring: { set?: string } }>(
    '/projects/:projectId/openings/:openingId/checklist',
    { config: { access: 'checklist.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const opening = await findOpening(actor.projectId, request.params.openingId);
      const asked = /^[1-9]\d{0,5}$/.test(request.query.set ?? '') ? Number(request.query.set) : undefined;
      const set = await setForChecklist(prisma, actor.projectId, opening.id, asked);
      const visits = await visitsOfOpening(prisma, actor.projectId, opening.id);
      if (set === null) return reply.page('inspection/no-set.njk', { opening });
      const { statuses, photosBy } = await loadStatuses(actor, opening.id, set.setId, set.number);
      return reply.page('inspection/checklist.njk', {
        opening,
        set,
        visits,
        photosBy,
        holdPoints: holdPointStates(statuses),
        groups: visitKinds.map((kind) => ({
          kind,
          title: visitTitles[kind],
          statuses: statuses.filter((status) => status.visitKind === kind),
          open: visits.find((visit) => visit.kind === kind && visit.closing === null) ?? null,
        })),
        may: { open: roleMay(actor.role, 'visit.open'), answer: roleMay(actor.role, 'correction.answer') },
      });
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
      const kind = visitKinds.find((one) => one === typedFrom(request.body).kind);
      if (kind === undefined) throw new Refused('Choose which visit this is.');
      const { visitId } = await openVisit(deps, actor, { openingId: opening.id, kind });
      return reply.redirect(`/projects/${actor.projectId}/visits/${visitId}`, 303);
    },
  );

  async function visitPage(actor: Actor, reply: FastifyReply, visitId: string, form?: FormState) {
    const visit = await prisma.visit.findFirst({
      where: { id: idOr404(visitId), projectId: actor.projectId },
      include: { opening: true, closing: true, set: { select: { number: true, hash: true } } },
    });
    if (visit === null) throw new NotFound('That visit');
    const newest = await setForChecklist(prisma, actor.projectId, visit.openingId);
    const { statuses, photosBy } = await loadStatuses(actor, visit.openingId, visit.setId, visit.set.number);
    const own = statuses.filter((status) => status.visitKind === visit.kind || visit.kind === 'final');
    return reply.page('inspection/visit.njk', {
      visit,
      title: visitTitles[visit.kind],
      statuses: visit.closing === null ? inVisitOrder(own) : own,
      photosBy,
      outcomes,
      supersededBy: newest !== null && newest.number > visit.set.number ? newest.number : null,
      left: own.filter((status) => status.state === 'open').length,
      corrections: own.filter((status) => status.state === 'correction').length,
      // One key for each form as shown: a double tap or a resend is one finding.
      keyFor: Object.fromEntries(own.map((status) => [status.checkId, randomUUID()])),
      may: {
        record: roleMay(actor.role, 'finding.record'),
        answer: roleMay(actor.role, 'correction.answer'),
      },
      form: form ?? { values: { signedName: actor.name }, errors: {} },
    });
  }

  app.get<VisitPath>(
    '/projects/:projectId/visits/:visitId',
    { config: { access: 'visit.read' } },
    async (request, reply) => visitPage(actorOf(request), reply, request.params.visitId),
  );

  app.post<VisitPath>(
    '/projects/:projectId/visits/:visitId/findings',
    { config: { access: 'finding.record', csrfInStream: true }, bodyLimit: config.uploadLimitBytes * 21 },
    async (request, reply) => {
      const actor = actorOf(request);
      const { visitId } = request.params;
      const { fields, files } = await readUpload(app, request, reply, blobs, config.uploadLimitBytes);
      try {
        const result = results.find((one) => one === fields.result);
        const { checkId = '', clientKey = '', reason = '', location = '' } = fields;
        if (result === undefined || clientKey === '' || clientKey.length > 80)
          throw new Refused('Choose a result.');
        for (const file of files) await file.received.commit();
        await recordFinding(deps, actor, {
          visitId: idOr404(visitId),
          checkId: idOr404(checkId),
          clientKey,
          result,
          reason,
          location,
          files,
        });
        return await reply.redirect(`/projects/${actor.projectId}/visits/${visitId}#check-${checkId}`, 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        const { checkId = '' } = fields;
        const values = {
          [`reason.${checkId}`]: fields.reason ?? '',
          [`location.${checkId}`]: fields.location ?? '',
        };
        return await visitPage(actor, reply.status(422), visitId, { values, errors: error.fields });
      } finally {
        await Promise.all(files.map((file) => file.received.discard()));
      }
    },
  );

  app.post<VisitPath>(
    '/projects/:projectId/visits/:visitId/closing',
    { config: { access: 'visit.close' } },
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
    { config: { access: 'correction.answer', csrfInStream: true }, bodyLimit: config.uploadLimitBytes * 21 },
    async (request, reply) => {
      const actor = actorOf(request);
      const { fields, files } = await readUpload(app, request, reply, blobs, config.uploadLimitBytes);
      try {
        for (const file of files) await file.received.commit();
        const findingId = idOr404(request.params.findingId);
        await answerCorrection(deps, actor, { findingId, note: fields.note ?? '', files });
        reply.flash('The inspector sees that it is done.');
        return await reply.redirect(backTo(actor.projectId, fields.back), 303);
      } finally {
        await Promise.all(files.map((file) => file.received.discard()));
      }
    },
  );
}
