import { Conflict, Refused } from '../../problems.ts';
import type { ItemStanding } from '../items/state.ts';
import { listed } from '../prose.ts';

/** What was before the contractor's eyes: the item and the version that is to be handed over. */
export interface ShownForSubmission {
  readonly itemId: string;
  readonly versionId: string;
}

export interface ToSubmit {
  readonly itemId: string;
  readonly title: string;
  readonly versionId: string;
  readonly number: number;
  readonly hash: string;
}

/** Left out of a submission of everything, with the reason. */
export interface LeftOut {
  readonly itemId: string;
  readonly title: string;
  readonly sentence: string;
}

/**
 * Which versions of an opening are handed over: those shown, or, where none are named, all newest ones that were
 * not submitted. Stale ones stay behind: the engineer would have to send them back unread.
 *
 * @throws Conflict where a version shown is no longer the newest. @throws Refused where a stale one is named, or
 * nothing is left to submit.
 */
export function decideSubmission(
  standings: readonly ItemStanding[],
  shown: readonly ShownForSubmission[] | null,
): { readonly submit: readonly ToSubmit[]; readonly leftOut: readonly LeftOut[] } {
  const submit: ToSubmit[] = [];
  const leftOut: LeftOut[] = [];
  const moved: string[] = [];
  const named = shown && new Map(shown.map(({ itemId, versionId }) => [itemId, versionId]));
  for (const { facts, state, stale } of standings) {
    const { itemId, title, newest } = facts;
    const wanted = named === null ? newest?.versionId : named.get(itemId);
    if (wanted === undefined || newest === null) continue;
    if (wanted !== newest.versionId) {
      moved.push(title);
      continue;
    }
    if (state.is !== 'not submitted') continue;
    if (stale.length > 0) {
      const why = stale.map((reason) => reason.sentence).join('; ');
      leftOut.push({ itemId, title, sentence: `${title} is out of date (${why}). Recalculate it first.` });
      continue;
    }
    submit.push({ itemId, title, versionId: newest.versionId, number: newest.number, hash: newest.hash });
  }
  if (moved.length > 0) {
    throw new Conflict(`Nothing was submitted: ${listed(moved)} changed since the list was shown.`, {
      moved,
    });
  }
  const [first] = leftOut;
  if (first && (named !== null || submit.length === 0)) throw new Refused(first.sentence);
  if (submit.length === 0) throw new Refused('There is nothing new to submit. Save a version first.');
  return { submit, leftOut };
}
