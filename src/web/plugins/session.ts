import type { FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import type { ReadToken, TokenUse } from '../../api/tokens/service.ts';
import type { SignedIn, Sessions } from '../../people/sessions/sessions.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** A route for programs: who it is says the token in the Authorization header; no cookie is looked at. */
    bearer?: boolean;
  }
  interface FastifyRequest {
    person: SignedIn | null;
    /** By which token of theirs the person is here; null on every page. */
    token: TokenUse | null;
    /** Why it could not be read who it is; thrown for whoever must be somebody. */
    sessionProblem: Error | null;
  }
}

/** A bearer proves itself: no cookie is looked at, so that there is nothing to forge. */
export function isForPrograms(request: FastifyRequest): boolean {
  return request.routeOptions.config.bearer === true;
}

/** Reads who is signed in, once, before anything else asks: from the session cookie, or from a program's token. */
export const session = fp<{ sessions: Sessions; readToken: ReadToken }>(
  async (app, { sessions, readToken }) => {
    app.decorateRequest('person', null);
    app.decorateRequest('token', null);
    app.decorateRequest('sessionProblem', null);
    app.addHook('onRequest', async (request, reply) => {
      // They are anyone's, and the page that says that the database is away needs them.
      if (request.routeOptions.config.access === 'asset.read') return;
      try {
        if (isForPrograms(request)) {
          const found = await readToken(request.headers.authorization);
          request.person = found?.person ?? null;
          request.token = found?.token ?? null;
          return;
        }
        const { person, renewedCookie } = await sessions.read(request.headers.cookie);
        request.person = person;
        if (renewedCookie !== undefined) reply.header('set-cookie', renewedCookie);
      } catch (error) {
        // Kept until the headers and limits of every answer are in place; see the access plugin.
        request.sessionProblem = error instanceof Error ? error : new Error(String(error));
      }
    });
  },
  { name: 'session' },
);
