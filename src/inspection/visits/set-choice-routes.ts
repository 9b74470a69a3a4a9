import type { FastifyInstance } from 'fastify';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { chooseSet } from './choose-set.ts';

/** The inspector's choice where a set was issued during the visit. */
export async function setChoiceRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.post<{ Params: { visitId: string } }>(
    '/projects/:projectId/visits/:visitId/set-choice',
    { config: { access: 'finding.record' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const visitId = idOr404(request.params.visitId);
      const { setNumber = '', choice = '' } = typedFrom(request.body);
      const goesOn = choice === 'go on';
      await chooseSet(deps, actor, { visitId, setNumber: Number(setNumber), goesOn });
      reply.flash(
        goesOn
          ? `The visit goes on with set ${setNumber}. What did not change keeps its findings.`
          : 'The visit is brought to its end against the set it was begun with.',
      );
      return reply.redirect(`/projects/${actor.projectId}/visits/${visitId}#left`, 303);
    },
  );
}
