import { NotFound } from '../../problems.ts';
import { failingChecks } from '../calculation.ts';
import type { ItemFacts } from '../items/state.ts';
import { factsOfItems } from '../items/store.ts';
import type { StaleReason } from '../staleness/rules.ts';
import { loadStale } from '../staleness/store.ts';
import type { UseCase } from '../use-case.ts';
import { isSubmitted } from '../versions/rules.ts';
import { versionById, versionsById, type VersionRecord } from '../versions/store.ts';
import { recordMark, type MadeMark } from './record.ts';
import { decideMark, type AskedMark, type MarkDecision } from './rules.ts';

/** Why a mark was not made, with what the page shows side by side. */
export interface MarkRefusal {
  readonly why: Exclude<MarkDecision, 'mark' | 'repeated'>;
  readonly item: ItemFacts;
  readonly asked: AskedMark;
  /** What the person had before the eyes. */
  readonly seen: VersionRecord;
  readonly newest: VersionRecord;
}

export interface MarkOutcome extends MadeMark {
  readonly item: ItemFacts;
  readonly repeated: boolean;
}

/** A version that a word is to be said on, with all that decides whether it may be. */
export interface Candidate {
  readonly version: VersionRecord;
  readonly item: ItemFacts;
  readonly newest: { readonly versionId: string; readonly number: number };
  readonly stale: readonly StaleReason[];
}

/** @throws NotFound where one of them is not a version of this project. */
export async function loadCandidates(use: UseCase, versionIds: readonly string[]): Promise<Candidate[]> {
  const { tx, actor, kinds } = use;
  const versions = await versionsById(tx, actor.projectId, versionIds);
  if (versions.length !== versionIds.length) throw new NotFound('That version');
  const itemIds = [...new Set(versions.map((version) => version.itemId))];
  const facts = await factsOfItems(tx, kinds, actor.projectId, itemIds);
  const byId = new Map(facts.map((item) => [item.itemId, item]));
  const stale = await loadStale(tx, kinds, { projectId: actor.projectId, itemIds });
  return versions.map((version) => {
    const item = byId.get(version.itemId);
    if (!item?.newest) throw new NotFound('That version');
    return { version, item, newest: item.newest, stale: stale.get(version.itemId) ?? [] };
  });
}

export type Said =
  | { readonly is: 'marked'; readonly outcome: MarkOutcome }
  | { readonly is: 'refused'; readonly refusal: MarkRefusal };

/**
 * Says one word on one version, or tells what the person has not seen. The same word sent twice is one mark.
 *
 * @throws Refused by the rules of the record (see `decideMark`).
 */
export async function sayWord(use: UseCase, candidate: Candidate, asked: AskedMark): Promise<Said> {
  const { version, item, newest, stale } = candidate;
  const decision = decideMark({
    role: use.actor.role,
    personId: use.actor.personId,
    title: item.title,
    reviewable: item.reviewable,
    version: {
      number: version.number,
      hash: version.hash,
      submitted: isSubmitted(version),
      marks: version.marks,
      failing: failingChecks(version.calculation).map((check) => check.title),
    },
    newestNumber: newest.number,
    stale: stale.map((why) => why.sentence),
    asked,
  });
  const { versionId } = version;
  if (decision === 'repeated') {
    const last = version.marks.at(-1);
    if (last === undefined) throw new NotFound('That mark');
    return { is: 'marked', outcome: { ...last, versionId, item, repeated: true } };
  }
  if (decision === 'mark') {
    const made = await recordMark(use, {
      itemId: item.itemId,
      versionId,
      versionHash: version.hash,
      number: asked.expectedMarkNumber + 1,
      word: asked.word,
      reason: asked.reason,
    });
    return { is: 'marked', outcome: { ...made, item, repeated: false } };
  }
  const shownNewest = newest.number === version.number ? version : await newestOf(use, newest.versionId);
  return { is: 'refused', refusal: { why: decision, item, asked, seen: version, newest: shownNewest } };
}

async function newestOf(use: UseCase, versionId: string): Promise<VersionRecord> {
  const newest = await versionById(use.tx, use.actor.projectId, versionId);
  if (!newest) throw new NotFound('That version');
  return newest;
}

/** What stands in the way of one mark, in a sentence. */
export function refusalWords({ item, seen, newest, why }: MarkRefusal): string {
  switch (why) {
    case 'newer version':
      return `${item.title} has a version ${newest.number} since version ${seen.number} was shown`;
    case 'other content':
      return `what was shown of ${item.title} is not what version ${seen.number} says`;
    case 'marked meanwhile':
      return `version ${seen.number} of ${item.title} was marked meanwhile`;
  }
}
