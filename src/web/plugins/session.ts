import fp from 'fastify-plugin';
import type { SignedIn, Sessions } from '../../people/sessions/sessions.ts';

declare module 'fastify' {
  interface FastifyRequest {
    person: SignedIn | null;
  }
}

/** Reads who is signed in from the session cookie, once, before anything else asks. */
export const session = fp<{ sessions: Sessions }>(
  async (app, { sessions }) => {
    app.decorateRequest('person', null);
    app.addHook('onRequest', async (request, reply) => {
      const { person, renewedCookie } = await sessions.read(request.headers.cookie);
      request.person = person;
      if (renewedCookie !== undefined) reply.header('set-cookie', renewedCookie);
    });
  },
  { name: 'session' },
);
