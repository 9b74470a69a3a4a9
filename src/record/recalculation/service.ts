import type { Actor } from '../../actor.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { failingChecks } from '../calculation.ts';
import { knownId } from '../identifier.ts';
import { alongTheLoadPath } from '../kinds/registry.ts';
import { loadStale, groundsOfOpening } from '../staleness/store.ts';
import { useCase, type RecordDeps, type UseCase } from '../use-case.ts';
import { judgeContent, putOnRecord, workOut } from '../versions/make.ts';
import { comesToTheSame, isSubmitted } from '../versions/rules.ts';
import { findItem, newestVersion, type ItemRow } from '../versions/store.ts';
import type { GroundItem, StaleReason } from '../staleness/rules.ts';

/**
 * What came of recalculating one item. `refused`: the engine or the rules do not have it as things stand; only
 * `recalculateOpening` answers so, for one item among others.
 */
export interface Recalculated {
  readonly item: ItemRow;
  /** `unchanged`: same content, same figures, same checks; the version and the mark on it stand. */
  readonly outcome: 'new version' | 'unchanged' | 'refused';
  /** The newest version after it; null for an item without one. */
  readonly number: number | null;
  readonly sentence: string;
}

/**
 * Works an item out anew from its newest content: a new version where anything comes out differently, to be
 * submitted and marked again. Also the engineer's recalculation awaits a mark: nobody has seen yet what came out.
 * Where content, figures and checks are equal it says so and makes nothing: the mark stands.
 *
 * @throws Refused where what it rests on is itself stale,
 * or the item has no version. @throws Invalid where the engine refuses the content as things stand.
 */
export async function recalculateItem(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string },
): Promise<Recalculated> {
  const itemId = knownId(input.itemId, 'That item');
  return useCase(deps, actor, 'item.save', async (use) => {
    const item = await findItem(use.tx, use.actor.projectId, itemId);
    if (!item) throw new NotFound('That item');
    const openingId = item.openingId;
    if (openingId !== null) {
      const stale = await loadStale(use.tx, use.kinds, { projectId: item.projectId, openingId });
      const below = stale
        .get(itemId)
        ?.find((reason) => stale.has(reason.on.itemId) && reason.on.itemId !== itemId);
      if (below) throw new Refused(`${below.on.title} is out of date; recalculate that first.`);
    }
    return recalculate(use, item, await groundsOfOpening(use.tx, use.kinds, item.projectId, openingId));
  });
}

/** Recalculates every stale item of an opening in one transaction, each after what it rests on. */
export async function recalculateOpening(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string },
): Promise<readonly Recalculated[]> {
  const openingId = knownId(input.openingId, 'That opening');
  return useCase(deps, actor, 'item.save', async (use) => {
    const { tx, kinds, actor: present } = use;
    const opening = await tx.opening.findFirst({ where: { id: openingId, projectId: present.projectId } });
    if (!opening) throw new NotFound('That opening');
    const done: Recalculated[] = [];
    for (const kind of alongTheLoadPath(kinds)) {
      // Looked up again for each kind: what was just recalculated decides about what rests on it.
      const stale = await loadStale(tx, kinds, { projectId: present.projectId, openingId });
      if (stale.size === 0) break;
      const items = await tx.item.findMany({
        where: { id: { in: [...stale.keys()] }, kind },
        orderBy: { key: 'asc' },
      });
      // No kind rests on its own kind: one reading of the grounds serves all items of this one.
      const grounds =
        items.length === 0 ? [] : await groundsOfOpening(tx, kinds, present.projectId, openingId);
      for (const { id, ...row } of items) {
        const item = { itemId: id, ...row };
        const below = staleBelow(stale, id);
        if (below === undefined) done.push(await attempt(use, item, grounds));
        else done.push(refused(item, `${below} is still out of date.`));
      }
    }
    return done;
  });
}

async function attempt(use: UseCase, item: ItemRow, grounds: readonly GroundItem[]): Promise<Recalculated> {
  try {
    return await recalculate(use, item, grounds);
  } catch (error) {
    // Nothing was written by then: one item that can't be recalculated does not hold up the others.
    if (!(error instanceof Invalid) && !(error instanceof Refused)) throw error;
    return refused(item, error.message);
  }
}

function refused(item: ItemRow, sentence: string): Recalculated {
  return { item, outcome: 'refused', number: null, sentence };
}

/** The title of what the item rests on that is stale itself. */
function staleBelow(stale: ReadonlyMap<string, readonly StaleReason[]>, itemId: string): string | undefined {
  const reasons = stale.get(itemId) ?? [];
  return reasons.find(({ on }) => on.itemId !== itemId && stale.has(on.itemId))?.on.title;
}

async function recalculate(
  use: UseCase,
  item: ItemRow,
  grounds: readonly GroundItem[],
): Promise<Recalculated> {
  const { tx, actor, kinds } = use;
  const newest = await newestVersion(tx, item.itemId);
  if (!newest) throw new Refused(`${item.title} has no version yet.`);
  const content = judgeContent(kinds, item, newest.content);
  const worked = workOut(kinds, item, content, grounds);
  if (comesToTheSame(newest, worked)) {
    const stands = newest.marks.length > 0 ? ', and so does the mark on it' : '';
    const sentence = `Recalculated: everything comes out as before. Version ${newest.number} stands${stands}.`;
    return { item, outcome: 'unchanged', number: newest.number, sentence };
  }
  if (actor.role === 'engineer' && kinds.get(item.kind).reviewable && !isSubmitted(newest)) {
    throw new Refused(`Version ${newest.number} of ${item.title} was not submitted yet.`);
  }
  const reason = 'Recalculated: what it rests on has changed.';
  const made = await putOnRecord(use, item, newest.number + 1, worked, reason, 'recalculated');
  const failing = failingChecks(made.calculation).map((check) => check.title);
  const verdict = failing.length === 0 ? 'all checks are met' : `not met: ${failing.join('; ')}`;
  const next = actor.role === 'engineer' ? 'It awaits a mark.' : 'It needs to be submitted and marked again.';
  const sentence = `Recalculated as version ${made.number}; ${verdict}. ${next}`;
  return { item, outcome: 'new version', number: made.number, sentence };
}
