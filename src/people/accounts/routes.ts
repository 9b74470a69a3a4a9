import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Invalid, SlowedDown } from '../../problems.ts';
import { demoPassword, demoSignIns } from '../../demo/people.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { signedIn } from '../../web/plugins/access.ts';
import { beginSignIn } from '../second-factor/begun-sign-in.ts';
import { setCodeCookie } from '../second-factor/code-cookie.ts';
import { enter, safeNext } from '../sessions/enter.ts';
import { addressHash } from './attempts.ts';
import { signInSchema, signUpSchema } from './schemas.ts';
import { signIn, signUp } from './service.ts';

const blank: FormState = { values: {}, errors: {} };

/** Guessing is slowed by address and by account: one person behind many addresses, many people behind one. */
const accountLimit = {
  max: 10,
  timeWindow: '5 minutes',
  hook: 'preHandler',
  keyGenerator: (request: FastifyRequest) => {
    const { email = '' } = typedFrom(request.body);
    return `${request.ip} ${email.trim().toLowerCase()}`;
  },
} as const;

/** The way in and out. `secret` is the installation's, which one-time codes are sealed under. */
export async function accountRoutes(app: FastifyInstance, deps: Deps & { secret: string }): Promise<void> {
  const demo = deps.config.demo !== null ? { signIns: demoSignIns, demoPassword } : { signIns: [] };

  /** Where it leads tells whether a form waits there; see the plugin that keeps forms. */
  const signInPage = (asked: unknown) => {
    const next = safeNext(asked);
    return { next, keptForm: /[?&]kept=[0-9a-f]{16}$/.test(next), ...demo };
  };

  /** What the browser cached of the pages goes with the session; kept visits are in a store of their own and stay. */
  function leave(reply: FastifyReply): FastifyReply {
    reply.header('set-cookie', deps.sessions.blankCookie()).header('clear-site-data', '"cache"');
    return reply.redirect('/', 303);
  }

  app.get<{ Querystring: { next?: string } }>(
    '/sign-in',
    { config: { access: 'account.signIn' } },
    async (request, reply) =>
      reply.page('people/sign-in.njk', { ...signInPage(request.query.next), form: blank }),
  );

  app.post(
    '/sign-in',
    { config: { access: 'account.signIn', rateLimit: accountLimit } },
    async (request, reply) => {
      const typed = typedFrom(request.body);
      const judged = judgeFlat(signInSchema, typed);
      const next = safeNext(typed.next);
      const again = (form: FormState) =>
        reply.status(422).page('people/sign-in.njk', { ...signInPage(next), form });
      if (!judged.ok) return again(judged.form);
      try {
        const { personId, asksCode } = await signIn(deps, judged.content);
        if (asksCode) {
          request.log.info({ personId, ip: request.ip }, 'code asked');
          setCodeCookie(reply, deps.config, await beginSignIn(deps, personId));
          return await reply.redirect(`/sign-in/code?next=${encodeURIComponent(next)}`, 303);
        }
        request.log.info({ personId, ip: request.ip }, 'signed in');
        return await enter(deps, request, reply, { personId, next });
      } catch (error) {
        const tried = { addressHash: addressHash(judged.content.email), ip: request.ip };
        if (error instanceof Invalid) {
          request.log.warn(tried, 'sign-in refused');
          return again({ values: typed, errors: error.fields });
        }
        if (error instanceof SlowedDown) {
          request.log.warn(tried, 'sign-in pauses');
          reply.status(429).header('retry-after', error.waitSeconds);
          const form = { values: typed, errors: { email: error.message } };
          return reply.page('people/sign-in.njk', { ...signInPage(next), form });
        }
        throw error;
      }
    },
  );

  app.get<{ Querystring: { next?: string } }>(
    '/sign-up',
    { config: { access: 'account.signUp' } },
    async (request, reply) =>
      reply.page('people/sign-up.njk', { form: blank, next: safeNext(request.query.next) }),
  );

  app.post(
    '/sign-up',
    { config: { access: 'account.signUp', rateLimit: accountLimit } },
    async (request, reply) => {
      const typed = typedFrom(request.body);
      const judged = judgeFlat(signUpSchema, typed);
      const next = safeNext(typed.next);
      const again = (form: FormState) => reply.status(422).page('people/sign-up.njk', { form, next });
      if (!judged.ok) return again(judged.form);
      try {
        const { personId } = await signUp(deps, judged.content);
        request.log.info({ personId, ip: request.ip }, 'signed up');
        return await enter(deps, request, reply, { personId, next });
      } catch (error) {
        if (error instanceof Invalid) return again({ values: typed, errors: error.fields });
        throw error;
      }
    },
  );

  app.post('/sign-out', { config: { access: 'account.signOut' } }, async (request, reply) => {
    const { personId, sessionId } = signedIn(request);
    await deps.sessions.end(sessionId);
    request.log.info({ personId }, 'signed out');
    return leave(reply);
  });

  app.post('/sign-out-everywhere', { config: { access: 'account.signOut' } }, async (request, reply) => {
    const { personId } = signedIn(request);
    await deps.sessions.endAll(personId);
    request.log.info({ personId }, 'signed out everywhere');
    return leave(reply);
  });
}
