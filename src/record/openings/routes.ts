import type { FastifyInstance } from 'fastify';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Conflict, NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { begunBy } from '../drafts/new-items.ts';
import { listItems } from '../items/list.ts';
import { answerQuestion, askQuestion, closeQuestion } from '../questions/service.ts';
import { recalculateItem, recalculateOpening } from '../recalculation/service.ts';
import { submitVersions } from '../submissions/service.ts';
import { cursorText } from '../time-cursor.ts';
import { backTo } from '../marks/routes.ts';
import { findOpening } from './find.ts';
import { openingQuery, readOpening, type AskedOpening } from './page.ts';

interface OpeningPath {
  Params: { openingId: string };
}

export async function openingRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  app.get<OpeningPath & { Querystring: AskedOpening }>(
    '/projects/:projectId/openings/:openingId',
    { config: { access: 'opening.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const openingId = idOr404(request.params.openingId);
      const asked = openingQuery.parse(request.query);
      const begun = roleMay(actor.role, 'item.create') ? await begunBy(deps, actor, openingId) : [];
      return reply.keptPage(JSON.stringify(begun), () => readOpening(deps, actor, openingId, asked, begun));
    },
  );

  /** All items of one kind of an opening, a page at a time. */
  app.get<{ Params: { openingId: string; kind: string }; Querystring: { after?: string } }>(
    '/projects/:projectId/openings/:openingId/items/:kind',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const opening = await findOpening(prisma, actor, request.params.openingId);
      const definition = deps.kinds.all.find(({ kind }) => kind === request.params.kind);
      if (definition === undefined) throw new NotFound('That list');
      const { kind, title } = definition;
      const after = cursorText.parse(request.query.after);
      const list = await listItems(deps, actor, {
        openingId: opening.id,
        kind,
        ...(after === undefined ? {} : { after }),
      });
      return reply.page('record/items.njk', { opening, kind, kindTitle: title, list });
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/submissions',
    {
      config: {
        access: 'submission.create',
        keepForm: ({ projectId = '', openingId = '' }) => `/projects/${projectId}/openings/${openingId}`,
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const opening = await findOpening(prisma, actor, request.params.openingId);
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
      const opening = await findOpening(prisma, actor, request.params.openingId);
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
