import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { attachmentsOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Invalid, Refused } from '../../problems.ts';
import { backTo } from '../../record/marks/routes.ts';
import { findOpening } from '../../record/openings/find.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { decisions, outcomes, wordTexts } from './rules.ts';
import { listSalvage, sayOfSalvage } from './service.ts';
import { salvageOfOpening } from './store.ts';

const pageOfSalvage = ({ projectId = '', openingId = '' }) =>
  `/projects/${projectId}/openings/${openingId}/salvage`;

/** What comes out of the wall and can be used again or given away: listed by the contractor, decided by the owner. */
export async function salvageRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  async function page(
    actor: Actor,
    reply: FastifyReply,
    id: string,
    form: FormState = { values: {}, errors: {} },
  ) {
    const { projectId, role } = actor;
    const opening = await findOpening(prisma, actor, id);
    const rows = await salvageOfOpening(prisma, projectId, opening.id);
    const photos = await attachmentsOf(
      prisma,
      projectId,
      role,
      'salvage_line',
      rows.map(({ salvageLineId }) => salvageLineId),
    );
    return reply.page('site/salvage.njk', {
      opening,
      rows: rows.map((row) => ({
        ...row,
        photos: photos.filter(({ subjectId }) => subjectId === row.salvageLineId),
      })),
      wordTexts,
      decisions: decisions.map((word) => ({ word, text: wordTexts[word] })),
      may: {
        list: roleMay(role, 'salvage.list'),
        decide: roleMay(role, 'salvage.decide'),
        add: roleMay(role, 'attachment.add'),
        share: roleMay(role, 'attachment.share'),
      },
      form,
    });
  }

  app.get<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/salvage',
    { config: { access: 'salvage.read' } },
    async (request, reply) => page(actorOf(request), reply, request.params.openingId),
  );

  app.post<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/salvage',
    { config: { access: 'salvage.list', keepForm: pageOfSalvage } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      const { what = '', howMany = '', condition = '', keptAt = '' } = typed;
      try {
        await listSalvage(deps, actor, { openingId, what, howMany, condition, keptAt });
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        return page(actor, reply.status(422), openingId, { values: typed, errors: error.fields });
      }
      reply.flash('Listed. The owner is asked.');
      return reply.redirect(`/projects/${actor.projectId}/openings/${idOr404(openingId)}/salvage`, 303);
    },
  );

  /** The owner decides; the contractor says what became of it: the same act under two permissions. */
  for (const { path, access, words } of [
    { path: 'decision', access: 'salvage.decide', words: decisions },
    { path: 'outcome', access: 'salvage.list', words: outcomes },
  ] as const) {
    app.post<{ Params: { salvageLineId: string } }>(
      `/projects/:projectId/salvage/:salvageLineId/${path}`,
      {
        config: {
          access,
          keepForm: ({ projectId = '' }, { back }) => backTo(projectId, back),
          keepBoxes: ({ salvageLineId = '' }, { note = '' }) => ({ [`note.${salvageLineId}`]: note }),
        },
      },
      async (request, reply) => {
        const actor = actorOf(request);
        const { salvageLineId } = request.params;
        const typed = typedFrom(request.body);
        const word = words.find((one) => one === typed.word);
        if (word === undefined) throw new Refused('Press one of the buttons.');
        const { openingId } = await sayOfSalvage(deps, actor, {
          salvageLineId,
          word,
          note: typed.note ?? '',
        });
        reply.flash('Noted.');
        return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/salvage`, 303);
      },
    );
  }
}
