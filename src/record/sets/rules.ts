import { Conflict, Refused } from '../../problems.ts';
import { isApproved, stateWords, type ItemStanding, type MarkReference } from '../items/state.ts';
import { joined, listed, withoutFullStop } from '../prose.ts';
import type { OpenQuestion } from '../questions/rules.ts';
import type { SetContent, SetEntryContent, SetGap } from './content.ts';

/** An entry as it was shown before issuing. */
export interface ShownEntry {
  readonly itemId: string;
  readonly versionId: string;
  readonly hash: string;
}

/** An item that may enter a set: its newest version is approved or revised, and nothing moved under it. */
export interface Enterable {
  readonly standing: ItemStanding;
  readonly versionId: string;
  readonly number: number;
  readonly hash: string;
  readonly mark: MarkReference;
}

/** @returns what may enter a set of an opening, and nothing else. */
export function enterable(standings: readonly ItemStanding[]): readonly Enterable[] {
  return standings.flatMap((standing) => {
    const { state, stale } = standing;
    if (!isApproved(state) || stale.length > 0) return [];
    return [{ standing, ...state.version, mark: state.mark }];
  });
}

export interface SetConflict {
  /** Items whose state moved since the list was shown. */
  readonly moved: readonly ItemStanding[];
}

/**
 * Which versions a set takes in: exactly those shown, if each still may enter.
 *
 * @throws Refused for an empty set, for one item named twice, and for what is stale, returned or unmarked.
 * @throws Conflict<SetConflict> where a version shown is no longer the newest.
 */
export function decideEntries(
  standings: readonly ItemStanding[],
  shown: readonly ShownEntry[],
): readonly Enterable[] {
  if (shown.length === 0) throw new Refused('A set holds at least one approved item. Tick one.');
  if (new Set(shown.map((entry) => entry.itemId)).size !== shown.length) {
    throw new Refused('An item is in a set once.');
  }
  const byId = new Map(standings.map((standing) => [standing.facts.itemId, standing]));
  const moved: ItemStanding[] = [];
  const barred: string[] = [];
  for (const entry of shown) {
    const standing = byId.get(entry.itemId);
    if (!standing) throw new Refused('The set names an item that is not one of this opening.');
    const newest = standing.facts.newest;
    if (newest?.versionId !== entry.versionId || newest.hash !== entry.hash) moved.push(standing);
    else if (enterable([standing]).length === 0) barred.push(gapSentence(standing));
  }
  if (moved.length > 0) {
    const titles = listed(moved.map((standing) => standing.facts.title));
    throw new Conflict<SetConflict>(`Nothing was issued: ${titles} changed since the list was shown.`, {
      moved,
    });
  }
  if (barred.length > 0) throw new Refused(`This can't be in a set: ${joined(barred)}.`);
  const chosen = new Set(shown.map((entry) => entry.itemId));
  return enterable(standings).filter(({ standing }) => chosen.has(standing.facts.itemId));
}

/** @throws Refused where a question is open that the engineer did not confirm. */
export function judgeOpenQuestions(open: readonly OpenQuestion[], confirmed: readonly string[]): void {
  const unseen = open.filter((question) => !confirmed.includes(question.threadId));
  if (unseen.length === 0) return;
  const words = unseen.map((question) => `“${question.text}” (${question.itemTitle})`);
  throw new Refused(
    `Questions are open; confirm that the set may be issued all the same: ${words.join('; ')}`,
  );
}

function gapSentence({ facts, state, stale }: ItemStanding, leftOut = false): string {
  const words =
    stale.length > 0
      ? `${withoutFullStop(stateWords(state))}, but out of date: ${staleWords(stale)}`
      : stateWords(state);
  return `${facts.title}: ${leftOut ? `${withoutFullStop(words)}, left out of this set` : words}`;
}

/** The first reason; the page of the item tells all of them. */
function staleWords([first, ...others]: ItemStanding['stale']): string {
  const more = others.length === 0 ? '' : `; and ${others.length} more`;
  return `${first?.sentence ?? ''}${more}`;
}

/** What a set leaves open of its opening, in words. */
export function gapsOf(standings: readonly ItemStanding[], entries: readonly Enterable[]): SetGap[] {
  const within = new Set(entries.map(({ standing }) => standing.facts.itemId));
  const may = new Set(enterable(standings).map(({ standing }) => standing.facts.itemId));
  return standings
    .filter(({ facts }) => facts.reviewable && !within.has(facts.itemId))
    .map((standing) => {
      const { itemId, kind, key, title } = standing.facts;
      return { itemId, kind, key, title, sentence: gapSentence(standing, may.has(itemId)) };
    });
}

/** Whose word the items of a set rest on, in the order of the entries. */
export function relianceOf(entries: readonly SetEntryContent[]): SetContent['reliance'] {
  const people = new Map<string, { personId: string; name: string; items: string[] }>();
  for (const { mark, title } of entries) {
    const person = people.get(mark.byId) ?? { personId: mark.byId, name: mark.byName, items: [] };
    person.items.push(title);
    people.set(mark.byId, person);
  }
  return [...people.values()];
}

/** An entry of a set whose approval was withdrawn after it was issued. */
export interface SetFlag {
  readonly itemId: string;
  readonly title: string;
  readonly sentence: string;
  readonly withdrawal: MarkReference;
}

/** The entries whose mark was followed by a withdrawal. `marks`: all marks of the versions in the set. */
export function flagsOf(
  entries: readonly SetEntryContent[],
  marks: ReadonlyMap<string, readonly MarkReference[]>,
): SetFlag[] {
  return entries.flatMap(({ itemId, title, versionId, number, mark }) => {
    const withdrawal = marks
      .get(versionId)
      ?.find((later) => later.number > mark.number && later.word === 'withdrawn');
    if (!withdrawal) return [];
    const { byName, reason } = withdrawal;
    const sentence = `${title}: the approval of version ${number} was withdrawn by ${byName}: ${reason}`;
    return [{ itemId, title, sentence, withdrawal }];
  });
}
