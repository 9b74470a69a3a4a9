import { randomUUID } from 'node:crypto';
import type { MarkWord } from '../items/state.ts';
import { Refused } from '../../problems.ts';
import { failingChecks } from '../calculation.ts';
import type { UseCase } from '../use-case.ts';
import type { MadeVersion } from '../versions/make.ts';

export interface MadeMark {
  readonly markId: string;
  readonly versionId: string;
  readonly number: number;
  readonly word: MarkWord;
}

/** Puts a mark on record, with its event. The caller has decided that it may be. */
export async function recordMark(
  use: UseCase,
  mark: {
    readonly itemId: string;
    readonly versionId: string;
    readonly versionHash: string;
    readonly number: number;
    readonly word: MarkWord;
    readonly reason: string;
  },
): Promise<MadeMark> {
  const { tx, actor, at } = use;
  const markId = randomUUID();
  const { itemId, versionId, versionHash, number, word, reason } = mark;
  const byId = actor.personId;
  await tx.mark.create({
    data: { id: markId, projectId: actor.projectId, versionId, versionHash, number, word, reason, byId, at },
    select: { id: true },
  });
  await use.append('version.marked', {
    markId,
    itemId,
    versionId,
    versionHash,
    number,
    word,
    reason,
    byId,
  });
  return { markId, versionId, number, word };
}

/**
 * Marks the engineer's own new version revised, in the transaction that made it.
 *
 * @throws Refused where not all checks are met and no reason is given.
 */
export async function recordRevised(
  use: UseCase,
  item: { readonly itemId: string },
  made: MadeVersion,
  reason: string,
): Promise<MadeMark> {
  const failing = failingChecks(made.calculation).map((check) => check.title);
  if (failing.length > 0 && reason === '') {
    throw new Refused(`Not all checks are met (${failing.join('; ')}); say why it is approved all the same.`);
  }
  const { versionId, hash: versionHash } = made;
  return recordMark(use, {
    itemId: item.itemId,
    versionId,
    versionHash,
    number: 1,
    word: 'revised',
    reason,
  });
}
