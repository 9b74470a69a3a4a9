import type { VisitKind, FindingResult, VisitOutcome } from '../database/generated/client.ts';

export interface SwitchedOff {
  readonly visitName: string;
  readonly decidedBy: 'engineer' | 'authority';
}

export interface Accepted {
  readonly byName: string;
  readonly at: Date;
  readonly basis: string;
}

/** A check of the set in force. */
export interface CheckOfSet {
  readonly checkId: string;
  readonly key: string;
  /** '' where it comes from no version; `source` then says where from. */
  readonly versionId: string;
  readonly versionNumber: number;
  /** 'local requirement', 'circuit 9'; '' or left out for an approved version. */
  readonly source?: string;
  /** The item it is about, with its version: 'Beam, version 2'; '' where there is none. */
  readonly about?: string;
  readonly ordinal: number;
  readonly visitKind: VisitKind;
  /** The visit by its key in the plan of inspections; left out: the kind. */
  readonly visitKey?: string;
  /** Set where the project does not have this inspection: who decides instead. */
  readonly switchedOff?: SwitchedOff | null;
  /** The engineer's word where the inspection is switched off. */
  readonly accepted?: Accepted | null;
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
  /** A square of a drawing of the set. */
  readonly place?: { readonly sheetId: string; readonly sheetName: string; readonly square: string } | null;
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
    /** Keys of checks that putting it right disturbed. */
    readonly disturbed?: readonly string[];
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
  const byStem = new Map<string, FindingOnCheck[]>();
  for (const finding of findings) {
    const list = byStem.get(stemOf(finding.key)) ?? [];
    list.push(finding);
    byStem.set(stemOf(finding.key), list);
  }
  const disturbances = disturbancesOf(findings);
  return checks.map((check) => {
    const history = [...(byStem.get(stemOf(check.key)) ?? [])].sort(
      // By when it was found, not by visit: two visits can be open at once, and the last look is the one that counts,
      // even where a phone without a network delivered an earlier one after it.
      (one, other) =>
        one.at.getTime() - other.at.getTime() ||
        one.receivedAt.getTime() - other.receivedAt.getTime() ||
        one.visitNumber - other.visitNumber,
    );
    const last = history.filter((one) => isAbout(one, check)).at(-1) ?? null;
    const disturbed =
      last?.result === 'pass'
        ? disturbances.filter(({ stem, at }) => stem === stemOf(check.key) && at > last.at).at(-1)
        : undefined;
    const finding = disturbed === undefined ? last : null;
    return {
      ...check,
      state: finding?.result ?? 'open',
      finding,
      history,
      carriedFromSet: finding !== null && finding.setNumber < setNumber ? finding.setNumber : null,
      reopened: disturbed?.words ?? (finding === null ? whyOpenAgain(check, history.at(-1)) : null),
    };
  });
}

/** What was put right, and which passed checks that disturbed, oldest first. */
function disturbancesOf(findings: readonly FindingOnCheck[]) {
  return findings
    .flatMap(({ answers }) => answers)
    .flatMap(({ disturbed = [], byName, at, note }) =>
      disturbed.map((key) => ({
        stem: stemOf(key),
        at,
        words: `Disturbed when a correction was put right (${byName}: “${note}”).`,
      })),
    )
    .sort((one, other) => one.at.getTime() - other.at.getTime());
}

/** What a check means, in whatever words: checks of no version carry a digest of their words behind a '#'. */
export function stemOf(key: string): string {
  const end = key.indexOf('#');
  return end === -1 ? key : key.slice(0, end);
}

/** Is what was looked at the very thing that is asked for now? Told apart among checks of one stem. */
export function isAbout(
  looked: Pick<CheckOfSet, 'key' | 'versionId'>,
  check: Pick<CheckOfSet, 'key' | 'versionId'>,
): boolean {
  return check.versionId === '' ? looked.key === check.key : looked.versionId === check.versionId;
}

function whyOpenAgain(check: CheckOfSet, last: FindingOnCheck | undefined): string | null {
  if (last === undefined) return null;
  if (check.versionId === '') {
    return `Looked at in visit ${last.visitNumber}, when it said something else.`;
  }
  return `Looked at in visit ${last.visitNumber} as version ${last.versionNumber}; version ${check.versionNumber} is approved now.`;
}

/** In order, not applicable, or accepted by the engineer where the project has no such inspection. */
export function isSettled(status: Pick<CheckStatus, 'state' | 'accepted'>): boolean {
  return status.state === 'pass' || status.state === 'not_applicable' || Boolean(status.accepted);
}

/**
 * The checks a visit works through, by its key in the plan (for the usual ones the kind). A final visit looks at the
 * whole list but for what no inspection of this project looks at.
 */
export function checksOfVisit<Check extends CheckOfSet>(visitKey: string, checks: readonly Check[]): Check[] {
  return checks.filter((check) =>
    visitKey === 'final' ? !check.switchedOff : (check.visitKey ?? check.visitKind) === visitKey,
  );
}

/**
 * What is still to do in this visit comes first: corrections of earlier visits (a re-inspection begins with them), then
 * what nobody has looked at; then what this visit has looked at, corrections first; then what was in order before.
 */
export function inVisitOrder(statuses: readonly CheckStatus[], visitNumber: number): CheckStatus[] {
  const rank = (status: CheckStatus) => {
    if (status.state === 'open') return status.reopened === null ? 1 : 0;
    if (status.state === 'correction') return status.finding?.visitNumber === visitNumber ? 2 : 0;
    return 3;
  };
  return [...statuses].sort((one, other) => rank(one) - rank(other) || one.ordinal - other.ordinal);
}

/**
 * What this visit has to look at, or has looked at, and what was in order before it: a re-inspection begins with the
 * open corrections and what putting them right disturbed, and has the rest at hand.
 */
export function partedForVisit(
  statuses: readonly CheckStatus[],
  visitNumber: number,
): { readonly now: readonly CheckStatus[]; readonly before: readonly CheckStatus[] } {
  const ordered = inVisitOrder(statuses, visitNumber);
  const inOrderBefore = (status: CheckStatus) =>
    status.state !== 'open' && status.state !== 'correction' && status.finding?.visitNumber !== visitNumber;
  return {
    now: ordered.filter((status) => !inOrderBefore(status)),
    before: ordered.filter(inOrderBefore),
  };
}

export interface Closing {
  readonly outcome: VisitOutcome;
  readonly portion: string;
  readonly summary: string;
  readonly signedName: string;
}

/** A visit as it is to be closed. */
export interface VisitToClose {
  readonly title: string;
  /** `checksOfVisit`. */
  readonly own: readonly CheckStatus[];
  /** Titles of its checks that ask for a photo and have none. */
  readonly withoutPhoto?: readonly string[];
}

/** What stands against closing a visit like this, as sentences for the fields; empty where it may be closed. */
export function closingProblems(
  { title, own, withoutPhoto = [] }: VisitToClose,
  closing: Closing,
): Record<string, string> {
  const corrections = own.filter((status) => status.state === 'correction');
  const open = own.filter((status) => status.state === 'open');
  const problems: Record<string, string> = {};
  const { outcome } = closing;
  if (outcome === 'passed' && corrections.length > 0) {
    problems.outcome = `A correction is open (${corrections[0]?.title ?? ''}): the visit can’t close as passed.`;
  } else if (outcome === 'passed' && open.length > 0) {
    problems.outcome = `${open.length} of “${title}” not looked at: pass a portion, or look at them.`;
  } else if (outcome === 'correction_needed' && corrections.length === 0) {
    problems.outcome = 'No correction is recorded: record what has to be put right.';
  } else if (outcome === 'passed' && withoutPhoto.length > 0) {
    problems.outcome = `${withoutPhoto.length === 1 ? 'A photo is' : `${withoutPhoto.length} photos are`} missing that the checks ask for (${withoutPhoto[0] ?? ''}): take ${withoutPhoto.length === 1 ? 'it' : 'them'}, or close as something else.`;
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
