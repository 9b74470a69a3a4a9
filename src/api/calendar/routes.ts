import { createHash } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import type { Deps } from '../../web/deps.ts';
import { SignInNeeded } from '../../web/plugins/access.ts';
import { calendarAddressOf, endCalendarAddress, makeCalendarAddress, visitsBehind } from './service.ts';
import { calendarText } from './write.ts';

/** A person's own visits for their calendar program: by an address that is theirs alone, and that they can end. */
export async function calendarRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { publicUrl } = deps.config;

  app.get('/account/calendar', { config: { access: 'program.manage' } }, async (request, reply) => {
    if (request.person === null) throw new SignInNeeded();
    const there = await calendarAddressOf(deps, request.person.personId);
    return reply.page('api/calendar.njk', { there });
  });

  app.post('/account/calendar', { config: { access: 'program.manage' } }, async (request, reply) => {
    const { person } = request;
    if (person === null) throw new SignInNeeded();
    const { token } = await makeCalendarAddress(deps, person.personId);
    const there = await calendarAddressOf(deps, person.personId);
    return reply.page('api/calendar.njk', { there, address: `${publicUrl}/calendar/${token}` });
  });

  app.post('/account/calendar/end', { config: { access: 'program.manage' } }, async (request, reply) => {
    if (request.person === null) throw new SignInNeeded();
    await endCalendarAddress(deps, request.person.personId);
    reply.flash('The address is ended. Calendars that read it get nothing more.');
    return reply.redirect('/account/calendar', 303);
  });

  /** Calendar programs send no cookie and no header of ours: the address is the proof. */
  app.get<{ Params: { token: string } }>(
    '/calendar/:token',
    { config: { access: 'calendar.read', rateLimit: { max: 60, timeWindow: '5 minutes' } } },
    async (request, reply) => {
      const text = calendarText(await visitsBehind(deps, request.params.token), publicUrl);
      const etag = `"${createHash('sha256').update(text).digest('base64url')}"`;
      reply.header('etag', etag).header('cache-control', 'private, no-cache');
      if (request.headers['if-none-match'] === etag) return reply.status(304).send();
      return reply
        .type('text/calendar; charset=utf-8')
        .header('content-disposition', 'inline; filename="visits.ics"')
        .send(text);
    },
  );
}
