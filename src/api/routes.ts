import type { FastifyInstance } from 'fastify';
import type { Deps } from '../web/deps.ts';
import { calendarRoutes } from './calendar/routes.ts';
import { apiDocument, refusalsOf } from './document.ts';
import { API_ROOT, mountOperations } from './mount.ts';
import { allOperations } from './operations/all.ts';
import { problemKinds } from './problems/details.ts';
import { scopes, scopeWords } from './tokens/scopes.ts';
import { webhookRoutes } from './webhooks/routes.ts';
import { tokenRoutes } from './tokens/routes.ts';

/**
 * The interface for programs: its operations, its description, the page about it, each person's tokens and calendar,
 * and the webhooks of projects.
 */
export async function apiRoutes(
  app: FastifyInstance,
  deps: Deps & { readonly secret: string },
): Promise<void> {
  const { config, kinds } = deps;
  const operations = allOperations(deps);
  const server = config.publicUrl + API_ROOT;
  const document = JSON.stringify(apiDocument(operations, { kinds, server }));

  await app.register(mountOperations, { prefix: API_ROOT, operations, config });
  await app.register(tokenRoutes, deps);
  await app.register(calendarRoutes, deps);
  await app.register(webhookRoutes, deps);

  app.get(`${API_ROOT}/openapi.json`, { config: { access: 'api.describe' } }, async (_request, reply) =>
    reply
      .type('application/json; charset=utf-8')
      .header('cache-control', 'public, max-age=300')
      .send(document),
  );

  app.get('/api', { config: { access: 'api.describe' } }, async (_request, reply) =>
    reply.page('api/operations.njk', {
      server,
      scopes: scopes.map((name) => ({ name, text: scopeWords[name] })),
      problems: Object.entries(problemKinds).map(([kind, [status, title, when]]) => ({
        kind,
        status,
        title,
        when,
      })),
      groups: [...new Set(operations.map(({ tag }) => tag))].map((tag) => ({
        tag,
        operations: operations
          .filter((operation) => operation.tag === tag)
          .map((operation) => ({ ...operation, refusals: refusalsOf(operation) })),
      })),
    }),
  );
}
