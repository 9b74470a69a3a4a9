import type { Actor } from '../../actor.ts';
import { Conflict, Invalid, NotFound, Refused } from '../../problems.ts';
import { saveDraft } from '../drafts/service.ts';
import { knownId } from '../identifier.ts';
import { recordRevised, type MadeMark } from '../marks/record.ts';
import { prose } from '../prose.ts';
import { groundsOfOpening } from '../staleness/store.ts';
import { useCase, type RecordDeps, type UseCase } from '../use-case.ts';
import { judgeContent, putOnRecord, workOut, type MadeVersion } from './make.ts';
import { comesToTheSame, decideSave, isSubmitted } from './rules.ts';
import { findItem, newestVersion, versionByNumber, type ItemRow, type VersionRecord } from './store.ts';

/** What a page needs to show when somebody was faster. */
export interface SaveConflict {
  readonly item: ItemRow;
  readonly mine: { readonly content: unknown; readonly reason: string; readonly expectedNumber: number };
  readonly theirs: VersionRecord | null;
  /** What both came from; null where there was nothing yet. */
  readonly base: VersionRecord | null;
}

export interface SaveVersion {
  readonly itemId: string;
  /** The version that was before the person's eyes; 0 for an item without one. */
  readonly expectedNumber: number;
  readonly content: unknown;
  readonly reason?: string;
  /** The form as typed, kept as the person's draft when the save is refused; the content where it is left out. */
  readonly form?: unknown;
}

export interface SavedVersion extends MadeVersion {
  readonly item: ItemRow;
  /** The same save came a second time; nothing was added. */
  readonly repeated: boolean;
  /** The engineer's word `revised`, where the engineer saved a reviewable item. */
  readonly mark: MadeMark | null;
}

/**
 * Saves a new version of an item: the contractor's, to be submitted; the engineer's, on a reviewable item, marked
 * revised in the same transaction.
 *
 * @throws Conflict<SaveConflict> where `expectedNumber` is not the newest. @throws Invalid at the fields.
 * @throws Refused where nothing changed or the version is not the engineer's to revise yet. After each of these
 * three what was typed is kept as the person's draft.
 */
export async function saveVersion(deps: RecordDeps, actor: Actor, input: SaveVersion): Promise<SavedVersion> {
  const itemId = knownId(input.itemId, 'That item');
  try {
    return await useCase(deps, actor, 'item.save', async (use) => {
      const saved = await addVersion(use, itemId, input);
      if (!saved.repeated) await use.tx.draft.deleteMany({ where: { itemId, personId: actor.personId } });
      return saved;
    });
  } catch (error) {
    if (error instanceof Conflict || error instanceof Invalid || error instanceof Refused) {
      await saveDraft(deps, actor, {
        itemId,
        onNumber: input.expectedNumber,
        body: input.form ?? input.content,
      });
    }
    throw error;
  }
}

/**
 * `saveVersion` inside a use case that does more than this, or for a program. Throws as it does; keeps no draft, and
 * takes none away: what the person typed on the item's page is not what is saved here.
 */
export async function addVersion(use: UseCase, itemId: string, input: SaveVersion): Promise<SavedVersion> {
  const { tx, actor, kinds } = use;
  const item = await findItem(tx, actor.projectId, itemId);
  if (!item) throw new NotFound('That item');
  const reason = prose(input.reason ?? '', 'reason');
  const newest = await newestVersion(tx, itemId);
  const moved = (newest?.number ?? 0) !== input.expectedNumber;
  // Somebody was faster: that comes first, whatever else may be wrong with what was typed.
  if (moved && newest?.authorId !== actor.personId) return conflict(use, item, newest, input, reason);

  const content = judgeContent(kinds, item, input.content);
  const grounds = await groundsOfOpening(tx, kinds, item.projectId, item.openingId);
  const worked = workOut(kinds, item, content, grounds);
  const decision = decideSave({
    role: actor.role,
    personId: actor.personId,
    reviewable: kinds.get(item.kind).reviewable,
    expectedNumber: input.expectedNumber,
    newest: newest && {
      number: newest.number,
      authorId: newest.authorId,
      submitted: isSubmitted(newest),
      sameAsNew: comesToTheSame(newest, worked),
    },
  });
  if (decision === 'conflict') return conflict(use, item, newest, input, reason);
  if (decision === 'repeated' && newest) {
    const { versionId, number, hash, calculation } = newest;
    const word = newest.marks[0];
    const mark = word ? { markId: word.markId, versionId, number: word.number, word: word.word } : null;
    return { item, versionId, number, hash, calculation, repeated: true, mark };
  }
  const revises = decision === 'revision';
  const number = input.expectedNumber + 1;
  const made = await putOnRecord(use, item, number, worked, reason, revises ? 'revised' : 'saved');
  const mark = revises ? await recordRevised(use, item, made, reason) : null;
  return { ...made, item, repeated: false, mark };
}

async function conflict(
  use: UseCase,
  item: ItemRow,
  newest: VersionRecord | null,
  input: SaveVersion,
  reason: string,
): Promise<never> {
  const { content, expectedNumber } = input;
  const base = expectedNumber > 0 ? await versionByNumber(use.tx, item.itemId, expectedNumber) : null;
  const sentence = newest
    ? `${newest.authorName} saved version ${newest.number} meanwhile. Yours is kept as a draft.`
    : `This item has no version ${expectedNumber}. Yours is kept as a draft.`;
  throw new Conflict<SaveConflict>(sentence, {
    item,
    mine: { content, reason, expectedNumber },
    theirs: newest,
    base,
  });
}
