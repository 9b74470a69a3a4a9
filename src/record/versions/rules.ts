import type { Role } from '../../people/roles.ts';
import { NotAllowed, Refused } from '../../problems.ts';
import type { Check } from '../../engineering/trace/index.ts';
import type { Calculation } from '../calculation.ts';
import { canonicalJson } from '../canonical.ts';
import { sameGrounds, type RecordedGround } from '../staleness/rules.ts';
import { sameValue } from '../staleness/values.ts';

/** Is a version before the engineer: handed over by the contractor, or made or marked by the engineer? */
export function isSubmitted(version: {
  readonly submittedAt: Date | null;
  readonly authorRole: Role;
  readonly marks: readonly unknown[];
}): boolean {
  return version.submittedAt !== null || version.authorRole === 'engineer' || version.marks.length > 0;
}

interface Comparable {
  readonly content: unknown;
  readonly restsOn: readonly RecordedGround[];
  readonly calculation: Calculation | null;
}

/**
 * Equal content, on equal figures, with equal checks and outputs: a new version would tell nothing new. Wording and
 * intermediate steps may differ, as they do between versions of the engine.
 */
export function comesToTheSame(one: Comparable, other: Comparable): boolean {
  return (
    canonicalJson(one.content) === canonicalJson(other.content) &&
    sameGrounds(one.restsOn, other.restsOn) &&
    sameResults(one.calculation, other.calculation)
  );
}

function sameResults(one: Calculation | null, other: Calculation | null): boolean {
  if (one === null || other === null) return one === other;
  const names = new Set([...Object.keys(one.outputs), ...Object.keys(other.outputs)]);
  return (
    one.checks.length === other.checks.length &&
    one.checks.every((check, place) => sameCheck(check, other.checks[place])) &&
    [...names].every((name) => {
      const before = one.outputs[name];
      const after = other.outputs[name];
      return before !== undefined && after !== undefined && sameValue(before, after);
    })
  );
}

/** Same demand against same capacity, with the same verdict. */
export function sameCheck(one: Check, other: Check | undefined): boolean {
  return (
    one.id === other?.id &&
    one.passes === other.passes &&
    sameValue(one.demand, other.demand) &&
    sameValue(one.capacity, other.capacity)
  );
}

/** What deciding about a save needs to know of the newest version. */
export interface NewestForSave {
  readonly number: number;
  readonly authorId: string;
  /** Handed to the engineer, or made or marked by the engineer. */
  readonly submitted: boolean;
  /** Is what is to be saved the same content, on equal figures, with the same calculation? */
  readonly sameAsNew: boolean;
}

export interface SaveQuestion {
  readonly role: Role;
  readonly personId: string;
  readonly reviewable: boolean;
  readonly newest: NewestForSave | null;
  /** The number of the version that the person had before the eyes; 0 for an item without one. */
  readonly expectedNumber: number;
}

/** `repeated`: the same save came twice (a double tap, a retry); the first one counts. */
export type SaveDecision = 'version' | 'revision' | 'conflict' | 'repeated';

/**
 * May this be saved, and as what? An engineer's save on a reviewable item is a revision: the engineer's own
 * version, approved as such.
 *
 * @throws NotAllowed for other roles than contractor and engineer.
 * @throws Refused where nothing changed, or the engineer would revise what was not submitted.
 */
export function decideSave(question: SaveQuestion): SaveDecision {
  const { role, reviewable, newest, expectedNumber, personId } = question;
  if (role !== 'contractor' && role !== 'engineer') {
    throw new NotAllowed('Only the contractor and the engineer write versions.');
  }
  if ((newest?.number ?? 0) !== expectedNumber) {
    const repeated =
      newest !== null &&
      newest.number === expectedNumber + 1 &&
      newest.authorId === personId &&
      newest.sameAsNew;
    return repeated ? 'repeated' : 'conflict';
  }
  if (newest?.sameAsNew === true) {
    throw new Refused(`Nothing changed against version ${newest.number}; no new version was made.`);
  }
  if (role === 'contractor' || !reviewable) return 'version';
  if (newest !== null && !newest.submitted) {
    throw new Refused(
      `Version ${newest.number} was not submitted yet; it can be revised once the contractor hands it over.`,
    );
  }
  return 'revision';
}
