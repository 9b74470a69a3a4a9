import type { FastifyInstance } from 'fastify';
import { componentsSample } from './components-sample.ts';
import type { Deps } from './deps.ts';
import { isStyleSheet, styleSheet } from './served-assets.ts';

/** Pages and files that need nobody signed in. */
export async function publicRoutes(app: FastifyInstance, { prisma, config }: Deps): Promise<void> {
  app.get<{ Params: { '*': string } }>(
    '/assets/*',
    { config: { access: 'asset.read' } },
    async (request, reply) => {
      const address = `/assets/${request.params['*']}`;
      if (!isStyleSheet(address)) return reply.sendFile(request.params['*']);
      // A page from before an upgrade gets the sheet of today, which it may not keep under the old name.
      const lasts = address === styleSheet.address;
      return reply
        .type('text/css; charset=utf-8')
        .header('cache-control', lasts ? 'public, max-age=31536000, immutable' : 'no-cache')
        .send(styleSheet.text);
    },
  );

  /** The living page of all parts and their states, for whoever builds a page: nobody needs it in production. */
  if (!config.production) {
    app.get('/components', { config: { access: 'page.public' } }, async (_request, reply) =>
      reply.page('components.njk', componentsSample()),
    );
  }

  app.get('/health', { config: { access: 'health.read' } }, async (_request, reply) => {
    await prisma.$queryRaw`SELECT 1`;
    return reply.type('text/plain; charset=utf-8').send('ok\n');
  });
}
