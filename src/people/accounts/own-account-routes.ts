import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Invalid } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { chosenFrom, typedFrom } from '../../web/forms/read.ts';
import { signedIn } from '../../web/plugins/access.ts';
import { readFactor } from '../second-factor/factor.ts';
import { enter } from '../sessions/enter.ts';
import { endOtherSessions, endOwnSessions, listOwnSessions } from '../sessions/own-sessions.ts';
import { ofOnePerson } from './limits.ts';
import { changePasswordSchema } from './schemas.ts';
import { changePassword, presentPasswordProblem } from './service.ts';

const blank: FormState = { values: {}, errors: {} };

/** A person's own page: the password, whether codes are asked, and where they are signed in. */
export async function ownAccountRoutes(app: FastifyInstance, deps: Deps & { secret: string }): Promise<void> {
  const { prisma } = deps;

  async function page(
    request: FastifyRequest,
    reply: FastifyReply,
    form: { readonly values: object; readonly errors: FormState['errors'] } = blank,
  ): Promise<string> {
    const me = signedIn(request);
    const [codes, sessions] = await Promise.all([readFactor(deps, me.personId), listOwnSessions(prisma, me)]);
    const codesOn = codes.is === 'on';
    const others = sessions.filter(({ isThis }) => !isThis);
    const here = sessions.find(({ isThis }) => isThis);
    return reply.page('people/account.njk', { form, email: me.email, codesOn, here, others });
  }

  app.get('/account', { config: { access: 'account.manage' } }, async (request, reply) =>
    page(request, reply),
  );

  app.post(
    '/account/password',
    { config: { access: 'account.manage', rateLimit: ofOnePerson } },
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

  app.post(
    '/account/sessions/end',
    { config: { access: 'account.manage', rateLimit: ofOnePerson } },
    async (request, reply) => {
      const me = signedIn(request);
      const all = typedFrom(request.body).all === 'yes';
      const chosen = chosenFrom(request.body, 'end');
      const wrong = await presentPasswordProblem(
        deps,
        me.personId,
        typedFrom(request.body).currentForSessions,
      );
      const errors = {
        ...(!all && chosen.length === 0 && { end: 'Choose which sessions to end.' }),
        ...(wrong !== null && { currentForSessions: wrong }),
      };
      if (Object.keys(errors).length > 0) {
        request.log.warn({ personId: me.personId, ip: request.ip }, 'sessions not ended');
        return page(request, reply.status(422), { values: { end: chosen }, errors });
      }
      const ended = await (all ? endOtherSessions(prisma, me) : endOwnSessions(prisma, me, chosen));
      request.log.info({ personId: me.personId, ip: request.ip, ended }, 'own sessions ended');
      reply.flash('Ended. Whoever opens a page there is asked to sign in.');
      return reply.redirect('/account', 303);
    },
  );
}
