import type { FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { Prisma } from '../../database/generated/client.ts';
import type { ReadToken, TokenUse } from '../../api/tokens/service.ts';
import { headsOf, membershipRow } from '../../people/memberships/membership-row.ts';
import type { Beside, ReadBeside } from '../../people/sessions/adapter.ts';
import type { SignedIn, Sessions } from '../../people/sessions/sessions.ts';
import { isId } from '../../record/identifier.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** A route for programs: who it is says the token in the Authorization header; no cookie is looked at. */
    bearer?: boolean;
    /** The heads of the logs of the person's projects are read with the session: see `headsOf`. */
    readsHeads?: boolean;
  }
  interface FastifyRequest {
    person: SignedIn | null;
    /** By which token of theirs the person is here; null on every page. */
    token: TokenUse | null;
    /** What the query that found the session read of the person besides; null where they came by a token or not at all. */
    beside: ReadBeside | null;
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
    app.decorateRequest('beside', null);
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
        const asked = askedBeside(request);
        const { person, beside, renewedCookie } = await sessions.read(request.headers.cookie, asked);
        request.person = person;
        request.beside = beside ?? null;
        if (renewedCookie !== undefined) reply.header('set-cookie', renewedCookie);
      } catch (error) {
        // Kept until the headers and limits of every answer are in place; see the access plugin.
        request.sessionProblem = error instanceof Error ? error : new Error(String(error));
      }
    });
  },
  { name: 'session' },
);

/** The project that the address names, undefined where it names none that could be. */
export function projectOf(request: FastifyRequest): string | undefined {
  const { projectId } = request.params as { projectId?: string };
  return projectId !== undefined && isId(projectId) ? projectId : undefined;
}

/** Whether it is asked for to be read by a person. */
export function isPage(request: FastifyRequest): boolean {
  return request.method === 'GET' && (request.headers.accept ?? '').includes('text/html');
}

const OF_PERSON = Prisma.sql`person.id`;

function askedBeside(request: FastifyRequest): Beside | undefined {
  const projectId = projectOf(request);
  if (projectId !== undefined) {
    const row = membershipRow(OF_PERSON, { projectId, withSeen: isPage(request) });
    return {
      columns: Prisma.sql`, here.role, here.project, here."timeZone", here.seen`,
      joins: Prisma.sql`LEFT JOIN LATERAL (${row}) here ON true`,
    };
  }
  if (request.routeOptions.config.readsHeads === true) {
    return { columns: Prisma.sql`, (${headsOf(OF_PERSON)}) AS heads`, joins: Prisma.empty };
  }
  return undefined;
}
