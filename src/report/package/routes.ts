import { PassThrough } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import { dayOf } from '../../house-time.ts';
import { Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { writePackage } from './write.ts';

/**
 * The whole record of a project, streamed as it is made: nothing of it is held. A package that can't be finished breaks
 * off, so that no program takes it for a whole one.
 */
export async function packageRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get(
    '/projects/:projectId/record.zip',
    // Each one reads the whole record and every file of it.
    { config: { access: 'record.take', rateLimit: { max: 20, timeWindow: '10 minutes' } } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { projectId } = actor;
      if (deps.databaseUrl === null)
        throw new Refused('This installation can’t write packages from its pages.');
      const { name, timeZone } = await deps.prisma.project.findUniqueOrThrow({
        where: { id: projectId },
        select: { name: true, timeZone: true },
      });
      const order = { databaseUrl: deps.databaseUrl, projectId, projectName: name, actor };
      const out = new PassThrough();
      void writePackage(deps, order, out).catch((error: unknown) => {
        request.log.error({ err: error, projectId }, 'a package was not finished');
        out.destroy(error instanceof Error ? error : new Error('The package was not finished.'));
      });
      const day = dayOf(deps.clock(), timeZone);
      return reply
        .type('application/zip')
        .header('content-disposition', `attachment; filename="record-${day}.zip"`)
        .header('cache-control', 'private, no-store')
        .header('x-content-type-options', 'nosniff')
        .send(out);
    },
  );
}
