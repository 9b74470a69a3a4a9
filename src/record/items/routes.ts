import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import { attachmentsOf, bySubject, filesByObservation, galleryOf } from '../../attachments/store.ts';
import type { Actor } from '../../actor.ts';
import { roleMay } from '../../people/permissions.ts';
import { NotFound } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import type { ReadPage } from '../../web/plugins/views.ts';
import { findOpening } from '../openings/find.ts';
import { calculationView } from '../pages/calculation-view.ts';
import { picturesOfVersion } from '../pages/pictures.ts';
import { readThreads } from '../questions/service.ts';
import { cursorText } from '../time-cursor.ts';
import { compareVersions, readHistory, readItem, readVersion } from '../versions/read.ts';

/** Where the page's own lists go on. */
const pageQuery = z.object({ files: cursorText, questions: cursorText });

interface ItemPath {
  Params: { itemId: string };
}

/** An item as it stands, its history and any two versions side by side. */
export async function itemRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<ItemPath & { Querystring: z.infer<typeof pageQuery> }>(
    '/projects/:projectId/items/:itemId',
    { config: { access: 'item.read' } },
    (request, reply) =>
      reply.keptPage('', () =>
        readItemPage(actorOf(request), reply, request.params.itemId, pageQuery.parse(request.query)),
      ),
  );

  async function readItemPage(
    actor: Actor,
    reply: FastifyReply,
    itemId: string,
    { files, questions }: z.infer<typeof pageQuery>,
  ): Promise<ReadPage> {
    const shown = await readItem(deps, actor, { itemId });
    const { item, newest } = shown;
    const [history, asked, gallery, opening] = await Promise.all([
      readHistory(deps, actor, { itemId, limit: 20 }),
      readThreads(deps, actor, { itemId, ...(questions === undefined ? {} : { after: questions }) }),
      galleryOf(deps.prisma, actor, 'item', item.itemId, files),
      item.openingId === null ? null : findOpening(deps.prisma, actor, item.openingId),
    ]);
    const { threads } = asked;
    const definition = deps.kinds.get(item.kind);
    const observations = newest === null ? [] : (definition.observations?.(newest.content) ?? []);
    const filesOf = (subject: 'version' | 'question', ids: readonly string[]) =>
      attachmentsOf(deps.prisma, actor.projectId, actor.role, subject, ids);
    const [pictures, versionAttachments, questionAttachments] = await Promise.all([
      newest === null ? [] : picturesOfVersion(deps, actor.projectId, item.kind, newest),
      filesOf('version', newest === null ? [] : [newest.versionId]),
      filesOf(
        'question',
        threads.map((thread) => thread.threadId),
      ),
    ]);
    const data = {
      ...shown,
      byObservation: filesByObservation(observations, gallery.files),
      opening,
      kindTitle: definition.title,
      reviewable: definition.reviewable,
      lines: newest === null ? [] : definition.describe(newest.content),
      calculation: newest === null ? null : calculationView(newest.calculation),
      pictures,
      versions: history.versions,
      threads,
      furtherThreads: asked.next,
      attachments: gallery.files.filter(({ part }) => part === ''),
      furtherFiles: gallery.next,
      kept: await reply.takeKept(),
      versionAttachments,
      attachChoices: [
        { value: `item ${item.itemId}`, text: item.title },
        ...observations.map(({ id, label }) => ({ value: `item ${item.itemId} ${id}`, text: label })),
        ...(newest === null
          ? []
          : [{ value: `version ${newest.versionId}`, text: `Version ${newest.number} of it` }]),
        ...threads
          .filter((thread) => thread.open)
          .map(({ threadId, question }) => ({
            value: `question ${threadId}`,
            text: `The question “${question.text.slice(0, 60)}”`,
          })),
      ],
      questionAttachments: bySubject(questionAttachments),
      may: {
        save: roleMay(actor.role, 'item.save'),
        mark: roleMay(actor.role, 'mark.create'),
        share: roleMay(actor.role, 'attachment.share'),
      },
    };
    return { template: 'record/item.njk', data };
  }

  app.get<ItemPath & { Querystring: { before?: string } }>(
    '/projects/:projectId/items/:itemId/history',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const { itemId } = request.params;
      const before = Number(request.query.before);
      const cut = Number.isInteger(before) && before > 0 ? { before } : {};
      return reply.page('record/history.njk', await readHistory(deps, actorOf(request), { itemId, ...cut }));
    },
  );

  app.get<{ Params: { itemId: string; number: string } }>(
    '/projects/:projectId/items/:itemId/versions/:number',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const { itemId, number } = request.params;
      if (!/^[1-9]\d{0,8}$/.test(number)) throw new NotFound('That version');
      const actor = actorOf(request);
      const shown = await readVersion(deps, actor, { itemId, number: Number(number) });
      const definition = deps.kinds.get(shown.item.kind);
      return reply.page('record/version.njk', {
        ...shown,
        attachments: await attachmentsOf(deps.prisma, actor.projectId, actor.role, 'version', [
          shown.version.versionId,
        ]),
        mayShare: roleMay(actor.role, 'attachment.share'),
        kindTitle: definition.title,
        lines: definition.describe(shown.version.content),
        calculation: calculationView(shown.version.calculation),
        pictures: await picturesOfVersion(deps, actor.projectId, shown.item.kind, shown.version),
      });
    },
  );

  app.get<ItemPath & { Querystring: { was?: string; now?: string } }>(
    '/projects/:projectId/items/:itemId/compare',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const [was, now] = [Number(request.query.was), Number(request.query.now)];
      if (![was, now].every((number) => Number.isInteger(number) && number > 0))
        throw new NotFound('That version');
      const { itemId } = request.params;
      return reply.page(
        'record/compare.njk',
        await compareVersions(deps, actorOf(request), { itemId, was, now }),
      );
    },
  );
}
