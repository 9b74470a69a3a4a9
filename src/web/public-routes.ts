import type { FastifyInstance } from 'fastify';
import type { Deps } from './deps.ts';

/** Pages and files that need nobody signed in. */
export async function publicRoutes(app: FastifyInstance, { prisma }: Deps): Promise<void> {
  app.get<{ Params: { '*': string } }>(
    '/assets/*',
    { config: { access: 'asset.read' } },
    async (request, reply) => reply.sendFile(request.params['*']),
  );

  app.get('/', { config: { access: 'home.read' } }, async (request, reply) => {
    if (request.person === null) return reply.page('web/welcome.njk');
    const memberships = await prisma.membership.findMany({
      where: { personId: request.person.personId, revokedAt: null },
      include: { project: true },
      orderBy: { createdAt: 'desc' },
    });
    return reply.page('web/home.njk', { memberships });
  });

  app.get('/health', { config: { access: 'health.read' } }, async (_request, reply) => {
    await prisma.$queryRaw`SELECT 1`;
    return reply.type('text/plain').send('ok\n');
  });
}
