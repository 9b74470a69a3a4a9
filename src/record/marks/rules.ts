import type { Role } from '../../people/roles.ts';
import { NotAllowed, Refused } from '../../problems.ts';
import type { MarkReference } from '../items/state.ts';

/** The words an engineer says on a version that is there. `revised` is said by saving one's own version. */
export const sayableWords = ['approved', 'returned', 'withdrawn'] as const;
export type SayableWord = (typeof sayableWords)[number];

export interface AskedMark {
  /** The hash of what was shown. */
  readonly hash: string;
  /** How many marks the version bore when it was shown. */
  readonly expectedMarkNumber: number;
  readonly word: SayableWord;
  readonly reason: string;
}

export interface MarkQuestion {
  readonly role: Role;
  readonly personId: string;
  readonly title: string;
  readonly reviewable: boolean;
  readonly version: {
    readonly number: number;
    readonly hash: string;
    /** Handed over by the contractor, or the engineer's own. */
    readonly submitted: boolean;
    readonly marks: readonly MarkReference[];
    /** Titles of the checks that are not met. */
    readonly failing: readonly string[];
  };
  readonly newestNumber: number;
  /** Sentences; empty where it is not stale. */
  readonly stale: readonly string[];
  readonly asked: AskedMark;
}

/**
 * `repeated`: the same word came twice (a double tap, a retry); the first one counts. The conflicts say what the
 * person has not seen.
 */
export type MarkDecision = 'mark' | 'repeated' | 'newer version' | 'other content' | 'marked meanwhile';

/**
 * May this word be said on this version?
 *
 * @throws NotAllowed for anyone but an engineer.
 * @throws Refused where the rules of the record don't have it: unsubmitted, stale, without a needed reason, or a
 * word that doesn't follow the last one.
 */
export function decideMark(question: MarkQuestion): MarkDecision {
  const { role, reviewable, version, asked, title } = question;
  if (role !== 'engineer') throw new NotAllowed('Only the engineer marks.');
  if (!reviewable) throw new Refused(`${title} is a basis of the others and is not marked.`);
  if (asked.hash !== version.hash) return 'other content';

  const last = version.marks.at(-1);
  if (version.marks.length !== asked.expectedMarkNumber) {
    const repeated =
      version.marks.length === asked.expectedMarkNumber + 1 &&
      last?.byId === question.personId &&
      last.word === asked.word &&
      last.reason === asked.reason;
    return repeated ? 'repeated' : 'marked meanwhile';
  }
  if (asked.word === 'withdrawn') {
    // Also on an older version: sets that contain it are flagged by this.
    if (last?.word !== 'approved' && last?.word !== 'revised') {
      throw new Refused(`Version ${version.number} of ${title} bears no approval that could be withdrawn.`);
    }
    needReason(asked, 'Say why the approval is withdrawn.');
    return 'mark';
  }
  if (question.newestNumber !== version.number) return 'newer version';
  if (!version.submitted) {
    throw new Refused(`Version ${version.number} of ${title} was not submitted yet.`);
  }
  if (last?.word === 'approved' || last?.word === 'revised') {
    throw new Refused(
      `Version ${version.number} of ${title} is approved; withdraw the approval before saying something else.`,
    );
  }
  if (asked.word === 'returned') {
    if (last?.word === 'returned') {
      throw new Refused(`Version ${version.number} of ${title} is returned already.`);
    }
    needReason(asked, 'Say what has to change.');
    return 'mark';
  }
  if (question.stale.length > 0) {
    throw new Refused(`${title} is out of date (${question.stale.join('; ')}). Have it recalculated first.`);
  }
  if (last?.word === 'returned') needReason(asked, 'It was returned; say why it can stand after all.');
  if (version.failing.length > 0) {
    needReason(
      asked,
      `Not all checks are met (${version.failing.join('; ')}); say why it is approved all the same.`,
    );
  }
  return 'mark';
}

function needReason(asked: AskedMark, sentence: string): void {
  if (asked.reason.trim() === '') throw new Refused(sentence);
}
