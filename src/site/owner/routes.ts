import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Invalid } from '../../problems.ts';
import { cursorText } from '../../record/time-cursor.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import type { ReadPage } from '../../web/plugins/views.ts';
import { makeFamilyLink, openLinks, revokeFamilyLink } from './family-links.ts';
import { ownersMattersOf } from './decisions.ts';
import { readOwnersPage } from './read.ts';
import { sayOnOwnersPage } from './words.ts';

interface OpeningPath {
  Params: { openingId: string };
}

interface Shown {
  readonly form?: FormState;
  readonly madeLink?: { readonly url: string; readonly expiresAt: Date };
}

const pageOfProgress = ({ projectId = '', openingId = '' }) =>
  `/projects/${projectId}/openings/${openingId}/progress`;

/** The box of the thread, as the page names it. */
const textBox = (threadId: string) => (threadId === '' ? 'text' : `text.${threadId}`);

/** The owner's page of an opening. Everybody in the project sees what the owner sees; the threads are for two. */
export async function ownerRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  async function show(reply: FastifyReply, actor: Actor, openingId: string, shown: Shown = {}) {
    const { template, data } = await read(actor, openingId);
    return reply.page(template, { ...data, ...shown });
  }

  /** @param photosAfter the `next` of the photos before */
  async function read(actor: Actor, openingId: string, photosAfter?: string): Promise<ReadPage> {
    const { projectId, role } = actor;
    const known = idOr404(openingId);
    const mayLink = roleMay(role, 'family.manage');
    const [page, matters, links] = await Promise.all([
      readOwnersPage(deps, actor, known, photosAfter),
      ownersMattersOf(prisma, role, projectId, known),
      mayLink ? openLinks(prisma, projectId, known, deps.clock()) : [],
    ]);
    const data = { page, maySay: matters !== null, ...matters, mayLink, openLinks: links };
    return { template: 'site/owner.njk', data };
  }

  app.get<OpeningPath & { Querystring: { files?: string } }>(
    '/projects/:projectId/openings/:openingId/progress',
    { config: { access: 'progress.read' } },
    (request, reply) => {
      const photosAfter = cursorText.parse(request.query.files);
      return reply.keptPage('', () => read(actorOf(request), request.params.openingId, photosAfter));
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/owner-words',
    {
      config: {
        access: 'owner.say',
        keepForm: pageOfProgress,
        keepBoxes: (_params, { threadId = '', text = '' }) => ({ [textBox(threadId)]: text }),
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      const { text = '', threadId = '' } = typed;
      try {
        await sayOnOwnersPage(deps, actor, { openingId, threadId: threadId === '' ? null : threadId, text });
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        // Back in the box where it was typed.
        const box = textBox(threadId);
        const form = { values: { [box]: text }, errors: { [box]: error.fields.text ?? '' } };
        return show(reply.status(422), actor, openingId, { form });
      }
      reply.flash('It is sent.');
      return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/progress`, 303);
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/family-links',
    { config: { access: 'family.manage', keepForm: pageOfProgress } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const { label = '' } = typedFrom(request.body);
      try {
        const { token, expiresAt } = await makeFamilyLink(deps, actor, { openingId, label });
        // Shown once, on this page alone: only its hash is kept.
        const url = `${deps.config.publicUrl}/shared/${token}`;
        return await show(reply, actor, openingId, { madeLink: { url, expiresAt } });
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        const form = { values: { label }, errors: error.fields };
        return show(reply.status(422), actor, openingId, { form });
      }
    },
  );

  app.post<{ Params: { openingId: string; familyLinkId: string } }>(
    '/projects/:projectId/openings/:openingId/family-links/:familyLinkId/revocation',
    { config: { access: 'family.manage' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId, familyLinkId } = request.params;
      await revokeFamilyLink(deps, actor, { familyLinkId });
      reply.flash('The link is taken back and leads nowhere now.');
      return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/progress`, 303);
    },
  );
}
