import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { NotFound } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { SignInNeeded } from '../../web/plugins/access.ts';
import { chooseMail, mailChoices, readMailChoice } from './service.ts';
import { readStopToken } from './stop-token.ts';

const choiceSchema = z.object({
  choice: z.enum(mailChoices, 'Choose how often you want to hear.'),
});

/** Each person's choice of mail, and the page behind the stop link of every letter. */
export async function mailChoiceRoutes(
  app: FastifyInstance,
  { prisma, config, secret }: Deps & { readonly secret: string },
): Promise<void> {
  const page = { dailyHour: config.mail.dailyHour, realMail: config.mail.smtpUrl !== null };

  app.get('/account/mail', { config: { access: 'account.manage' } }, async (request, reply) => {
    const { person } = request;
    if (person === null) throw new SignInNeeded();
    const form: FormState = {
      values: { choice: await readMailChoice(prisma, person.personId) },
      errors: {},
    };
    return reply.page('notify/choice.njk', { form, email: person.email, ...page });
  });

  app.post('/account/mail', { config: { access: 'account.manage' } }, async (request, reply) => {
    const { person } = request;
    if (person === null) throw new SignInNeeded();
    const judged = judgeFlat(choiceSchema, typedFrom(request.body));
    if (!judged.ok) {
      return reply.status(422).page('notify/choice.njk', { form: judged.form, email: person.email, ...page });
    }
    await chooseMail(prisma, person.personId, judged.content.choice);
    reply.flash('Your choice is kept.');
    return reply.redirect('/account/mail', 303);
  });

  /** Looking changes nothing: mail programs and scanners open links by themselves. */
  app.get<{ Params: { token: string } }>(
    '/mail/stop/:token',
    { config: { access: 'mail.stop', rateLimit: { max: 60, timeWindow: '5 minutes' } } },
    async (request, reply) => {
      const { token } = request.params;
      if (readStopToken(secret, token) === null) throw new NotFound();
      return reply.page('notify/stop.njk', { token, stopped: false });
    },
  );

  /**
   * RFC 8058: the reader's mail system sends it by itself, without cookies and without a page of ours, as form data of
   * either sort. The address alone is the proof; what is in the body does not matter.
   */
  app.post<{ Params: { token: string } }>(
    '/mail/stop/:token',
    {
      config: {
        access: 'mail.stop',
        provenByAddress: true,
        rateLimit: { max: 60, timeWindow: '5 minutes' },
      },
    },
    async (request, reply) => {
      const { token } = request.params;
      const personId = readStopToken(secret, token);
      if (personId === null) throw new NotFound();
      await chooseMail(prisma, personId, 'none');
      return reply.page('notify/stop.njk', { token, stopped: true });
    },
  );
}
