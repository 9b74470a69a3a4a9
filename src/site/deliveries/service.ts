import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import type { UploadedFile } from '../../attachments/multipart.ts';
import { recordAttachments } from '../../attachments/service.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { canonicalJson } from '../../record/canonical.ts';
import { knownId } from '../../record/identifier.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { fullWords } from '../materials/words.ts';
import { holdAgainst, judgedGoods } from './rules.ts';
import { materialState } from './store.ts';

const LONGEST_NAME = 120;

function yardName(text: string): string {
  const yard = prose(text, 'yard');
  if (yard.length > LONGEST_NAME) throw new Invalid({ yard: `Use at most ${LONGEST_NAME} characters.` });
  return yard;
}

/** Writes down an order of everything that the set in force calls for and that was not ordered yet. */
export async function placeOrder(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string; readonly yard: string; readonly note: string },
): Promise<{ number: number; lines: number }> {
  const openingId = knownId(input.openingId, 'That opening');
  const yard = yardName(input.yard);
  const note = prose(input.note, 'note');
  return useCase(deps, actor, 'order.place', async ({ tx, at, append, actor: { projectId, personId } }) => {
    const { materials, standings } = await materialState(tx, projectId, openingId);
    if (materials.set === null) throw new Refused('There is no approved set yet: nothing to order by.');
    const missing = standings.flatMap(({ line, ordered, arrived }) => {
      const count = line.order.count - Math.max(ordered, arrived);
      return count > 0 ? [{ goods: line.goods, count }] : [];
    });
    if (missing.length === 0) throw new Refused('Everything on the list was ordered already.');
    const last = await tx.materialOrder.aggregate({ where: { openingId }, _max: { number: true } });
    const number = (last._max.number ?? 0) + 1;
    const orderId = randomUUID();
    const lines = canonicalJson(missing);
    const { setId } = materials.set;
    await tx.materialOrder.create({
      data: { id: orderId, projectId, openingId, setId, number, yard, lines, note, byId: personId, at },
      select: { id: true },
    });
    await append('order.placed', { orderId, openingId, setId, number, yard, lines, note });
    return { number, lines: missing.length };
  });
}

/** A truck is here: opens the delivery that its lines are checked into. */
export async function receiveDelivery(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string; readonly yard: string; readonly note: string },
): Promise<{ deliveryId: string; number: number }> {
  const openingId = knownId(input.openingId, 'That opening');
  const yard = yardName(input.yard);
  const note = prose(input.note, 'note');
  return useCase(
    deps,
    actor,
    'delivery.record',
    async ({ tx, at, append, actor: { projectId, personId } }) => {
      const { materials } = await materialState(tx, projectId, openingId);
      if (materials.set === null)
        throw new Refused('There is no approved set yet: nothing to hold a delivery against.');
      const last = await tx.delivery.aggregate({ where: { openingId }, _max: { number: true } });
      const number = (last._max.number ?? 0) + 1;
      const deliveryId = randomUUID();
      await tx.delivery.create({
        data: { id: deliveryId, projectId, openingId, number, yard, note, byId: personId, at },
        select: { id: true },
      });
      await append('delivery.received', { deliveryId, openingId, number, yard, note });
      return { deliveryId, number };
    },
  );
}

export interface CheckLine {
  readonly deliveryId: string;
  readonly clientKey: string;
  readonly lineId: string;
  readonly delivered: unknown;
  readonly count: number;
  readonly offGround: boolean;
  readonly covered: boolean;
  readonly note: string;
  readonly files: readonly UploadedFile[];
}

export interface CheckedLine {
  readonly deliveryLineId: string;
  readonly words: string;
  /** In sentences; empty where it matches. */
  readonly differences: readonly string[];
  readonly repeated: boolean;
}

/**
 * Writes down one line of a delivery as it was found, held against the set in force; never changed after. A mismatch is an
 * event of its own, of which the engineer is told.
 *
 * @throws Invalid at the fields of what can't be @throws NotFound for a line that the list does not have
 */
export async function checkLine(deps: RecordDeps, actor: Actor, input: CheckLine): Promise<CheckedLine> {
  const deliveryId = knownId(input.deliveryId, 'That delivery');
  const note = prose(input.note, 'note');
  if (!(Number.isFinite(input.count) && input.count > 0 && input.count < 1e6))
    throw new Invalid({ count: 'How many came: more than none.' });
  const goods = judgedGoods(input.delivered);
  return useCase(deps, actor, 'delivery.record', async (use) => {
    const { tx, at, append } = use;
    const { projectId, personId } = use.actor;
    const delivery = await tx.delivery.findFirst({ where: { id: deliveryId, projectId } });
    if (delivery === null) throw new NotFound('That delivery');
    const { clientKey, lineId, count, offGround, covered } = input;
    const there = await tx.deliveryLine.findUnique({
      where: { deliveryId_clientKey: { deliveryId, clientKey } },
    });
    const delivered = canonicalJson(goods);
    if (there !== null) {
      if (there.delivered !== delivered || there.count !== count || there.lineId !== lineId)
        throw new Invalid({ '': 'This form was sent before with other words. Look at what stands now.' });
      const said = JSON.parse(there.differences) as string[];
      return { deliveryLineId: there.id, words: fullWords(goods), differences: said, repeated: true };
    }
    const { materials } = await materialState(tx, projectId, delivery.openingId);
    const line = materials.list.lines.find(({ id }) => id === lineId);
    if (materials.set === null || line === undefined) throw new NotFound('That line of the list');
    const deliveryLineId = randomUUID();
    const [held] = holdAgainst([line], [{ deliveryLineId, lineId, goods, count, withdrawn: false }]);
    const found = held?.differences ?? [];
    const row = {
      clientKey,
      deliveryId,
      setId: materials.set.setId,
      lineId,
      calledFor: canonicalJson(line.goods),
      delivered,
      count,
      offGround,
      covered,
      differences: canonicalJson(found),
      note,
    };
    await tx.deliveryLine.create({
      data: { id: deliveryLineId, projectId, ...row, byId: personId, at },
      select: { id: true },
    });
    await append(found.length === 0 ? 'delivery.matched' : 'delivery.mismatched', { deliveryLineId, ...row });
    await recordAttachments(use, {
      files: input.files,
      caption: fullWords(goods),
      to: { subject: 'delivery_line', subjectId: deliveryLineId },
    });
    return { deliveryLineId, words: fullWords(goods), differences: found, repeated: false };
  });
}

/** The goods went back, or the line was entered wrongly: it counts no longer, and stays in the record. */
export async function withdrawLine(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly deliveryLineId: string;
    readonly reason: 'sent_back' | 'entered_wrongly';
    readonly note: string;
  },
): Promise<{ deliveryId: string }> {
  const deliveryLineId = knownId(input.deliveryLineId, 'That line');
  const note = prose(input.note, 'note');
  return useCase(
    deps,
    actor,
    'delivery.record',
    async ({ tx, at, append, actor: { projectId, personId } }) => {
      const line = await tx.deliveryLine.findFirst({
        where: { id: deliveryLineId, projectId },
        include: { withdrawal: true },
      });
      if (line === null) throw new NotFound('That line');
      const { deliveryId } = line;
      if (line.withdrawal !== null) return { deliveryId };
      const withdrawalId = randomUUID();
      const { reason } = input;
      await tx.deliveryWithdrawal.create({
        data: { id: withdrawalId, projectId, deliveryLineId, reason, note, byId: personId, at },
        select: { id: true },
      });
      await append('delivery.withdrawn', { withdrawalId, deliveryLineId, reason, note });
      return { deliveryId };
    },
  );
}
