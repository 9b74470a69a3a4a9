import type { FastifyInstance } from 'fastify';
import { roleMay } from '../../people/permissions.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { offerSubstitution, trySubstitution } from './substitution.ts';

interface LinePath {
  Params: { lineId: string };
}

/** What the yard sent instead, tried against the approved design, and offered to the engineer. */
export async function substitutionRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<LinePath>(
    '/projects/:projectId/delivery-lines/:lineId/substitution',
    { config: { access: 'substitution.try' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const offer = await trySubstitution(deps, actor, { deliveryLineId: request.params.lineId });
      return reply.page('site/deliveries/substitution.njk', {
        offer,
        opening: offer.state.materials,
        tried: offer.tried,
        may: { offer: roleMay(actor.role, 'substitution.offer') && offer.items.length > 0 },
      });
    },
  );

  app.post<LinePath>(
    '/projects/:projectId/delivery-lines/:lineId/substitution',
    { config: { access: 'substitution.offer' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId, made } = await offerSubstitution(deps, actor, {
        deliveryLineId: request.params.lineId,
      });
      reply.flash(
        `${made.join('; ')}: started as a substitution. Recalculate what rests on it, then submit it to the engineer. Nothing is built with it before a set says so.`,
      );
      return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}`, 303);
    },
  );
}
