import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { goodsKinds, type GoodsKind, type MaterialLine } from '../../engineering/materials-list/index.ts';
import { roleMay } from '../../people/permissions.ts';
import { Invalid, NotFound } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import type { Deps } from '../../web/deps.ts';
import { fillForm } from '../../web/forms/fill.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { readForm, typedFrom } from '../../web/forms/read.ts';
import type { Typed } from '../../web/forms/spec.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { approvedMaterials } from '../materials/approved.ts';
import { fullWords } from '../materials/words.ts';
import { askedFields, goodsForm } from './forms.ts';
import { offerSubstitution, trySubstitution, type Offer, type OfferedGoods } from './substitution.ts';
import type { Tried } from './try-out.ts';

interface DeliveredPath {
  Params: { lineId: string };
}
interface OfferedPath {
  Params: { openingId: string; lineId: string };
  Querystring: { kind?: string };
}

/** What can take the place of a beam; everything else is replaced by its own kind. */
const beamKinds: readonly GoodsKind[] = ['composite', 'sawn', 'glulam', 'steel shape'];

/** What the yard sent, or offers, instead: tried against the approved design, and proposed to the engineer. */
export async function substitutionRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  function answer(
    { role }: Actor,
    reply: FastifyReply,
    offer: Offer & { readonly tried: Tried },
    propose: { readonly action: string; readonly fields: Typed },
  ) {
    return reply.page('site/deliveries/substitution.njk', {
      offer,
      propose,
      opening: offer.state.materials,
      tried: offer.tried,
      may: { offer: roleMay(role, 'substitution.offer') && offer.items.length > 0 },
    });
  }

  async function proposed(actor: Actor, reply: FastifyReply, offered: OfferedGoods) {
    const { openingId, made } = await offerSubstitution(deps, actor, offered);
    reply.flash(
      `${made.join('; ')}: started as a substitution. Recalculate what rests on it, then submit it to the engineer. Nothing is built with it before a set says so.`,
    );
    return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}`, 303);
  }

  app.get<DeliveredPath>(
    '/projects/:projectId/delivery-lines/:lineId/substitution',
    { config: { access: 'substitution.try' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { lineId } = request.params;
      const offer = await trySubstitution(deps, actor, { is: 'delivered', deliveryLineId: lineId });
      const action = `/projects/${actor.projectId}/delivery-lines/${lineId}/substitution`;
      return answer(actor, reply, offer, { action, fields: {} });
    },
  );

  app.post<DeliveredPath>(
    '/projects/:projectId/delivery-lines/:lineId/substitution',
    { config: { access: 'substitution.offer' } },
    async (request, reply) =>
      proposed(actorOf(request), reply, { is: 'delivered', deliveryLineId: request.params.lineId }),
  );

  async function lineOf(actor: Actor, { openingId: id, lineId }: OfferedPath['Params']) {
    const openingId = knownId(id, 'That opening');
    const materials = await approvedMaterials(deps.prisma, actor.projectId, openingId);
    const line = materials.list.lines.find((one) => one.id === lineId);
    if (line === undefined) throw new NotFound('That line of the list');
    return { materials, line };
  }

  async function form(
    actor: Actor,
    reply: FastifyReply,
    params: OfferedPath['Params'],
    kind: GoodsKind | null,
    typed?: FormState,
  ) {
    const { materials, line } = await lineOf(actor, params);
    const kinds = kindsFor(line);
    const chosen = kind !== null && kinds.includes(kind) ? kind : line.goods.kind;
    const start = chosen === line.goods.kind ? fillForm(goodsForm(chosen), line.goods) : {};
    return reply.page('site/deliveries/offer.njk', {
      opening: materials,
      line: { id: line.id, words: fullWords(line.goods) },
      kinds: kinds.map((one) => ({ value: one, text: one })),
      kind: chosen,
      fields: askedFields(chosen),
      form: { values: { ...start, ...typed?.values, kind: chosen }, errors: typed?.errors ?? {} },
    });
  }

  const path = '/projects/:projectId/openings/:openingId/materials/:lineId/substitution';

  app.get<OfferedPath>(path, { config: { access: 'substitution.try' } }, async (request, reply) =>
    form(actorOf(request), reply, request.params, kindFrom(request.query.kind)),
  );

  const trying = {
    access: 'substitution.try',
    keepForm: ({ projectId = '', openingId = '', lineId = '' }, { kind = '' }: Typed) =>
      `/projects/${projectId}/openings/${openingId}/materials/${encodeURIComponent(lineId)}/substitution?${new URLSearchParams({ kind }).toString()}`,
  } as const;
  app.post<OfferedPath>(path, { config: trying }, async (request, reply) => {
    const actor = actorOf(request);
    const typed = typedFrom(request.body);
    try {
      const offer = await trySubstitution(deps, actor, await offeredFrom(actor, request.params, typed));
      const { openingId, lineId } = request.params;
      const action = `/projects/${actor.projectId}/openings/${openingId}/materials/${encodeURIComponent(lineId)}/substitution/proposal`;
      const { _csrf, ...fields } = typed;
      return await answer(actor, reply, offer, { action, fields });
    } catch (error) {
      if (!(error instanceof Invalid)) throw error;
      const state = { values: typed, errors: error.fields };
      return form(actor, reply.status(422), request.params, kindFrom(typed.kind), state);
    }
  });

  app.post<OfferedPath>(
    `${path}/proposal`,
    { config: { access: 'substitution.offer' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      return proposed(actor, reply, await offeredFrom(actor, request.params, typed));
    },
  );

  async function offeredFrom(
    actor: Actor,
    params: OfferedPath['Params'],
    typed: Typed,
  ): Promise<OfferedGoods> {
    const { line } = await lineOf(actor, params);
    const kind = kindFrom(typed.kind) ?? line.goods.kind;
    if (!kindsFor(line).includes(kind))
      throw new Invalid({ kind: 'That can’t take its place. Choose another kind.' });
    const { content, problems } = readForm(goodsForm(kind), { ...typed, kind });
    if (Object.keys(problems).length > 0) throw new Invalid(problems);
    return { is: 'offered', openingId: params.openingId, lineId: params.lineId, goods: content };
  }
}

function kindsFor(line: MaterialLine): readonly GoodsKind[] {
  const { kind } = line.goods;
  return line.steps.includes('beam') && beamKinds.includes(kind) ? beamKinds : [kind];
}

function kindFrom(text: string | undefined): GoodsKind | null {
  return goodsKinds.find((kind) => kind === text) ?? null;
}
