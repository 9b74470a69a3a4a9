import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import { Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat } from '../../web/forms/judge.ts';
import { chosenFrom, typedFrom } from '../../web/forms/read.ts';
import { SignInNeeded } from '../../web/plugins/access.ts';
import { scopes, scopeWords, type Scope } from './scopes.ts';
import { createToken, listTokens, revokeToken } from './service.ts';

const tokenFormSchema = z.object({
  name: z
    .string()
    .trim()
    .min(1, 'Name the program that will use it, so that you know it apart.')
    .max(80, 'Use at most 80 characters.')
    .refine((name) => !/[\p{Cc}\p{Surrogate}]/u.test(name), 'Type the name again.'),
  days: z.enum(['7', '30', '90', '365'], 'Choose how long it is good for.'),
});
const blank = { values: { days: '90', scope: ['read'] }, errors: {} };

/** Each person's own page of tokens. */
export async function tokenRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const page = async (reply: FastifyReply, personId: string, more: object = {}) =>
    reply.page('api/tokens.njk', {
      tokens: await listTokens(deps, personId),
      scopes: scopes.map((value) => ({ value, text: scopeWords[value] })),
      form: blank,
      ...more,
    });

  app.get('/account/tokens', { config: { access: 'program.manage' } }, async (request, reply) => {
    if (request.person === null) throw new SignInNeeded();
    return page(reply, request.person.personId);
  });

  const making = { access: 'program.manage', keepForm: () => '/account/tokens' } as const;
  app.post('/account/tokens', { config: making }, async (request, reply) => {
    const { person } = request;
    if (person === null) throw new SignInNeeded();
    const typed = typedFrom(request.body);
    const ticked = chosenFrom(request.body, 'scope');
    const chosen: Scope[] = scopes.filter((scope) => ticked.includes(scope));
    const values = { ...typed, scope: chosen };
    const judged = judgeFlat(tokenFormSchema, typed);
    const errors = { ...judged.form.errors };
    if (chosen.length === 0) errors.scope = 'Choose what it may be used for.';
    if (!judged.ok || chosen.length === 0) {
      return page(reply.status(422), person.personId, { form: { values, errors } });
    }
    const { name, days } = judged.content;
    try {
      const made = await createToken(deps, person.personId, { name, scopes: chosen, days: Number(days) });
      return await page(reply, person.personId, { made: { ...made, name } });
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      const refused = { values, errors: { name: error.message } };
      return page(reply.status(422), person.personId, { form: refused });
    }
  });

  app.post<{ Params: { tokenId: string } }>(
    '/account/tokens/:tokenId/revocation',
    { config: { access: 'program.manage' } },
    async (request, reply) => {
      if (request.person === null) throw new SignInNeeded();
      await revokeToken(deps, request.person.personId, request.params.tokenId);
      reply.flash('The token is revoked. Whatever used it is refused from now on.');
      return reply.redirect('/account/tokens', 303);
    },
  );
}
