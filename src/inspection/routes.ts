import type { FastifyInstance, FastifyReply } from 'fastify';
import QRCode from 'qrcode';
import type { z } from 'zod';
import type { Actor } from '../actor.ts';
import { readUpload } from '../attachments/multipart.ts';
import { idOr404 } from '../people/routes.ts';
import { Invalid, NotFound, Refused } from '../problems.ts';
import { backTo } from '../record/marks/routes.ts';
import { findOpening } from '../record/openings/find.ts';
import type { Deps } from '../web/deps.ts';
import { typedFrom } from '../web/forms/read.ts';
import { actorOf } from '../web/plugins/access.ts';
import { acceptHoldPoint } from './acceptance/service.ts';
import { checklistPage, checklistQuery } from './checklist-page.ts';
import { visitPage, visitQuery } from './visit-page.ts';
import { findingBoxes, pageOfChecklist, pageOfVisit } from './kept-pages.ts';
import { outcomes } from './visits/outcomes.ts';
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

  app.get<OpeningPath & { Querystring: z.infer<typeof checklistQuery> & { set?: string } }>(
    '/projects/:projectId/openings/:openingId/checklist',
    { config: { access: 'checklist.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const asked = /^[1-9]\d{0,5}$/.test(request.query.set ?? '') ? Number(request.query.set) : undefined;
      const { visits, group, after } = checklistQuery.parse(request.query);
      return checklistPage(deps, actor, reply, { openingId, setNumber: asked, visits, group, after });
    },
  );

  /** The printed list's way back to the live one: a picture of its own, since pages carry no inline styles. */
  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId/checklist/code.svg',
    { config: { access: 'checklist.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { projectId } = actor;
      const opening = await findOpening(prisma, actor, request.params.openingId);
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
      const opening = await findOpening(prisma, actor, request.params.openingId);
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
        return checklistPage(deps, actor, reply.status(422), { openingId }, form);
      }
    },
  );

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
    if (visitId !== undefined) return visitPage(deps, actor, reply, visitId, { form });
    const finding = await prisma.finding.findFirst({
      where: { id: idOr404(findingId), projectId: actor.projectId },
      select: { visit: { select: { openingId: true } } },
    });
    if (finding === null) throw new NotFound('That correction');
    return checklistPage(deps, actor, reply, { openingId: finding.visit.openingId }, form);
  }

  app.get<VisitPath & { Querystring: z.infer<typeof visitQuery> }>(
    '/projects/:projectId/visits/:visitId',
    { config: { access: 'visit.read' } },
    async (request, reply) => {
      const asked = visitQuery.parse(request.query);
      return visitPage(deps, actorOf(request), reply, request.params.visitId, asked);
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
        if (!clientKeyForm.test(clientKey))
          throw new Refused(
            'This form can’t be told from another one. Open the page again, and send it from there.',
          );
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
        return await visitPage(deps, actor, reply.status(422), visitId, {
          form: { values: findingBoxes(fields), errors: { ...error.fields, ...again } },
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
        return visitPage(deps, actor, reply.status(422), visitId, {
          form: { values: typed, errors: error.fields },
        });
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
