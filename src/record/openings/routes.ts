import type { FastifyInstance } from 'fastify';
import { attachmentsOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Conflict, NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { standingsOfOpening } from '../items/standings.ts';
import { answerQuestion, askQuestion, closeQuestion } from '../questions/service.ts';
import { recalculateItem, recalculateOpening } from '../recalculation/service.ts';
import { pictureOfOpening } from '../pages/pictures.ts';
import { listSets } from '../sets/read.ts';
import { submitVersions } from '../submissions/service.ts';
import { asMember } from '../use-case.ts';
import { backTo } from '../marks/routes.ts';
import { nextSteps } from './next-steps.ts';

interface OpeningPath {
  Params: { openingId: string };
}

export async function openingRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  async function findOpening(projectId: string, openingId: string) {
    const opening = await prisma.opening.findFirst({ where: { id: idOr404(openingId), projectId } });
    if (opening === null) throw new NotFound('That opening');
    return opening;
  }

  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId',
    { config: { access: 'opening.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { projectId, role } = actor;
      const opening = await findOpening(projectId, request.params.openingId);
      const openingId = opening.id;
      const sets = await listSets(deps, actor, { openingId });
      const attachments = await attachmentsOf(prisma, projectId, role, 'opening', [openingId]);
      if (!roleMay(role, 'item.read')) {
        return reply.page('record/opening-brief.njk', { opening, sets, attachments });
      }
      const standings = await asMember(deps, actor, 'item.read', (tx) =>
        standingsOfOpening(tx, deps.kinds, projectId, openingId),
      );
      const criteria = await prisma.item.findFirst({
        where: { projectId, kind: 'criteria' },
        select: { id: true },
      });
      const kinds = deps.kinds.all.filter((definition) => definition.kind !== 'criteria');
      return reply.page('record/opening.njk', {
        opening,
        sets,
        attachments,
        standings,
        picture: await pictureOfOpening(deps, projectId, openingId),
        groups: kinds.map(({ kind, title, reviewable }) => ({
          kind,
          title,
          reviewable,
          hasForm: deps.forms.has(kind),
          items: standings.filter(({ facts }) => facts.kind === kind),
        })),
        steps: nextSteps(role, criteria !== null, standings, sets[0]?.number ?? 0),
        unsubmitted: standings.filter(({ state }) => state.is === 'not submitted'),
        toMark: standings.filter(({ state }) => state.is === 'awaiting mark' || state.is === 'withdrawn')
          .length,
        staleItems: standings.filter(({ stale }) => stale.length > 0),
        may: {
          create: roleMay(role, 'item.create'),
          submit: roleMay(role, 'submission.create'),
          mark: roleMay(role, 'mark.create'),
          issue: roleMay(role, 'set.issue'),
          share: roleMay(role, 'attachment.share'),
        },
      });
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/submissions',
    { config: { access: 'submission.create' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const opening = await findOpening(actor.projectId, request.params.openingId);
      const typed = typedFrom(request.body);
      const back = `/projects/${actor.projectId}/openings/${opening.id}`;
      const shown = Object.entries(typed).flatMap(([name, versionId]) =>
        name.startsWith('shown.') ? [{ itemId: name.slice(6), versionId }] : [],
      );
      try {
        const { versions, number } = await submitVersions(deps, actor, {
          openingId: opening.id,
          note: typed.note ?? '',
          ...(shown.length === 0 ? {} : { shown }),
        });
        const count = versions.length === 1 ? '1 item' : `${versions.length} items`;
        reply.flash(`Submission ${number}: ${count} handed to the engineer.`);
      } catch (error) {
        // Nothing typed is lost but the note; the list on the page shows how things stand now.
        if (!(error instanceof Refused) && !(error instanceof Conflict)) throw error;
        reply.flash(error.message);
      }
      return reply.redirect(back, 303);
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/recalculation',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const opening = await findOpening(actor.projectId, request.params.openingId);
      const done = await recalculateOpening(deps, actor, { openingId: opening.id });
      return reply.page('record/recalculated.njk', { opening, done });
    },
  );

  app.post<{ Params: { itemId: string } }>(
    '/projects/:projectId/items/:itemId/recalculation',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { itemId } = request.params;
      const { sentence } = await recalculateItem(deps, actor, { itemId });
      reply.flash(sentence);
      return reply.redirect(`/projects/${actor.projectId}/items/${itemId}`, 303);
    },
  );

  app.post<{ Params: { itemId: string } }>(
    '/projects/:projectId/items/:itemId/questions',
    {
      config: {
        access: 'question.create',
        keepForm: ({ projectId = '', itemId = '' }) => `/projects/${projectId}/items/${itemId}`,
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { itemId } = request.params;
      const typed = typedFrom(request.body);
      const version = typed.versionId;
      await askQuestion(deps, actor, {
        itemId,
        text: typed.text ?? '',
        ...(version === undefined ? {} : { versionId: version }),
      });
      reply.flash('The question is asked.');
      return reply.redirect(`/projects/${actor.projectId}/items/${itemId}#questions`, 303);
    },
  );

  app.post<{ Params: { threadId: string } }>(
    '/projects/:projectId/questions/:threadId/answers',
    {
      config: {
        access: 'question.create',
        keepForm: ({ projectId = '' }, { back }) => backTo(projectId, back),
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { threadId } = request.params;
      const typed = typedFrom(request.body);
      const text = typed.text ?? '';
      if (typed.do === 'close') await closeQuestion(deps, actor, { threadId, text });
      else await answerQuestion(deps, actor, { threadId, text });
      return reply.redirect(backTo(actor.projectId, typed.back), 303);
    },
  );
}
