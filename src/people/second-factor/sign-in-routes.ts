import type { FastifyInstance, FastifyRequest } from 'fastify';
import { Invalid, SlowedDown } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { enter, safeNext } from '../sessions/enter.ts';
import { finishSignIn, readBegunSignIn } from './begun-sign-in.ts';
import { clearCodeCookie, codeCookieOf } from './code-cookie.ts';
import { codeSchema, recoveryCodeSchema } from './schemas.ts';

const blank: FormState = { values: {}, errors: {} };
const signInAgain = (next: string) =>
  next === '/' ? '/sign-in' : `/sign-in?next=${encodeURIComponent(next)}`;
/** The second page of a sign-in, where somebody's account asks a code. There is no session before the code is right. */
export async function codeSignInRoutes(app: FastifyInstance, deps: Deps & { secret: string }): Promise<void> {
  const { config } = deps;
  /** Of one browser between password and code; the account has its own count besides, over all processes. */
  const slowly = {
    max: 10,
    timeWindow: '5 minutes',
    hook: 'preHandler',
    keyGenerator: (request: FastifyRequest) => `${request.ip} ${codeCookieOf(request, config) ?? ''}`,
  } as const;

  app.get<{ Querystring: { next?: string } }>(
    '/sign-in/code',
    { config: { access: 'account.signIn' } },
    async (request, reply) => {
      const next = safeNext(request.query.next);
      const begun = await readBegunSignIn(deps, codeCookieOf(request, config));
      if (begun === null) return reply.redirect(signInAgain(next), 303);
      return reply.page('people/sign-in-code.njk', { form: blank, next });
    },
  );

  app.post(
    '/sign-in/code',
    { config: { access: 'account.signIn', rateLimit: slowly } },
    async (request, reply) => {
      const typed = typedFrom(request.body);
      const next = safeNext(typed.next);
      const token = codeCookieOf(request, config);
      const begun = await readBegunSignIn(deps, token);
      if (begun === null || token === undefined) {
        reply.flash('Too much time has passed since the password. Begin again.');
        return reply.redirect(signInAgain(next), 303);
      }
      const { personId } = begun;
      const byRecovery = typed.recoveryCode !== undefined;
      const again = (status: number, errors: FormState['errors']) =>
        // No code is given back into its box: the next one is another.
        reply.status(status).page('people/sign-in-code.njk', { form: { values: {}, errors }, next });
      const judged = byRecovery ? judgeFlat(recoveryCodeSchema, typed) : judgeFlat(codeSchema, typed);
      if (!judged.ok) return again(422, judged.form.errors);
      const how = { personId, ip: request.ip, by: byRecovery ? 'recovery code' : 'code' };
      try {
        await finishSignIn(deps, token, personId, judged.content);
      } catch (error) {
        if (error instanceof Invalid) {
          request.log.warn(how, 'code refused');
          return again(422, error.fields);
        }
        if (error instanceof SlowedDown) {
          request.log.warn(how, 'codes pause');
          reply.header('retry-after', error.waitSeconds);
          return again(429, { [byRecovery ? 'recoveryCode' : 'code']: error.message });
        }
        throw error;
      }
      request.log.info(how, 'signed in');
      clearCodeCookie(reply, config);
      return enter(deps, request, reply, { personId, next });
    },
  );
}
