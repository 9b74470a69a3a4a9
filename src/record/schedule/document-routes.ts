import type { FastifyInstance } from 'fastify';
import { PROVISIONS } from '../../engineering/fasteners/index.ts';
import { roleMay } from '../../people/permissions.ts';
import { NotFound } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { knownId } from '../identifier.ts';
import { listSetHeads } from '../sets/read.ts';
import { readSchedule, readSetSchedule } from './read.ts';
import { exportSchedule } from './import.ts';

/** The schedule as a document, as a file, and what of the standards stands behind it. */
export async function scheduleDocumentRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<{ Params: { openingId: string }; Querystring: { drawings?: string } }>(
    '/projects/:projectId/openings/:openingId/schedule',
    { config: { access: 'opening.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const openingId = knownId(request.params.openingId, 'That opening');
      if (!roleMay(actor.role, 'item.read')) {
        // Who builds and inspects by sets is led to the one in force.
        const {
          sets: [newest],
        } = await listSetHeads(deps, actor, { openingId, before: null });
        if (newest === undefined) throw new NotFound('A schedule of an issued set');
        return reply.redirect(`/projects/${actor.projectId}/sets/${newest.setId}/schedule`, 303);
      }
      return reply.keptPage('', async () => {
        const { opening, rows } = await readSchedule(deps, actor, { openingId });
        const head = await deps.prisma.project.findUniqueOrThrow({ where: { id: actor.projectId } });
        const data = {
          opening,
          rows,
          head,
          withDrawings: request.query.drawings !== 'no',
          may: { propose: roleMay(actor.role, 'schedule.propose') },
        };
        return { template: 'schedule/document.njk', data };
      });
    },
  );

  app.get<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/schedule.csv',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const { openingId } = request.params;
      const { opening, there } = await readSchedule(deps, actorOf(request), { openingId });
      return reply
        .type('text/csv; charset=utf-8; header=present')
        .header('content-disposition', `attachment; filename="schedule-opening-${opening.ordinal}.csv"`)
        .header('cache-control', 'no-store')
        .header('x-content-type-options', 'nosniff')
        .send(exportSchedule(there));
    },
  );

  app.get<{ Params: { setId: string }; Querystring: { drawings?: string } }>(
    '/projects/:projectId/sets/:setId/schedule',
    { config: { access: 'set.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      return reply.keptPage('', async () => {
        const found = await readSetSchedule(deps, actor, { setId: request.params.setId });
        if (found === null) throw new NotFound('That set');
        const data = {
          ...found,
          withDrawings: request.query.drawings !== 'no',
          // As on the pages of a set: the owner reads what is built, not the arithmetic behind it.
          withResults: actor.role !== 'owner',
        };
        return { template: 'schedule/of-set.njk', data };
      });
    },
  );

  app.get('/provisions', { config: { access: 'page.public' } }, async (_request, reply) =>
    reply.page('schedule/provisions.njk', { provisions: PROVISIONS }),
  );
}
