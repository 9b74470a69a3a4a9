import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Conflict, NotFound } from '../../problems.ts';
import { canonicalJson } from '../canonical.ts';
import type { Transaction } from '../events/append.ts';
import { setHash } from '../hash.ts';
import { knownId } from '../identifier.ts';
import { standingsOfItems, standingsOfOpening } from '../items/standings.ts';
import type { ItemStanding } from '../items/state.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import { prose } from '../prose.ts';
import type { OpenQuestion } from '../questions/rules.ts';
import { openQuestionsOfOpening } from '../questions/store.ts';
import { asMember, useCase, type RecordDeps, type UseCase } from '../use-case.ts';
import { composeSet } from './compose.ts';
import type { SetContent } from './content.ts';
import { decideEntries, enterable, judgeOpenQuestions, type Enterable, type ShownEntry } from './rules.ts';
import { lastSet, type SetRecord } from './store.ts';

export interface IssueSet {
  readonly openingId: string;
  /** The number of the last set that was shown; 0 where there was none. */
  readonly expectedLastNumber: number;
  /** The entries as shown; a partial set names some of what may enter. */
  readonly entries: readonly ShownEntry[];
  /** The open questions that the engineer saw and issues in spite of. */
  readonly confirmedQuestions: readonly string[];
  readonly note?: string;
}

export interface IssuedSet {
  readonly setId: string;
  readonly number: number;
  readonly hash: string;
  readonly content: SetContent;
  /** The same issue came a second time; nothing was added. */
  readonly repeated: boolean;
}

/**
 * Issues the next approved set of an opening: numbered, frozen, hashed, with its gaps stated.
 *
 * @throws Refused for an empty set, a stale, returned or unmarked item, or an open question not confirmed.
 * @throws Conflict<SetConflict> where an item moved since the list was shown, and Conflict<{ last }> where another
 * set was issued meanwhile. @throws NotAllowed for anyone but the engineer.
 */
export async function issueSet(deps: RecordDeps, actor: Actor, input: IssueSet): Promise<IssuedSet> {
  const openingId = knownId(input.openingId, 'That opening');
  const note = prose(input.note ?? '', 'note');
  return useCase(deps, actor, 'set.issue', async (use) => {
    const { tx, kinds, at } = use;
    const { projectId, personId, name } = use.actor;
    const last = await lastSetOf(tx, projectId, openingId);
    if ((last?.number ?? 0) !== input.expectedLastNumber) return repeatedOrConflict(use, last, input, note);
    const { standings, bases, openQuestions } = await loadOpening(tx, kinds, projectId, openingId);
    const entries = decideEntries(standings, input.entries);
    judgeOpenQuestions(openQuestions, input.confirmedQuestions);
    const content = await composeSet(tx, kinds, {
      projectId,
      openingId,
      standings,
      bases,
      entries,
      openQuestions,
      last,
      note,
      issuedAt: at,
      issuedBy: { personId, name },
    });
    return putSet(use, content, entries);
  });
}

async function putSet(use: UseCase, content: SetContent, entries: readonly Enterable[]): Promise<IssuedSet> {
  const { tx, at } = use;
  const { projectId, personId: issuedById } = use.actor;
  const { number, note } = content;
  const { openingId } = content.opening;
  const setId = randomUUID();
  const text = canonicalJson(content);
  const hash = setHash(text);
  await tx.approvedSet.create({
    data: { id: setId, projectId, openingId, number, content: text, hash, note, issuedById, issuedAt: at },
    select: { id: true },
  });
  const rows = entries.map(({ standing, versionId, mark }) => ({
    itemId: standing.facts.itemId,
    versionId,
    markId: mark.markId,
  }));
  await tx.setEntry.createMany({ data: rows.map((row) => ({ setId, ...row })) });
  await use.append('set.issued', { setId, openingId, number, hash, entries: rows });
  return { setId, number, hash, content, repeated: false };
}

function repeatedOrConflict(use: UseCase, last: SetRecord | null, input: IssueSet, note: string): IssuedSet {
  const shown = input.entries.map((entry) => entry.versionId).sort();
  const issued = last?.content.entries.map((entry) => entry.versionId).sort() ?? [];
  if (
    last?.number === input.expectedLastNumber + 1 &&
    last.issuedById === use.actor.personId &&
    last.note === note &&
    shown.join() === issued.join()
  ) {
    const { setId, number, hash, content } = last;
    return { setId, number, hash, content, repeated: true };
  }
  const sentence = last
    ? `Nothing was issued: set ${last.number} was issued meanwhile.`
    : `Nothing was issued: there is no set ${input.expectedLastNumber}.`;
  throw new Conflict(sentence, { last });
}

async function lastSetOf(tx: Transaction, projectId: string, openingId: string): Promise<SetRecord | null> {
  const opening = await tx.opening.findFirst({ where: { id: openingId, projectId }, select: { id: true } });
  if (!opening) throw new NotFound('That opening');
  return lastSet(tx, openingId);
}

interface OpeningMaterial {
  readonly standings: readonly ItemStanding[];
  readonly bases: readonly ItemStanding[];
  readonly openQuestions: readonly OpenQuestion[];
}

async function loadOpening(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  openingId: string,
): Promise<OpeningMaterial> {
  const standings = await standingsOfOpening(tx, kinds, { projectId }, openingId);
  const ownBases = standings.filter(({ facts }) => !facts.reviewable);
  const projectItems = await tx.item.findMany({
    where: { projectId, openingId: null },
    select: { id: true },
  });
  const projectIds = projectItems.map((item) => item.id);
  const projectBases = await standingsOfItems(tx, kinds, projectId, projectIds);
  const openQuestions = await openQuestionsOfOpening(tx, projectId, openingId);
  return { standings, bases: [...projectBases, ...ownBases], openQuestions };
}

/** The page before issuing: what the next set would be if everything that may enter does. */
export interface SetPreview {
  readonly expectedLastNumber: number;
  /** As it would be issued now; its entries are the ones to hand in. */
  readonly content: SetContent;
  readonly openQuestions: readonly OpenQuestion[];
}

/** Shows what the next set of an opening would hold and leave open; writes nothing. */
export async function previewSet(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string },
): Promise<SetPreview> {
  const openingId = knownId(input.openingId, 'That opening');
  return asMember(deps, actor, 'set.issue', async (tx, { projectId, personId, name }) => {
    const last = await lastSetOf(tx, projectId, openingId);
    const opening = await loadOpening(tx, deps.kinds, projectId, openingId);
    const content = await composeSet(tx, deps.kinds, {
      ...opening,
      projectId,
      openingId,
      entries: enterable(opening.standings),
      last,
      note: '',
      issuedAt: deps.clock(),
      issuedBy: { personId, name },
    });
    return { expectedLastNumber: last?.number ?? 0, content, openQuestions: opening.openQuestions };
  });
}
