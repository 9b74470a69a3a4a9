import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Beam } from '../../engineering/proposal/design.ts';
import { galleryOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Conflict, NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import type { ReadPage } from '../../web/plugins/views.ts';
import type { Actor } from '../../actor.ts';
import { begunBy, type Begun } from '../drafts/new-items.ts';
import { listItems } from '../items/list.ts';
import { answerQuestion, askQuestion, closeQuestion } from '../questions/service.ts';
import { recalculateItem, recalculateOpening } from '../recalculation/service.ts';
import { workOutOfOrder } from '../out-of-order.ts';
import { pictureOfOpening } from '../pages/pictures.ts';
import { listSetHeads } from '../sets/read.ts';
import { submitVersions } from '../submissions/service.ts';
import { cursorText, readNumberCursor } from '../time-cursor.ts';
import { newestContents } from '../versions/newest-contents.ts';
import { backTo } from '../marks/routes.ts';
import { findOpening } from './find.ts';
import { nextSteps } from './next-steps.ts';
import { readOverview, type StateCounts } from './overview.ts';

/** Where the page's own lists go on. */
const pageQuery = z.object({ files: cursorText, before: cursorText });

interface OpeningPath {
  Params: { openingId: string };
}

export async function openingRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  app.get<OpeningPath & { Querystring: z.infer<typeof pageQuery> }>(
    '/projects/:projectId/openings/:openingId',
    { config: { access: 'opening.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const openingId = idOr404(request.params.openingId);
      const asked = pageQuery.parse(request.query);
      const begun = roleMay(actor.role, 'item.create') ? await begunBy(deps, actor, openingId) : [];
      return reply.keptPage(JSON.stringify(begun), () => readOpening(actor, openingId, asked, begun));
    },
  );

  async function readOpening(
    actor: Actor,
    openingId: string,
    { files, before }: z.infer<typeof pageQuery>,
    begun: readonly Begun[],
  ): Promise<ReadPage> {
    const { projectId, role } = actor;
    const opening = await findOpening(prisma, projectId, openingId);
    const heads = await listSetHeads(deps, actor, {
      openingId,
      before: before === undefined ? null : readNumberCursor(before),
    });
    const gallery = await galleryOf(prisma, actor, 'opening', openingId, files);
    if (!roleMay(role, 'item.read')) {
      return { template: 'record/opening-brief.njk', data: { opening, heads, gallery } };
    }
    const overview = await readOverview(deps, actor, openingId);
    const criteria = await prisma.item.findFirst({
      where: { projectId, kind: 'criteria' },
      select: { id: true },
    });
    const kinds = deps.kinds.all.filter((definition) => definition.kind !== 'criteria');
    const data = {
      opening,
      heads,
      gallery,
      picture: await pictureOfOpening(deps, projectId, openingId),
      groups: kinds.map(({ kind, title, reviewable }) => ({
        kind,
        title,
        reviewable,
        hasForm: deps.forms.has(kind),
        ...overview.ofKind(kind),
      })),
      steps: nextSteps(
        role,
        openingId,
        {
          hasCriteria: criteria !== null,
          beamIsFlush: await beamIsFlush(projectId, openingId, overview.counts),
          newestSet: heads.newestNumber,
          returned: kinds
            .flatMap(({ kind }) => overview.ofKind(kind).items)
            .filter(({ state }) => state.is === 'returned')
            .map(({ facts }) => ({ itemId: facts.itemId, title: facts.title })),
        },
        overview.counts,
      ),
      unsubmitted: overview.unsubmitted,
      unsubmittedCount: overview.counts.of('not submitted'),
      toMark: overview.counts.of('awaiting mark', 'withdrawn'),
      stale: overview.stale,
      outOfOrder: await workOutOfOrder(prisma, projectId, openingId),
      begun: begun.map((one) => ({ ...one, title: deps.kinds.get(one.kind).title })),
      may: {
        create: roleMay(role, 'item.create'),
        submit: roleMay(role, 'submission.create'),
        mark: roleMay(role, 'mark.create'),
        issue: roleMay(role, 'set.issue'),
        share: roleMay(role, 'attachment.share'),
      },
    };
    return { template: 'record/opening.njk', data };
  }

  /** Asked only while hangers are what may come next. */
  async function beamIsFlush(projectId: string, openingId: string, { has }: StateCounts): Promise<boolean> {
    if (has('hanger') || !has('footing')) return false;
    const [beam] = (await newestContents(prisma, projectId, openingId, ['beam'])).get('beam') ?? [];
    return (beam as Beam | undefined)?.placement === 'flush';
  }

  /** All items of one kind of an opening, a page at a time. */
  app.get<{ Params: { openingId: string; kind: string }; Querystring: { after?: string } }>(
    '/projects/:projectId/openings/:openingId/items/:kind',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const opening = await findOpening(prisma, actor.projectId, request.params.openingId);
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
      const opening = await findOpening(prisma, actor.projectId, request.params.openingId);
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
      const opening = await findOpening(prisma, actor.projectId, request.params.openingId);
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
