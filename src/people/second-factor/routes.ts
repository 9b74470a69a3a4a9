import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import QRCode from 'qrcode';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { signedIn } from '../../web/plugins/access.ts';
import { ofOnePerson } from '../accounts/limits.ts';
import { presentPasswordProblem } from '../accounts/service.ts';
import { beginCodes, confirmCodes, readFactor, renewRecoveryCodes, switchCodesOff } from './factor.ts';
import { setupAddress } from './one-time-code.ts';
import { codeSchema } from './schemas.ts';

const PAGE = '/account/codes';
const owned = { config: { access: 'account.manage' } } as const;
const guarded = { config: { access: 'account.manage', rateLimit: ofOnePerson } } as const;

/** A person's own one-time codes: on, off, and the codes for the day when the phone is gone. */
export async function codeRoutes(app: FastifyInstance, deps: Deps & { secret: string }): Promise<void> {
  const issuer = `Lintelbook ${new URL(deps.config.publicUrl).host}`;

  async function page(
    request: FastifyRequest,
    reply: FastifyReply,
    { errors = {}, recoveryCodes }: { errors?: FormState['errors']; recoveryCodes?: readonly string[] } = {},
  ): Promise<string> {
    const { personId, email } = signedIn(request);
    const state = await readFactor(deps, personId);
    // For the eye; programs take it with its spaces.
    const secretText = state.is === 'begun' ? state.secretBase32.replace(/.{4}(?=.)/g, '$& ') : '';
    return reply.page('people/codes.njk', {
      state,
      secretText,
      form: { values: {}, errors },
      recoveryCodes,
      email,
      codesRequired: deps.config.codesRequired,
    });
  }

  /** Runs an act that asks the present password first; the page again, with the reason, where that is not it. */
  async function withPassword(
    request: FastifyRequest,
    reply: FastifyReply,
    box: string,
    work: (personId: string) => Promise<FastifyReply | string>,
  ): Promise<FastifyReply | string> {
    const { personId } = signedIn(request);
    const wrong = await presentPasswordProblem(deps, personId, typedFrom(request.body)[box]);
    if (wrong !== null) {
      request.log.warn({ personId, ip: request.ip }, 'one-time codes not changed');
      return page(request, reply.status(422), { errors: { [box]: wrong } });
    }
    try {
      return await work(personId);
    } catch (error) {
      return asItStands(reply, error);
    }
  }

  /** Another page was faster, or too much time has passed: the page as it stands now, with the reason. */
  function asItStands(reply: FastifyReply, error: unknown): FastifyReply {
    if (!(error instanceof Refused)) throw error;
    reply.flash(error.message);
    return reply.redirect(PAGE, 303);
  }

  app.get(PAGE, owned, async (request, reply) => page(request, reply));

  app.post(PAGE, guarded, async (request, reply) =>
    withPassword(request, reply, 'current', async (personId) => {
      await beginCodes(deps, personId);
      return reply.redirect(PAGE, 303);
    }),
  );

  /** For the camera; a picture of its own, since pages carry no inline styles. It holds the secret: nobody keeps it. */
  app.get(`${PAGE}/code.svg`, owned, async (request, reply) => {
    const { personId, email } = signedIn(request);
    const state = await readFactor(deps, personId);
    if (state.is !== 'begun') throw new NotFound();
    const address = setupAddress(issuer, email, state.secretBase32);
    return reply
      .type('image/svg+xml')
      .header('cache-control', 'no-store')
      .send(await QRCode.toString(address, { type: 'svg', margin: 4, errorCorrectionLevel: 'M' }));
  });

  app.post(`${PAGE}/confirmation`, guarded, async (request, reply) => {
    const { personId } = signedIn(request);
    const judged = judgeFlat(codeSchema, typedFrom(request.body));
    const again = (errors: FormState['errors']) => page(request, reply.status(422), { errors });
    if (!judged.ok) return again(judged.form.errors);
    try {
      const recoveryCodes = await confirmCodes(deps, personId, judged.content.code);
      request.log.info({ personId, ip: request.ip }, 'one-time codes on');
      return await page(request, reply, { recoveryCodes });
    } catch (error) {
      return error instanceof Invalid ? again(error.fields) : asItStands(reply, error);
    }
  });

  app.post(`${PAGE}/recovery`, guarded, async (request, reply) =>
    withPassword(request, reply, 'current', async (personId) => {
      const recoveryCodes = await renewRecoveryCodes(deps, personId);
      request.log.info({ personId, ip: request.ip }, 'new recovery codes');
      return page(request, reply, { recoveryCodes });
    }),
  );

  app.post(`${PAGE}/off`, guarded, async (request, reply) =>
    withPassword(request, reply, 'currentForOff', async (personId) => {
      await switchCodesOff(deps, personId);
      request.log.info({ personId, ip: request.ip }, 'one-time codes off');
      reply.flash('One-time codes are off. The password alone lets you in.');
      return reply.redirect('/account', 303);
    }),
  );
}
