import type { Actor } from '../../actor.ts';
import { differences, type Goods, type MaterialLine } from '../../engineering/materials-list/index.ts';
import { NotFound, Refused } from '../../problems.ts';
import type { Transaction } from '../../record/events/append.ts';
import { knownId } from '../../record/identifier.ts';
import { asMember, useCase, type RecordDeps } from '../../record/use-case.ts';
import { addVersion } from '../../record/versions/service.ts';
import { newestVersion } from '../../record/versions/store.ts';
import type { ApprovedItem } from '../materials/approved.ts';
import { fullWords } from '../materials/words.ts';
import { judgedGoods } from './rules.ts';
import { materialState, type MaterialState } from './store.ts';
import { withGoods } from './substitute.ts';
import { tryOut, type Tried } from './try-out.ts';

/** Goods that could take the place of those called for: on a truck that came, or offered by the yard beforehand. */
export type OfferedGoods =
  | { readonly is: 'delivered'; readonly deliveryLineId: string }
  | { readonly is: 'offered'; readonly openingId: string; readonly lineId: string; readonly goods: unknown };

/** Goods that the set does not call for, and the approved items that would have to change for them. */
export interface Offer {
  readonly state: MaterialState;
  /** Where they are: 'delivery 3', 'offered by the yard'. */
  readonly fromWords: string;
  readonly calledForWords: string;
  readonly offeredWords: string;
  readonly differences: readonly string[];
  /** Item id → content with the goods offered. */
  readonly replaced: ReadonlyMap<string, unknown>;
  readonly items: readonly ApprovedItem[];
}

/** Goods held against the line they are meant for. */
interface HeldOffer extends Pick<Offer, 'state' | 'fromWords' | 'calledForWords' | 'differences'> {
  readonly goods: Goods;
  readonly line: MaterialLine | undefined;
}

async function readOffer(tx: Transaction, projectId: string, offered: OfferedGoods): Promise<Offer> {
  const { goods, line, ...held } = await (offered.is === 'delivered'
    ? deliveredGoods(tx, projectId, offered.deliveryLineId)
    : goodsOfYard(tx, projectId, offered));
  if (held.differences.length === 0) {
    throw new Refused('These goods match the set in force: nothing has to be changed for them.');
  }
  const items = (line?.sources ?? []).flatMap((source) => held.state.materials.items.get(source) ?? []);
  const replaced = new Map<string, unknown>();
  for (const item of items) {
    const content = withGoods(item.kind, item.content, goods);
    if (content !== null) replaced.set(item.itemId, content);
  }
  return {
    ...held,
    offeredWords: fullWords(goods),
    replaced,
    items: items.filter(({ itemId }) => replaced.has(itemId)),
  };
}

async function deliveredGoods(tx: Transaction, projectId: string, id: string): Promise<HeldOffer> {
  const deliveryLineId = knownId(id, 'That line');
  const row = await tx.deliveryLine.findFirst({
    where: { id: deliveryLineId, projectId },
    select: { delivery: { select: { openingId: true } } },
  });
  if (row === null) throw new NotFound('That line');
  const state = await materialState(tx, projectId, row.delivery.openingId);
  const held = state.held.find((one) => one.delivered.deliveryLineId === deliveryLineId);
  if (held === undefined) throw new Refused('These goods went back, or were never there: nothing to try.');
  const { delivered, line, differences: found } = held;
  return {
    state,
    line,
    goods: delivered.goods,
    fromWords: `delivery ${delivered.deliveryNumber}`,
    calledForWords: fullWords(line?.goods ?? delivered.calledFor),
    differences: found,
  };
}

async function goodsOfYard(
  tx: Transaction,
  projectId: string,
  { openingId: id, lineId, goods: typed }: Extract<OfferedGoods, { is: 'offered' }>,
): Promise<HeldOffer> {
  const state = await materialState(tx, projectId, knownId(id, 'That opening'));
  const line = state.materials.list.lines.find((one) => one.id === lineId);
  if (line === undefined) throw new NotFound('That line of the list');
  const goods = judgedGoods(typed);
  return {
    state,
    line,
    goods,
    fromWords: 'offered by the yard',
    calledForWords: fullWords(line.goods),
    differences: differences(line.goods, goods, line.leastLengthIn, 'offered').map(
      ({ sentence }) => sentence,
    ),
  };
}

/**
 * Tries goods against the approved design. Writes nothing.
 *
 * @throws Refused where there is nothing to try; @throws Invalid at the box where the yard's offer can't be read
 */
export async function trySubstitution(
  deps: RecordDeps,
  actor: Actor,
  offered: OfferedGoods,
): Promise<Offer & { readonly tried: Tried }> {
  return asMember(deps, actor, 'substitution.try', async (tx, { projectId }) => {
    const offer = await readOffer(tx, projectId, offered);
    const { openingId, items } = offer.state.materials;
    const tried = await tryOut(tx, deps.kinds, { projectId, openingId }, [...items.values()], offer.replaced);
    return { ...offer, tried };
  });
}

/**
 * Starts the next version of every item that the goods are for, with them in place: the contractor's proposal, for the
 * engineer to mark. Nothing is built with them before a set says so.
 *
 * @throws Refused where an item has a newer version than the set in force, or the goods have no place in it
 */
export async function offerSubstitution(
  deps: RecordDeps,
  actor: Actor,
  offered: OfferedGoods,
): Promise<{ readonly openingId: string; readonly made: readonly string[] }> {
  return useCase(deps, actor, 'substitution.offer', async (use) => {
    const { tx } = use;
    const offer = await readOffer(tx, use.actor.projectId, offered);
    if (offer.items.length === 0)
      throw new Refused(
        'No item of the set could take these goods. Ask the engineer on the page of the item.',
      );
    const made: string[] = [];
    const { calledForWords, offeredWords, fromWords } = offer;
    const reason = `Substitution: ${offeredWords} for ${calledForWords}, ${fromWords}.`;
    for (const { itemId, number, title } of offer.items) {
      const newest = await newestVersion(tx, itemId);
      if (newest?.number !== number) {
        throw new Refused(
          `${title} has a version ${newest?.number ?? 0} that the set in force does not hold yet: look at that one first.`,
        );
      }
      const saved = await addVersion(use, itemId, {
        itemId,
        expectedNumber: number,
        content: offer.replaced.get(itemId),
        reason,
      });
      made.push(`${title}, version ${saved.number}`);
    }
    return { openingId: offer.state.materials.openingId, made };
  });
}
