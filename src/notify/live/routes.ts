import type { FastifyInstance } from 'fastify';
import { ofOnePerson } from '../../people/accounts/limits.ts';
import { hashSessionId } from '../../people/sessions/adapter.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';

/** How often a proxy sees that the line is alive; below the usual 30 to 60 s of silence that they allow. */
const BEAT_MS = 20_000;
/** How long an open page may outlive a membership or a session that ended without a line of this project's log. */
const CHECK_MS = 30_000;

/** Server-sent events (WHATWG HTML, section 9.2): what happens in a project, to its open pages. */
export async function openPageRoutes(app: FastifyInstance, { live }: Deps): Promise<void> {
  const beating = setInterval(() => {
    live.beat();
  }, BEAT_MS);
  const checking = setInterval(() => {
    live.checkAll().catch((error: unknown) => {
      app.log.error({ err: error }, 'the open pages could not be checked');
    });
  }, CHECK_MS);
  beating.unref();
  checking.unref();

  // Before `close` waits for open connections, of which these would never end.
  app.addHook('preClose', async () => {
    clearInterval(beating);
    clearInterval(checking);
    live.endAll();
  });

  app.get<{ Querystring: { after?: string } }>(
    '/projects/:projectId/live',
    {
      exposeHeadRoute: false,
      config: { access: 'live.read', rateLimit: { ...ofOnePerson, max: 240, timeWindow: '1 minute' } },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { person } = request;
      if (!(request.headers.accept ?? '').includes('text/event-stream') || person === null) {
        return reply
          .status(406)
          .type('text/plain')
          .send('This address speaks to pages that are open, as text/event-stream.\n');
      }
      const { raw } = reply;
      const remove = live.add(
        {
          personId: actor.personId,
          projectId: actor.projectId,
          role: actor.role,
          sessionHash: hashSessionId(person.sessionId),
          behind: () => raw.writableLength,
          write: (text) => {
            raw.write(text);
          },
          end: () => {
            raw.end();
          },
        },
        placeOf(request.headers['last-event-id']) ?? placeOf(request.query.after),
      );
      if (remove === null) {
        return reply
          .status(429)
          .header('retry-after', '60')
          .type('text/plain')
          .send('So many of your pages are open already.\n');
      }
      reply.hijack();
      raw.on('close', remove);
      raw.on('error', remove);
      for (const [name, value] of Object.entries(reply.getHeaders())) {
        if (value !== undefined) raw.setHeader(name, value);
      }
      raw.writeHead(200, {
        'content-type': 'text/event-stream; charset=utf-8',
        'cache-control': 'no-store, no-transform',
        // nginx and others would keep it back until it ends.
        'x-accel-buffering': 'no',
      });
      // Not the time limit of requests: a line that is silent between beats is alive.
      raw.socket?.setTimeout(BEAT_MS * 3);
      raw.write(': open\n\n');
      return reply;
    },
  );
}

/** A place in the log as the browser sends it back. */
function placeOf(text: string | string[] | undefined): number | null {
  return typeof text === 'string' && /^\d{1,9}$/.test(text) ? Number(text) : null;
}
