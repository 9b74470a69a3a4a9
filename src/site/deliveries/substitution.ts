import type { Actor } from '../../actor.ts';
import { NotFound, Refused } from '../../problems.ts';
import type { Transaction } from '../../record/events/append.ts';
import { knownId } from '../../record/identifier.ts';
import { asMember, useCase, type RecordDeps } from '../../record/use-case.ts';
import { addVersion } from '../../record/versions/service.ts';
import { newestVersion } from '../../record/versions/store.ts';
import type { ApprovedItem } from '../materials/approved.ts';
import { fullWords } from '../materials/words.ts';
import { materialState, type DeliveredLine, type MaterialState } from './store.ts';
import { withGoods } from './substitute.ts';
import { tryOut, type Tried } from './try-out.ts';

/** A delivered line that does not match, and the approved items that would have to change for it. */
export interface Offer {
  readonly state: MaterialState;
  readonly delivered: DeliveredLine;
  readonly calledForWords: string;
  readonly offeredWords: string;
  readonly differences: readonly string[];
  /** Item id → content with the goods offered. */
  readonly replaced: ReadonlyMap<string, unknown>;
  readonly items: readonly ApprovedItem[];
}

async function readOffer(tx: Transaction, projectId: string, deliveryLineId: string): Promise<Offer> {
  const row = await tx.deliveryLine.findFirst({
    where: { id: deliveryLineId, projectId },
    select: { delivery: { select: { openingId: true } } },
  });
  if (row === null) throw new NotFound('That line');
  const state = await materialState(tx, projectId, row.delivery.openingId);
  const held = state.held.find((one) => one.delivered.deliveryLineId === deliveryLineId);
  if (held === undefined) throw new Refused('These goods went back, or were never there: nothing to try.');
  if (held.differences.length === 0)
    throw new Refused('This line matches the set in force: nothing has to be changed for it.');
  const { delivered, line } = held;
  const items = (line?.sources ?? []).flatMap((source) => state.materials.items.get(source) ?? []);
  const replaced = new Map<string, unknown>();
  for (const item of items) {
    const content = withGoods(item.kind, item.content, delivered.goods);
    if (content !== null) replaced.set(item.itemId, content);
  }
  return {
    state,
    delivered,
    calledForWords: fullWords(line?.goods ?? delivered.calledFor),
    offeredWords: fullWords(delivered.goods),
    differences: held.differences,
    replaced,
    items: items.filter(({ itemId }) => replaced.has(itemId)),
  };
}

/** Tries what arrived against the approved design. Writes nothing. @throws Refused where there is nothing to try */
export async function trySubstitution(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly deliveryLineId: string },
): Promise<Offer & { readonly tried: Tried }> {
  const deliveryLineId = knownId(input.deliveryLineId, 'That line');
  return asMember(deps, actor, 'substitution.try', async (tx, { projectId }) => {
    const offer = await readOffer(tx, projectId, deliveryLineId);
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
  input: { readonly deliveryLineId: string },
): Promise<{ readonly openingId: string; readonly made: readonly string[] }> {
  const deliveryLineId = knownId(input.deliveryLineId, 'That line');
  return useCase(deps, actor, 'substitution.offer', async (use) => {
    const { tx } = use;
    const offer = await readOffer(tx, use.actor.projectId, deliveryLineId);
    if (offer.items.length === 0) throw new Refused('No item of the set could take these goods.');
    const made: string[] = [];
    const { calledForWords, offeredWords, delivered } = offer;
    const reason = `Substitution: ${offeredWords} for ${calledForWords}, delivery ${delivered.deliveryNumber}.`;
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
