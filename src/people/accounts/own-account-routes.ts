import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Invalid } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { signedIn } from '../../web/plugins/access.ts';
import { readFactor } from '../second-factor/factor.ts';
import { enter } from '../sessions/enter.ts';
import { endOtherSessions, endOwnSession, listOwnSessions } from '../sessions/own-sessions.ts';
import { changePasswordSchema } from './schemas.ts';
import { changePassword } from './service.ts';

const blank: FormState = { values: {}, errors: {} };

/** A person's own page: the password, whether codes are asked, and where they are signed in. */
export async function ownAccountRoutes(app: FastifyInstance, deps: Deps & { secret: string }): Promise<void> {
  const { prisma } = deps;

  async function page(request: FastifyRequest, reply: FastifyReply, form: FormState): Promise<string> {
    const me = signedIn(request);
    const [codes, sessions] = await Promise.all([readFactor(deps, me.personId), listOwnSessions(prisma, me)]);
    return reply.page('people/account.njk', { form, email: me.email, codesOn: codes.is === 'on', sessions });
  }

  app.get('/account', { config: { access: 'account.manage' } }, async (request, reply) =>
    page(request, reply, blank),
  );

  app.post(
    '/account/password',
    { config: { access: 'account.manage', rateLimit: { max: 10, timeWindow: '5 minutes' } } },
    async (request, reply) => {
      const { personId } = signedIn(request);
      const typed = typedFrom(request.body);
      const judged = judgeFlat(changePasswordSchema, typed);
      if (!judged.ok) return page(request, reply.status(422), judged.form);
      try {
        await changePassword(deps, personId, judged.content);
        request.log.info({ personId, ip: request.ip }, 'password changed');
      } catch (error) {
        request.log.warn({ personId, ip: request.ip }, 'password not changed');
        if (!(error instanceof Invalid)) throw error;
        return page(request, reply.status(422), { values: typed, errors: error.fields });
      }
      reply.flash('Your password is changed, and every other session has ended.');
      return enter(deps, request, reply, { personId, next: '/account' });
    },
  );

  app.post<{ Params: { name: string } }>(
    '/account/sessions/:name/end',
    { config: { access: 'account.manage' } },
    async (request, reply) => {
      const me = signedIn(request);
      await endOwnSession(prisma, me, request.params.name);
      request.log.info({ personId: me.personId, ip: request.ip }, 'one session ended');
      reply.flash('That session has ended. Whoever opens a page in it is asked to sign in.');
      return reply.redirect('/account', 303);
    },
  );

  app.post(
    '/account/other-sessions/end',
    { config: { access: 'account.manage' } },
    async (request, reply) => {
      const me = signedIn(request);
      const ended = await endOtherSessions(prisma, me);
      request.log.info({ personId: me.personId, ip: request.ip, ended }, 'other sessions ended');
      reply.flash('Every other session has ended; this one goes on.');
      return reply.redirect('/account', 303);
    },
  );
}
