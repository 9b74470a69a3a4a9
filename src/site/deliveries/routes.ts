import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { readUpload } from '../../attachments/multipart.ts';
import { attachmentsOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import { cursorText } from '../../record/time-cursor.ts';
import { asMember } from '../../record/use-case.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { readForm, readNumber, typedFrom } from '../../web/forms/read.ts';
import type { Typed } from '../../web/forms/spec.ts';
import { listPage } from '../../web/list-page.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { goodsForm } from './forms.ts';
import { lineForms, shownBlocks, shownLines, shownStandings } from './page.ts';
import { checkLine, placeOrder, receiveDelivery, withdrawLine } from './service.ts';
import { materialState, type MaterialState } from './store.ts';

const nothingTyped = { values: {}, errors: {}, prefix: '' } as const;
/** Made by the page for each form it shows. */
const clientKeyForm = /^[\w-]{8,80}$/;

/** Lines that came, and deliveries and orders, that a page shows at a time. */
const LINES = 40;
const LISTED = 30;

/** Where the page's lists go on. */
const pageQuery = z.object({ came: cursorText, deliveries: cursorText, orders: cursorText });

interface OpeningPath {
  Params: { openingId: string };
}
interface DeliveryPath {
  Params: { deliveryId: string };
}

const pageOfDeliveries = ({ projectId = '', openingId = '' }) =>
  `/projects/${projectId}/openings/${openingId}/deliveries`;
const pageOfDelivery = ({ projectId = '', deliveryId = '' }) =>
  `/projects/${projectId}/deliveries/${deliveryId}`;

/** The boxes of one line of the list, without the prefix that tells it from the others on the page. */
function lineBoxes(fields: Typed) {
  const prefix = /^l\d{1,4}$/.test(fields.prefix ?? '') ? (fields.prefix ?? '') : 'l0';
  const own = Object.entries(fields).filter(([name]) => name.startsWith(`${prefix}.`));
  return {
    prefix,
    values: Object.fromEntries(own.map(([name, value]) => [name.slice(prefix.length + 1), value])),
  };
}

/** Orders and deliveries of an opening: what was asked for, what came, and what is held up by what did not. */
export async function deliveryRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, blobs, config } = deps;

  const stateOf = (actor: Actor, id: string): Promise<MaterialState> => {
    const openingId = knownId(id, 'That opening');
    return asMember(deps, actor, 'delivery.read', (tx, { projectId }) =>
      materialState(tx, projectId, openingId),
    );
  };
  const photosOf = (actor: Actor, { delivered }: MaterialState) =>
    attachmentsOf(
      prisma,
      actor.projectId,
      actor.role,
      'delivery_line',
      delivered.map(({ deliveryLineId }) => deliveryLineId),
    );

  async function openingPage(
    actor: Actor,
    reply: FastifyReply,
    openingId: string,
    form: FormState = nothingTyped,
    asked: Partial<z.infer<typeof pageQuery>> = {},
  ) {
    const state = await stateOf(actor, openingId);
    const came = listPage(state.delivered, ({ deliveryLineId }) => deliveryLineId, asked.came, LINES);
    const ofPage = { ...state, delivered: came.entries };
    return reply.page('site/deliveries/opening.njk', {
      opening: state.materials,
      set: state.materials.set,
      standings: shownStandings(state),
      blocks: shownBlocks(state),
      came,
      lines: shownLines(ofPage, await photosOf(actor, ofPage)),
      deliveries: listPage(state.deliveries, ({ deliveryId }) => deliveryId, asked.deliveries, LISTED),
      orders: listPage(state.orders, ({ deliveryId }) => deliveryId, asked.orders, LISTED),
      form,
      may: {
        order: roleMay(actor.role, 'order.place'),
        record: roleMay(actor.role, 'delivery.record'),
        try: roleMay(actor.role, 'substitution.try'),
      },
    });
  }

  app.get<OpeningPath & { Querystring: z.infer<typeof pageQuery> }>(
    '/projects/:projectId/openings/:openingId/deliveries',
    { config: { access: 'delivery.read' } },
    async (request, reply) => {
      const asked = pageQuery.parse(request.query);
      return openingPage(actorOf(request), reply, request.params.openingId, nothingTyped, asked);
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/orders',
    { config: { access: 'order.place', keepForm: pageOfDeliveries } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      try {
        const { yard = '', note = '' } = typed;
        const { number, lines } = await placeOrder(deps, actor, { openingId, yard, note });
        reply.flash(`Order ${number} is written down: ${lines} ${lines === 1 ? 'line' : 'lines'}.`);
        return await reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/deliveries`, 303);
      } catch (error) {
        if (error instanceof Invalid)
          return openingPage(actor, reply.status(422), openingId, { values: typed, errors: error.fields });
        if (!(error instanceof Refused)) throw error;
        const errors = { '': error.message };
        return openingPage(actor, reply.status(422), openingId, { values: typed, errors });
      }
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/deliveries',
    { config: { access: 'delivery.record', keepForm: pageOfDeliveries } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      try {
        const { yard = '', note = '' } = typed;
        const { deliveryId } = await receiveDelivery(deps, actor, { openingId, yard, note });
        return await reply.redirect(`/projects/${actor.projectId}/deliveries/${deliveryId}`, 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        return openingPage(actor, reply.status(422), openingId, { values: typed, errors: error.fields });
      }
    },
  );

  async function deliveryPage(
    actor: Actor,
    reply: FastifyReply,
    id: string,
    typed: FormState & { readonly prefix: string } = nothingTyped,
  ) {
    const deliveryId = knownId(id, 'That delivery');
    const delivery = await prisma.delivery.findFirst({
      where: { id: deliveryId, projectId: actor.projectId },
    });
    if (delivery === null) throw new NotFound('That delivery');
    const state = await stateOf(actor, delivery.openingId);
    const errors = Object.fromEntries(
      Object.entries(typed.errors).map(([name, said]) => [
        name === '' ? '' : `${typed.prefix}.${name}`,
        said,
      ]),
    );
    return reply.page('site/deliveries/delivery.njk', {
      delivery,
      opening: state.materials,
      set: state.materials.set,
      lines: shownLines(state, await photosOf(actor, state), deliveryId),
      blocks: shownBlocks(state),
      forms: lineForms(state, typed),
      form: { values: {}, errors },
      may: {
        record: roleMay(actor.role, 'delivery.record'),
        try: roleMay(actor.role, 'substitution.try'),
      },
    });
  }

  app.get<DeliveryPath>(
    '/projects/:projectId/deliveries/:deliveryId',
    { config: { access: 'delivery.read' } },
    async (request, reply) => {
      const kept = await reply.takeKept();
      const typed = kept === null ? nothingTyped : { ...lineBoxes(kept.fields), errors: {} };
      return deliveryPage(actorOf(request), reply, request.params.deliveryId, typed);
    },
  );

  app.post<DeliveryPath>(
    '/projects/:projectId/deliveries/:deliveryId/lines',
    {
      config: { access: 'delivery.record', csrfInStream: true, keepForm: pageOfDelivery },
      bodyLimit: config.uploadLimitBytes * 21,
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { deliveryId } = request.params;
      const { fields, files } = await readUpload(app, request, reply, blobs, config.uploadLimitBytes);
      const { lineId = '', clientKey = '' } = fields;
      const { prefix, values: typed } = lineBoxes(fields);
      try {
        if (!clientKeyForm.test(clientKey))
          throw new Refused(
            'This form can’t be told from another one. Open the page again, and send it from there.',
          );
        if (fields.do !== 'as called for' && fields.do !== 'differs')
          throw new Invalid({ '': 'Press “As called for”, or write down what differs.' });
        const delivered = await whatCame(actor, deliveryId, lineId, fields.do === 'differs' ? typed : null);
        const count = readNumber((typed.count ?? '').trim());
        if (count === null) throw new Invalid({ count: 'How many came: enter a number.' });
        for (const file of files) await file.received.commit();
        const { words, differences } = await checkLine(deps, actor, {
          deliveryId,
          clientKey,
          lineId,
          delivered,
          count,
          offGround: typed.offGround === 'yes',
          covered: typed.covered === 'yes',
          note: typed.note ?? '',
          files,
        });
        reply.flash(
          differences.length === 0
            ? `${words}: matches.`
            : `${words}: does not match. ${differences.join(' ')} The engineer is told.`,
        );
        return await reply.redirect(`/projects/${actor.projectId}/deliveries/${deliveryId}#left`, 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        const again = files.length > 0 ? { '': 'The photo has to be chosen again.' } : {};
        const errors = { ...error.fields, ...again };
        return await deliveryPage(actor, reply.status(422), deliveryId, { values: typed, errors, prefix });
      } finally {
        await Promise.all(files.map((file) => file.received.discard()));
      }
    },
  );

  /** What was called for, or what was typed in the form of its kind. */
  async function whatCame(
    actor: Actor,
    deliveryId: string,
    lineId: string,
    typed: Readonly<Record<string, string>> | null,
  ): Promise<unknown> {
    const delivery = await prisma.delivery.findFirst({
      where: { id: knownId(deliveryId, 'That delivery'), projectId: actor.projectId },
      select: { openingId: true },
    });
    if (delivery === null) throw new NotFound('That delivery');
    const { materials } = await stateOf(actor, delivery.openingId);
    const line = materials.list.lines.find(({ id }) => id === lineId);
    if (line === undefined) throw new NotFound('That line of the list');
    if (typed === null) return line.goods;
    const { content, problems } = readForm(goodsForm(line.goods.kind), { ...typed, kind: line.goods.kind });
    if (Object.keys(problems).length > 0) throw new Invalid(problems);
    return content;
  }

  app.post<{ Params: { lineId: string } }>(
    '/projects/:projectId/delivery-lines/:lineId/withdrawal',
    { config: { access: 'delivery.record' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const reason = (['sent_back', 'entered_wrongly'] as const).find((one) => one === typed.reason);
      if (reason === undefined) throw new Refused('Say whether it went back or was entered wrongly.');
      const { deliveryId } = await withdrawLine(deps, actor, {
        deliveryLineId: request.params.lineId,
        reason,
        note: typed.note ?? '',
      });
      reply.flash('It counts no longer; it stays in the record.');
      return reply.redirect(`/projects/${actor.projectId}/deliveries/${deliveryId}`, 303);
    },
  );
}
