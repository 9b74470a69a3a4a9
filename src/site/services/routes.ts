import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { attachmentsOf } from '../../attachments/store.ts';
import { conductorWords, dispositionWords, serviceName } from '../../engineering/services/index.ts';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Conflict, Invalid, NotFound } from '../../problems.ts';
import { findOpening } from '../../record/openings/find.ts';
import { calculationView } from '../../record/pages/calculation-view.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { safeWords, serviceWords } from './rules.ts';
import { logServiceAct } from './service.ts';
import { findService, servicesOfOpening, type ServiceRow } from './store.ts';

/** A service as the list and its own page show it. */
function serviceView(row: ServiceRow) {
  const { content } = row;
  return {
    ...row,
    name: serviceName(content),
    becomes: dispositionWords(content),
    conductor: content.what === 'circuit' ? conductorWords(content) : '',
    after: content.what === 'circuit' && content.after !== undefined ? conductorWords(content.after) : '',
    safeWords: safeWords(content),
    view: calculationView(row.calculation),
  };
}

export async function serviceRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  app.get<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/services',
    { config: { access: 'service.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { projectId, role } = actor;
      const opening = await findOpening(prisma, actor, request.params.openingId);
      const services = await servicesOfOpening(prisma, projectId, opening.id);
      return reply.page('site/services/list.njk', {
        opening,
        services: services.map(serviceView),
        holding: services.filter(({ standing }) => standing.holds !== ''),
        may: { add: roleMay(role, 'item.create') },
      });
    },
  );

  async function servicePage(actor: Actor, reply: FastifyReply, itemId: string, form?: FormState) {
    const { projectId, role } = actor;
    const row = await findService(prisma, projectId, idOr404(itemId));
    if (row === null) throw new NotFound('That service');
    const [opening, attachments] = await Promise.all([
      prisma.opening.findUniqueOrThrow({ where: { id: row.openingId } }),
      attachmentsOf(prisma, projectId, role, 'item', [row.itemId]),
    ]);
    return reply.page('site/services/one.njk', {
      opening,
      service: serviceView(row),
      lines: deps.kinds.get('service').describe(row.content),
      attachments,
      words: [
        {
          value: 'made_safe',
          text: row.content.what === 'circuit' ? 'De-energized and proved dead' : 'Shut off and made safe',
        },
        { value: 'live_again', text: row.content.what === 'circuit' ? 'Switched on again' : 'Opened again' },
        {
          value: 'carried_out',
          text: `Carried out: ${dispositionWords(row.content)}`,
          hint:
            row.content.what === 'circuit' && row.standing.safe === null
              ? 'Log it as proved dead first: a circuit that was not goes on holding the wall.'
              : '',
        },
        { value: 'checked', text: 'Checked after the work' },
      ],
      may: {
        save: roleMay(role, 'item.save'),
        log: roleMay(role, 'service.log'),
        attach: roleMay(role, 'attachment.add'),
        share: roleMay(role, 'attachment.share'),
      },
      form: form ?? { values: {}, errors: {} },
    });
  }

  app.get<{ Params: { itemId: string } }>(
    '/projects/:projectId/services/:itemId',
    { config: { access: 'service.read' } },
    async (request, reply) => servicePage(actorOf(request), reply, request.params.itemId),
  );

  app.post<{ Params: { itemId: string } }>(
    '/projects/:projectId/services/:itemId/acts',
    {
      config: {
        access: 'service.log',
        keepForm: ({ projectId = '', itemId = '' }) => `/projects/${projectId}/services/${itemId}`,
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { itemId } = request.params;
      const typed = typedFrom(request.body);
      const word = serviceWords.find((one) => one === typed.word);
      try {
        if (word === undefined) throw new Invalid({ word: 'Choose what was done.' });
        const { versionId = '', who = '', note = '' } = typed;
        await logServiceAct(deps, actor, { itemId, versionId, word, who, note });
      } catch (error) {
        if (error instanceof Invalid)
          return servicePage(actor, reply.status(422), itemId, { values: typed, errors: error.fields });
        if (error instanceof Conflict)
          return servicePage(actor, reply.status(409), itemId, {
            values: typed,
            errors: { '': error.message },
          });
        throw error;
      }
      const row = await findService(prisma, actor.projectId, idOr404(itemId));
      reply.flash(`${row?.title ?? 'The service'}: logged.`);
      return reply.redirect(`/projects/${actor.projectId}/openings/${row?.openingId ?? ''}/services`, 303);
    },
  );
}
