import type { FastifyInstance } from 'fastify';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { deliverFindings, OutOfOrder } from './deliver.ts';
import { deliverySchema } from './schemas.ts';

interface VisitPath {
  Params: { visitId: string };
}
const LARGEST_DELIVERY_BYTES = 1024 * 1024;

/** What a phone kept on site comes in here, when there is a network again. JSON in, JSON out. */
export async function phoneFindingRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.post<VisitPath>(
    '/projects/:projectId/visits/:visitId/phone-findings',
    { config: { access: 'finding.record' }, bodyLimit: LARGEST_DELIVERY_BYTES },
    async (request, reply) => {
      const actor = actorOf(request);
      const visitId = idOr404(request.params.visitId);
      reply.header('cache-control', 'no-store');
      const parsed = deliverySchema.safeParse(request.body);
      if (!parsed.success) {
        return reply.status(422).send({ sentence: parsed.error.issues[0]?.message ?? 'Nothing to take in.' });
      }
      try {
        return await reply.send({
          findings: await deliverFindings(deps, actor, { visitId, ...parsed.data }),
        });
      } catch (error) {
        if (!(error instanceof OutOfOrder)) throw error;
        return reply.status(409).send({ sentence: error.message });
      }
    },
  );
}
