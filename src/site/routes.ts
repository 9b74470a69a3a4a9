import type { FastifyInstance } from 'fastify';
import { attachmentsOf } from '../attachments/store.ts';
import { idOr404 } from '../people/routes.ts';
import { NotFound } from '../problems.ts';
import { standingsOfOpening } from '../record/items/standings.ts';
import { listSets } from '../record/sets/read.ts';
import { asMember } from '../record/use-case.ts';
import { checkStatuses } from '../inspection/status.ts';
import { checksOfSet, findingsOfOpening, visitsOfOpening } from '../inspection/store.ts';
import type { Deps } from '../web/deps.ts';
import { actorOf } from '../web/plugins/access.ts';
import { progressStages } from './progress.ts';
import { serviceRoutes } from './services/routes.ts';

export async function siteRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;
  await app.register(serviceRoutes, deps);

  app.get<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/progress',
    { config: { access: 'progress.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { projectId } = actor;
      const opening = await prisma.opening.findFirst({
        where: { id: idOr404(request.params.openingId), projectId },
      });
      if (opening === null) throw new NotFound('That opening');
      const openingId = opening.id;
      const standings = await asMember(deps, actor, 'progress.read', (tx) =>
        standingsOfOpening(tx, deps.kinds, projectId, openingId),
      );
      const [set] = await listSets(deps, actor, { openingId });
      const visits = await visitsOfOpening(prisma, projectId, openingId);
      const statuses =
        set === undefined
          ? []
          : checkStatuses(
              set.number,
              await checksOfSet(prisma, set.setId),
              await findingsOfOpening(prisma, projectId, openingId),
            );
      const photos = await attachmentsOf(prisma, projectId, 'owner', 'opening', [openingId]);
      return reply.page('site/progress.njk', {
        opening,
        set,
        visits: visits.filter((visit) => visit.closing !== null),
        photos,
        stages: progressStages({
          standings,
          setNumber: set?.number ?? 0,
          setGaps: set?.content.gaps.length ?? 0,
          statuses,
          visitsClosed: visits.filter((visit) => visit.closing !== null).length,
        }),
      });
    },
  );
}
