import type { CheckOfSet } from '../status.ts';
import type { VisitKind } from '../checks/check.ts';
import { compareChecks } from '../visits/set-change.ts';

/** A phone's clock within this of ours is right enough to be taken at its word. */
export const CLOCK_TOLERANCE_MS = 2 * 60_000;

export type PhoneTimeWord = 'as_told' | 'clock_corrected' | 'bounded';

export interface PhoneTimes {
  /** When it was found, by the phone's clock. */
  readonly claimedAt: Date;
  /** The phone's clock when it sent this. */
  readonly phoneNowAt: Date;
  readonly receivedAt: Date;
  /** A visit finds nothing before it was opened. */
  readonly openedAt: Date;
  /** The finding that the same phone made just before; its order is surer than its clock. */
  readonly previousAt: Date | null;
}

/**
 * When something was found, from a clock that nobody vouches for. A known offset is taken out; what then lies before
 * the visit, before the finding made earlier or after the arrival is held to that bound. Pure; what the phone told is
 * kept beside it.
 */
export function judgePhoneTime(times: PhoneTimes): { readonly at: Date; readonly word: PhoneTimeWord } {
  const received = times.receivedAt.getTime();
  const offset = received - times.phoneNowAt.getTime();
  const isOff = Math.abs(offset) > CLOCK_TOLERANCE_MS;
  const likely = times.claimedAt.getTime() + (isOff ? offset : 0);
  const earliest = Math.max(times.openedAt.getTime(), times.previousAt?.getTime() ?? 0);
  const at = Math.min(received, Math.max(earliest, likely));
  if (Math.abs(at - likely) > CLOCK_TOLERANCE_MS) return { at: new Date(at), word: 'bounded' };
  return { at: new Date(at), word: isOff ? 'clock_corrected' : 'as_told' };
}

export interface FindingWords {
  readonly checkId: string;
  readonly result: string;
  readonly reason: string;
  readonly location: string;
  readonly sheetId: string | null;
  readonly square: string;
}

/** A second delivery under the same id has to say the same. */
export function saysTheSame(one: FindingWords, other: FindingWords): boolean {
  return (
    one.checkId === other.checkId &&
    one.result === other.result &&
    one.reason === other.reason &&
    one.location === other.location &&
    one.sheetId === other.sheetId &&
    one.square === other.square
  );
}

export interface SetDifference {
  readonly key: string;
  readonly title: string;
  readonly is: 'changed' | 'gone' | 'new';
  readonly before: string;
  readonly now: string;
}

/**
 * What a later set asks otherwise than the set a visit is made against, in words for a phone: changed versions (open
 * again there), checks that are gone and checks that are new. Pure.
 */
export function differencesBetween(
  own: readonly CheckOfSet[],
  later: readonly CheckOfSet[],
): readonly SetDifference[] {
  const said = (check: CheckOfSet) => `version ${check.versionNumber}: ${check.criterion}`;
  const { changed, added, gone } = compareChecks(own, later);
  return [
    ...changed.map(({ check, was }) => ({
      key: was.key,
      title: was.title,
      is: 'changed' as const,
      before: said(was),
      now: said(check),
    })),
    ...gone.map((check) => ({
      key: check.key,
      title: check.title,
      is: 'gone' as const,
      before: said(check),
      now: '',
    })),
    ...added.map((check) => ({
      key: check.key,
      title: check.title,
      is: 'new' as const,
      before: '',
      now: said(check),
    })),
  ];
}

export interface LateCheck {
  readonly key: string;
  readonly versionId: string;
  readonly visitKind: VisitKind;
}

export interface OpenVisit {
  readonly visitId: string;
  readonly number: number;
  readonly kind: VisitKind;
  readonly checks: readonly Pick<CheckOfSet, 'checkId' | 'key' | 'versionId' | 'versionNumber'>[];
}

export type Place =
  | { readonly is: 'fits'; readonly visitId: string; readonly number: number; readonly checkId: string }
  | { readonly is: 'no visit' }
  | { readonly is: 'changed'; readonly versionNumber: number }
  | { readonly is: 'gone' };

/**
 * Where a finding that came late may go: into an open visit of its kind (or a final one) whose set still holds the
 * very version that was looked at. A changed version has to be looked at again; the late finding stays in the record.
 */
export function placeFor(late: LateCheck, visits: readonly OpenVisit[]): Place {
  const fitting = visits.filter((visit) => visit.kind === late.visitKind || visit.kind === 'final');
  const [visit] = [...fitting].sort(
    (one, other) =>
      Number(one.kind === 'final') - Number(other.kind === 'final') || other.number - one.number,
  );
  if (visit === undefined) return { is: 'no visit' };
  const check = visit.checks.find((one) => one.key === late.key);
  if (check === undefined) return { is: 'gone' };
  if (check.versionId !== late.versionId) return { is: 'changed', versionNumber: check.versionNumber };
  return { is: 'fits', visitId: visit.visitId, number: visit.number, checkId: check.checkId };
}
