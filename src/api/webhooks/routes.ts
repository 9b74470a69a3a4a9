import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Invalid, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { chosenFrom, typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { tellableKinds, waysOut, type TellableKind } from './rules.ts';
import { endWebhook, listWebhooks, makeWebhook, sendCallAgain } from './service.ts';

const kinds = Object.entries(tellableKinds).map(([value, text]) => ({ value: value as TellableKind, text }));
const blank = { values: {}, errors: {} };

/** The page of a project's webhooks: what is told to whom, what was not taken, and a way to send it again. */
export async function webhookRoutes(
  app: FastifyInstance,
  deps: Deps & { readonly secret: string },
): Promise<void> {
  const making = { ...deps, ways: waysOut(deps.config) };

  const page = async (request: FastifyRequest, reply: FastifyReply, more: object = {}) =>
    reply.page('api/webhooks.njk', {
      webhooks: await listWebhooks(deps, actorOf(request)),
      kinds,
      form: blank,
      ...more,
    });
  const config = { access: 'webhook.manage' } as const;

  app.get('/projects/:projectId/webhooks', { config }, (request, reply) => page(request, reply));

  const pageOfWebhooks = ({ projectId = '' }) => `/projects/${projectId}/webhooks`;
  const adding = { ...config, keepForm: pageOfWebhooks };
  app.post('/projects/:projectId/webhooks', { config: adding }, async (request, reply) => {
    const typed = typedFrom(request.body);
    const ticked = chosenFrom(request.body, 'kinds');
    const chosen = kinds.map(({ value }) => value).filter((kind) => ticked.includes(kind));
    try {
      const made = await makeWebhook(making, actorOf(request), { url: typed.url ?? '', kinds: chosen });
      return await page(request, reply, { made });
    } catch (error) {
      if (!(error instanceof Invalid) && !(error instanceof Refused)) throw error;
      const errors = error instanceof Invalid ? error.fields : { url: error.message };
      return page(request, reply.status(422), { form: { values: { ...typed, kinds: chosen }, errors } });
    }
  });

  app.post<{ Params: { projectId: string; webhookId: string } }>(
    '/projects/:projectId/webhooks/:webhookId/end',
    { config },
    async (request, reply) => {
      const { projectId, webhookId } = request.params;
      await endWebhook(deps, actorOf(request), { webhookId });
      reply.flash('The webhook is ended. Nothing more is told to that address.');
      return reply.redirect(`/projects/${projectId}/webhooks`, 303);
    },
  );

  app.post<{ Params: { projectId: string; callId: string } }>(
    '/projects/:projectId/webhook-calls/:callId/again',
    { config },
    async (request, reply) => {
      const { projectId, callId } = request.params;
      await sendCallAgain(deps, actorOf(request), { callId });
      reply.flash('It is sent again.');
      return reply.redirect(`/projects/${projectId}/webhooks`, 303);
    },
  );
}
