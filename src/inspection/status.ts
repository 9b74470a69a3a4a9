import type { VisitKind, FindingResult, VisitOutcome } from '../database/generated/client.ts';
import { visitTitles } from './checks/check.ts';

/** A check of the set in force. */
export interface CheckOfSet {
  readonly checkId: string;
  readonly key: string;
  readonly versionId: string;
  readonly versionNumber: number;
  readonly ordinal: number;
  readonly visitKind: VisitKind;
  readonly title: string;
  readonly criterion: string;
  readonly clause: string;
  readonly howToLook: string;
  readonly photoRequired: boolean;
  readonly holdPoint: string;
}

/** A finding, with the key and version of the check it was made on, whatever set that was of. */
export interface FindingOnCheck {
  readonly findingId: string;
  readonly checkId: string;
  readonly key: string;
  readonly versionId: string;
  readonly versionNumber: number;
  readonly visitNumber: number;
  readonly setNumber: number;
  readonly result: FindingResult;
  readonly reason: string;
  readonly location: string;
  readonly byName: string;
  readonly at: Date;
  readonly receivedAt: Date;
  /** Photos that a phone announced with it and that have not come yet. */
  readonly photosMissing?: number;
  /** It came late and was placed: the finding that the phone delivered, which its photos hang on, and who placed it. */
  readonly placedFromId?: string;
  readonly placedByName?: string;
  readonly answers: readonly {
    readonly answerId: string;
    readonly note: string;
    readonly byName: string;
    readonly at: Date;
  }[];
}

export interface CheckStatus extends CheckOfSet {
  readonly state: 'open' | FindingResult;
  /** The finding that speaks; null where the check is open. */
  readonly finding: FindingOnCheck | null;
  /** All findings on this check, oldest first, those on earlier versions among them. */
  readonly history: readonly FindingOnCheck[];
  /** From an earlier set, on the same version. */
  readonly carriedFromSet: number | null;
  /** Why an earlier finding no longer counts. */
  readonly reopened: string | null;
}

/**
 * Where each check of a set stands. Findings on the same version carry over from earlier sets; a changed version is
 * open again, and says why. The latest finding speaks. Pure.
 */
export function checkStatuses(
  setNumber: number,
  checks: readonly CheckOfSet[],
  findings: readonly FindingOnCheck[],
): CheckStatus[] {
  const byKey = new Map<string, FindingOnCheck[]>();
  for (const finding of findings) {
    const list = byKey.get(finding.key) ?? [];
    list.push(finding);
    byKey.set(finding.key, list);
  }
  return checks.map((check) => {
    const history = [...(byKey.get(check.key) ?? [])].sort(
      // By when it was found, not by visit: two visits can be open at once, and the last look is the one that counts,
      // even where a phone without a network delivered an earlier one after it.
      (one, other) =>
        one.at.getTime() - other.at.getTime() ||
        one.receivedAt.getTime() - other.receivedAt.getTime() ||
        one.visitNumber - other.visitNumber,
    );
    const finding = history.filter((one) => one.versionId === check.versionId).at(-1) ?? null;
    const last = history.at(-1);
    return {
      ...check,
      state: finding?.result ?? 'open',
      finding,
      history,
      carriedFromSet: finding !== null && finding.setNumber < setNumber ? finding.setNumber : null,
      reopened:
        finding === null && last !== undefined
          ? `Looked at in visit ${last.visitNumber} as version ${last.versionNumber}; version ${check.versionNumber} is approved now.`
          : null,
    };
  });
}

export interface HoldPointState {
  readonly step: string;
  readonly released: boolean;
  /** What is missing, by title. */
  readonly missing: readonly string[];
}

/** A step is held until every check that guards it passes or does not apply. */
export function holdPointStates(statuses: readonly CheckStatus[]): HoldPointState[] {
  const steps = [...new Set(statuses.map((status) => status.holdPoint))].filter((step) => step !== '');
  return steps.map((step) => {
    const missing = statuses.filter((status) => status.holdPoint === step && !isSettled(status));
    return { step, released: missing.length === 0, missing: missing.map((status) => status.title) };
  });
}

export function isSettled(status: Pick<CheckStatus, 'state'>): boolean {
  return status.state === 'pass' || status.state === 'not_applicable';
}

/** The checks a visit works through. A final visit looks at the whole set. */
export function checksOfVisit(kind: VisitKind, statuses: readonly CheckStatus[]): CheckStatus[] {
  return statuses.filter((status) => kind === 'final' || status.visitKind === kind);
}

/**
 * What is still to do in this visit comes first: corrections of earlier visits (a re-inspection begins with them), then
 * what nobody has looked at; then what this visit has looked at, corrections first; then what was in order before.
 */
export function inVisitOrder(statuses: readonly CheckStatus[], visitNumber: number): CheckStatus[] {
  const rank = (status: CheckStatus) => {
    if (status.state === 'open') return 1;
    if (status.state === 'correction') return status.finding?.visitNumber === visitNumber ? 2 : 0;
    return 3;
  };
  return [...statuses].sort((one, other) => rank(one) - rank(other) || one.ordinal - other.ordinal);
}

export interface Closing {
  readonly outcome: VisitOutcome;
  readonly portion: string;
  readonly summary: string;
  readonly signedName: string;
}

/** What stands against closing a visit like this, as sentences for the fields; empty where it may be closed. */
export function closingProblems(
  kind: VisitKind,
  statuses: readonly CheckStatus[],
  closing: Closing,
): Record<string, string> {
  const own = checksOfVisit(kind, statuses);
  const corrections = own.filter((status) => status.state === 'correction');
  const open = own.filter((status) => status.state === 'open');
  const problems: Record<string, string> = {};
  const { outcome } = closing;
  if (outcome === 'passed' && corrections.length > 0) {
    problems.outcome = `A correction is open (${corrections[0]?.title ?? ''}): the visit can’t close as passed.`;
  } else if (outcome === 'passed' && open.length > 0) {
    problems.outcome = `${open.length} of “${visitTitles[kind]}” not looked at: pass a portion, or look at them.`;
  } else if (outcome === 'correction_needed' && corrections.length === 0) {
    problems.outcome = 'No correction is recorded: record what has to be put right.';
  }
  const portion = closing.portion.trim();
  if (outcome === 'partial' && portion === '') problems.portion = 'Name the portion that may go on.';
  if (outcome !== 'partial' && portion !== '') {
    problems.portion =
      'A portion goes with “Partial” and with nothing else: choose that, or clear this line.';
  }
  const needsWords = outcome === 'not_ready' || outcome === 'no_access' || outcome === 'stop_work';
  if (needsWords && closing.summary.trim() === '') problems.summary = 'Say why.';
  if (closing.signedName.trim() === '') problems.signedName = 'Type your name.';
  return problems;
}
