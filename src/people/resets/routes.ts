import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { Invalid } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { addressHash } from '../accounts/attempts.ts';
import { emailSchema, newPasswordSchema } from '../accounts/schemas.ts';
import { readReset, requestReset, setNewPassword } from './service.ts';

const blank: FormState = { values: {}, errors: {} };
const forgottenSchema = z.object({ email: emailSchema });
const passwordSchema = z.object({ password: newPasswordSchema });
/** A mailbox has its own limit, in all processes together: see `requestReset`. */
const slowly = { max: 10, timeWindow: '5 minutes' } as const;

/** A forgotten password: a letter to the address of the account, and the page that its link leads to. */
export async function resetRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get('/forgotten-password', { config: { access: 'account.recover' } }, async (_request, reply) =>
    reply.page('people/forgotten-password.njk', { form: blank }),
  );

  app.post(
    '/forgotten-password',
    { config: { access: 'account.recover', rateLimit: slowly } },
    async (request, reply) => {
      const judged = judgeFlat(forgottenSchema, typedFrom(request.body));
      if (!judged.ok) {
        return reply.status(422).page('people/forgotten-password.njk', { form: judged.form });
      }
      request.log.info(
        { addressHash: addressHash(judged.content.email), ip: request.ip },
        'new password asked for',
      );
      // Not waited for: how long it takes would tell whether there is such an account.
      requestReset(deps, judged.content.email).catch((error: unknown) => {
        request.log.error({ err: error }, 'a new password could not be asked for');
      });
      return reply.page('people/forgotten-password.njk', { form: blank, asked: judged.content.email });
    },
  );

  app.get<{ Params: { token: string } }>(
    '/new-password/:token',
    { config: { access: 'account.recover', rateLimit: slowly } },
    async (request, reply) => {
      await readReset(deps, request.params.token);
      return reply.page('people/new-password.njk', { form: blank, token: request.params.token });
    },
  );

  app.post<{ Params: { token: string } }>(
    '/new-password/:token',
    { config: { access: 'account.recover', rateLimit: slowly } },
    async (request, reply) => {
      const { token } = request.params;
      await readReset(deps, token);
      const judged = judgeFlat(passwordSchema, typedFrom(request.body));
      const again = (form: FormState) => reply.status(422).page('people/new-password.njk', { form, token });
      if (!judged.ok) return again(judged.form);
      let personId: string;
      try {
        ({ personId } = await setNewPassword(deps, token, judged.content.password));
      } catch (error) {
        if (error instanceof Invalid) return again({ values: {}, errors: error.fields });
        throw error;
      }
      request.log.info({ personId, ip: request.ip }, 'password replaced by a letter’s link');
      reply.flash('Your new password is set, and every session has ended. Sign in with it.');
      return reply.redirect('/sign-in', 303);
    },
  );
}
