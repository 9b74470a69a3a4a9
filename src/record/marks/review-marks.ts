import type { Actor } from '../../actor.ts';
import { Invalid, Refused } from '../../problems.ts';
import { knownId } from '../identifier.ts';
import { prose } from '../prose.ts';
import { useCase, type RecordDeps } from '../use-case.ts';
import { loadCandidates, sayWord, type MarkOutcome, type MarkRefusal } from './judge.ts';
import type { SayableWord } from './rules.ts';
import type { ShownVersion } from './service.ts';

/** The words that the review page offers; `revised` is said by saving one's own version. */
export type ReviewWord = Extract<SayableWord, 'approved' | 'returned'>;

/** One item of the review page with the word chosen for it. */
export interface Choice extends ShownVersion {
  readonly word: ReviewWord;
  readonly reason: string;
}

export interface Reviewed {
  readonly outcomes: readonly MarkOutcome[];
  /** Moved since they were shown; nothing was said on them. */
  readonly refused: readonly MarkRefusal[];
  /** Refused by the rules of the record, with the sentence that says why. */
  readonly barred: readonly { readonly versionId: string; readonly sentence: string }[];
}

/**
 * Says on each version the word chosen for it, in one transaction. Each is judged by itself: what moved meanwhile
 * or what the rules refuse is told and left alone, the others are marked.
 *
 * @throws NotFound where one of them is not a version of this project; then nothing is marked.
 */
export async function markReviewed(
  deps: RecordDeps,
  actor: Actor,
  choices: readonly Choice[],
): Promise<Reviewed> {
  const asked = new Map(
    choices.map((choice) => [knownId(choice.versionId, 'That version'), choice] as const),
  );
  return useCase(deps, actor, 'mark.create', async (use) => {
    const outcomes: MarkOutcome[] = [];
    const refused: MarkRefusal[] = [];
    const barred: { versionId: string; sentence: string }[] = [];
    for (const candidate of await loadCandidates(use, [...asked.keys()])) {
      const { versionId } = candidate.version;
      const choice = asked.get(versionId);
      if (choice === undefined) continue;
      const { hash, expectedMarkNumber, word } = choice;
      try {
        const reason = prose(choice.reason, 'reason');
        const said = await sayWord(use, candidate, { hash, expectedMarkNumber, word, reason });
        if (said.is === 'marked') outcomes.push(said.outcome);
        else refused.push(said.refusal);
      } catch (error) {
        // Judged before anything of this item is written: the transaction goes on.
        if (!(error instanceof Refused) && !(error instanceof Invalid)) throw error;
        barred.push({ versionId, sentence: `${candidate.item.title}: ${error.message}` });
      }
    }
    return { outcomes, refused, barred };
  });
}
