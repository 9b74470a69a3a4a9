import { Invalid } from '../../problems.ts';
import type { Calculation } from '../../record/calculation.ts';
import type { Transaction } from '../../record/events/append.ts';
import { alongTheLoadPath, type KindRegistry } from '../../record/kinds/registry.ts';
import { groundsOfOpening } from '../../record/staleness/store.ts';
import { workOut } from '../../record/versions/make.ts';
import { versionsById } from '../../record/versions/store.ts';
import type { ApprovedItem } from '../materials/approved.ts';

/** One check, as approved and with the goods offered. */
export interface TriedCheck {
  readonly title: string;
  /** Null where the approved version has no such check. */
  readonly was: number | null;
  readonly now: number;
  readonly passes: boolean;
}

export interface TriedItem {
  readonly itemId: string;
  readonly title: string;
  /** Would this item itself change, or does it rest on one that does? */
  readonly replaced: boolean;
  /** What came out differently, and what is not met. */
  readonly checks: readonly TriedCheck[];
  readonly count: number;
  /** The engine's sentence where it can't be calculated so; '' else. */
  readonly refused: string;
}

export interface Tried {
  readonly items: readonly TriedItem[];
  readonly passes: boolean;
}

const SAME = 5e-4;

/**
 * The approved design with some contents replaced, calculated again along the load path by the real engine: the items
 * replaced first, then what rests on them. Nothing is written.
 */
export async function tryOut(
  tx: Transaction,
  kinds: KindRegistry,
  place: { readonly projectId: string; readonly openingId: string },
  approved: readonly ApprovedItem[],
  replaced: ReadonlyMap<string, unknown>,
): Promise<Tried> {
  const { projectId, openingId } = place;
  const versions = await versionsById(
    tx,
    projectId,
    approved.map(({ versionId }) => versionId),
  );
  const before = new Map(versions.map((version) => [version.itemId, version]));
  // What the set froze, not what was typed since.
  let grounds = (await groundsOfOpening(tx, kinds, projectId, openingId)).map((ground) => {
    const version = before.get(ground.itemId);
    if (version === undefined) return ground;
    const { content, number, hash, calculation } = version;
    return { ...ground, content, number, hash, outputs: calculation?.outputs ?? {} };
  });
  const items: TriedItem[] = [];
  for (const kind of alongTheLoadPath(kinds)) {
    for (const item of approved.filter((one) => one.kind === kind && kinds.get(kind).reviewable)) {
      const { itemId, key, title } = item;
      const content = replaced.get(itemId) ?? item.content;
      const row = { itemId, projectId, openingId, kind, key, title };
      const result = calculated(() => workOut(kinds, row, content, grounds).calculation);
      const was = before.get(itemId)?.calculation ?? null;
      const checks = comparedChecks(was, result.calculation);
      items.push({
        itemId,
        title,
        replaced: replaced.has(itemId),
        checks: checks.filter(
          ({ was: old, now, passes }) => !passes || old === null || Math.abs(old - now) > SAME,
        ),
        count: checks.length,
        refused: result.refused,
      });
      grounds = grounds.map((ground) =>
        ground.itemId === itemId
          ? { ...ground, content, outputs: result.calculation?.outputs ?? {} }
          : ground,
      );
    }
  }
  return {
    items,
    passes: items.every(({ refused, checks }) => refused === '' && checks.every((check) => check.passes)),
  };
}

function calculated(work: () => Calculation | null): {
  readonly calculation: Calculation | null;
  readonly refused: string;
} {
  try {
    return { calculation: work(), refused: '' };
  } catch (error) {
    if (error instanceof Invalid) return { calculation: null, refused: error.message };
    throw error;
  }
}

function comparedChecks(was: Calculation | null, now: Calculation | null): TriedCheck[] {
  const old = new Map((was?.checks ?? []).map((check) => [check.id, check.ratio]));
  return (now?.checks ?? []).map(({ id, title, ratio, passes }) => ({
    title,
    was: old.get(id) ?? null,
    now: ratio,
    passes,
  }));
}
