import type { FastifyInstance } from 'fastify';
import type { Config } from '../web/config.ts';
import { asDatabaseProblem } from '../database/trouble.ts';
import { NotFound, secondsToWait } from '../problems.ts';
import type { Operation } from './operation.ts';
import { problemDetails } from './problems/details.ts';

export const API_ROOT = '/api/v1';

/**
 * Mounts the operations below `/api/v1`, in a scope of their own: JSON and nothing else comes in, problem details
 * (RFC 9457) are the only form of refusal, and a bearer token is the only way to be somebody.
 */
export async function mountOperations(
  app: FastifyInstance,
  { operations, config }: { readonly operations: readonly Operation[]; readonly config: Config },
): Promise<void> {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser(
    'application/json',
    { parseAs: 'string' },
    app.getDefaultJsonParser('error', 'error'),
  );

  app.setErrorHandler(async (error, request, reply) => {
    const problem = problemDetails(error, { publicUrl: config.publicUrl, requestId: request.id });
    if (problem.status >= 500) request.log.error({ err: error }, 'unexpected');
    const waitSeconds = secondsToWait(asDatabaseProblem(error));
    if (waitSeconds !== null) reply.header('retry-after', waitSeconds);
    if (problem.status === 401) reply.header('www-authenticate', 'Bearer');
    return reply
      .status(problem.status)
      .header('cache-control', 'no-store')
      .type('application/problem+json')
      .send(JSON.stringify(problem));
  });
  app.setNotFoundHandler({ preHandler: app.rateLimit({ max: 120 }) }, () => {
    throw new NotFound();
  });

  for (const operation of operations) {
    const { method, path, access, status, heavy, run } = operation;
    app.route({
      method,
      url: path.replace(/\{(\w+)\}/g, ':$1'),
      config: {
        access,
        bearer: true,
        rateLimit: {
          max: Math.ceil(config.rateLimitPerMinute / (heavy === true ? 5 : 1)),
          timeWindow: '1 minute',
          keyGenerator: (request) => request.token?.tokenId ?? request.ip,
        },
      },
      handler: async (request, reply) => {
        const { 'if-match': ifMatch, 'if-none-match': ifNoneMatch } = request.headers;
        const answer = await run({
          person: request.person,
          token: request.token,
          actor: request.member?.actor ?? null,
          params: request.params,
          query: request.query,
          body: request.body,
          ifMatch,
          ifNoneMatch,
        });
        reply.header('cache-control', 'private, no-cache');
        if (answer.etag !== undefined) reply.header('etag', answer.etag);
        if (method === 'GET' && answer.etag !== undefined && ifNoneMatch === answer.etag) {
          return reply.status(304).send();
        }
        if (answer.location !== undefined) {
          reply.header('location', `${config.publicUrl}${API_ROOT}${answer.location}`);
        }
        return reply.status(status).type('application/json; charset=utf-8').send(JSON.stringify(answer.body));
      },
    });
  }
}
