import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { idOr404 } from '../../people/routes.ts';
import { Invalid, NotFound } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { visitName } from '../plan/plan.ts';
import { planOf } from '../plan/store.ts';
import { selfCheckWords } from './rules.ts';
import { answerSelfCheck, callForVisit, openCalls, readSelfCheck } from './service.ts';

interface Path {
  Params: { openingId: string; visitKey: string };
}

const pageOfSelfCheck = ({ projectId = '', openingId = '', visitKey = '' }) =>
  `/projects/${projectId}/openings/${openingId}/self-check/${encodeURIComponent(visitKey)}`;

/** The contractor's own look before calling for an inspection, kept apart from the inspector's findings. */
export async function selfCheckRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  async function page(
    { projectId }: Actor,
    reply: FastifyReply,
    { openingId: id, visitKey }: Path['Params'],
    form: FormState = { values: {}, errors: {} },
  ) {
    const opening = await prisma.opening.findFirst({ where: { id: idOr404(id), projectId } });
    const plan = await planOf(prisma, projectId);
    if (opening === null || plan.visits.find(({ key }) => key === visitKey)?.on !== true) {
      throw new NotFound('That inspection');
    }
    const own = await readSelfCheck(prisma, projectId, opening.id, visitKey);
    if (own === null) return reply.page('inspection/no-set.njk', { opening, asked: undefined });
    const left = own.statuses.filter(({ look }) => look === null).length;
    const open = own.statuses.filter(({ look }) => look?.word === 'not_ready').length;
    const calls = await openCalls(prisma, projectId, opening.id);
    return reply.page('inspection/self-check.njk', {
      opening,
      visitKey,
      title: visitName(plan, visitKey),
      set: own.set,
      left,
      open,
      called: calls[visitKey] ?? null,
      statuses: [...own.statuses].sort((one, other) => rank(one.look?.word) - rank(other.look?.word)),
      form,
    });
  }

  app.get<Path>(
    '/projects/:projectId/openings/:openingId/self-check/:visitKey',
    { config: { access: 'self_check.answer' } },
    async (request, reply) => page(actorOf(request), reply, request.params),
  );

  app.post<Path>(
    '/projects/:projectId/openings/:openingId/self-check/:visitKey',
    {
      config: {
        access: 'self_check.answer',
        keepForm: pageOfSelfCheck,
        keepBoxes: (_params, { checkId = '', note = '' }) => ({ [`note.${checkId}`]: note }),
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const checkId = idOr404(typed.checkId ?? '');
      try {
        const word = selfCheckWords.find((one) => one === typed.word);
        if (word === undefined)
          throw new Invalid({ [`note.${checkId}`]: 'Press Ready, Not ready or Does not apply.' });
        await answerSelfCheck(deps, actor, { checkId, word, note: typed.note ?? '' });
        const { openingId, visitKey } = request.params;
        const back = `/projects/${actor.projectId}/openings/${idOr404(openingId)}/self-check/${encodeURIComponent(visitKey)}`;
        return await reply.redirect(`${back}#left`, 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        const form = { values: { [`note.${checkId}`]: typed.note ?? '' }, errors: error.fields };
        return page(actor, reply.status(422), request.params, form);
      }
    },
  );

  app.post<Path>(
    '/projects/:projectId/openings/:openingId/self-check/:visitKey/call',
    { config: { access: 'visit.call', keepForm: pageOfSelfCheck } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const openingId = idOr404(request.params.openingId);
      try {
        await callForVisit(deps, actor, {
          openingId,
          visitKey: request.params.visitKey,
          note: typed.note ?? '',
          share: typed.share === 'yes',
        });
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        return page(actor, reply.status(422), request.params, { values: typed, errors: error.fields });
      }
      reply.flash('The inspector is told.');
      return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/checklist`, 303);
    },
  );
}

/** What nobody looked at comes first, then what is not ready. */
function rank(word: string | undefined): number {
  if (word === undefined) return 0;
  return word === 'not_ready' ? 1 : 2;
}
