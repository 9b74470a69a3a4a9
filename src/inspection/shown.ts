import type { FormState } from '../web/forms/judge.ts';
import { isSettled, type CheckStatus, type FindingOnCheck } from './status.ts';
import type { VisitRow } from './store.ts';

/** Checks that a page shows at a time: of each inspection on the checklist, and of a visit. */
export const CHECKS_ON_PAGE = 50;

const BOX_OF = /^[a-zA-Z]+\.([0-9a-f-]{36})$/;

/**
 * The checks of a page, and before them those in whose boxes something was typed, wherever in the list they stand: what
 * is refused comes back where it was written.
 */
export function withTyped(
  list: readonly CheckStatus[],
  shown: readonly CheckStatus[],
  { values, errors }: FormState,
): readonly CheckStatus[] {
  const ids = new Set(
    [...Object.keys(values), ...Object.keys(errors)].flatMap((name) => BOX_OF.exec(name)?.[1] ?? []),
  );
  const typed = list.filter(({ checkId, finding }) => ids.has(checkId) || ids.has(finding?.findingId ?? ''));
  return [...typed.filter((status) => !shown.includes(status)), ...shown];
}

/** How checks stand, in words, what is to do first: `2 to look at`, `1 correction open`, `5 in order`. */
export function stateCounts(statuses: readonly CheckStatus[]): string[] {
  const settled = statuses.filter(isSettled).length;
  const corrections = statuses.filter((status) => status.state === 'correction' && !isSettled(status)).length;
  const left = statuses.length - settled - corrections;
  return [
    ...(corrections > 0 ? [`${corrections} ${corrections === 1 ? 'correction' : 'corrections'} open`] : []),
    ...(left > 0 ? [`${left} to look at`] : []),
    ...(settled > 0 ? [`${settled} in order`] : []),
  ];
}

type Photos = Readonly<Record<string, readonly unknown[]>>;

/** A photo is wanted, somebody looked, and none is kept. Said, never refused: the record of what was found stays. */
export function lacksPhoto(status: CheckStatus, photosBy: Photos): boolean {
  if (!status.photoRequired || status.finding === null || status.state === 'not_applicable') return false;
  return (photosBy[status.finding.findingId] ?? []).length === 0;
}

/** What was on record at a moment: a closed visit's page shows no more than that. */
export function asOf(findings: readonly FindingOnCheck[], until: Date): FindingOnCheck[] {
  return findings
    .filter((finding) => finding.receivedAt <= until)
    .map((finding) => ({ ...finding, answers: finding.answers.filter((answer) => answer.at <= until) }));
}

/** What a visit looked at last; null where it has found nothing yet. */
export function lastFoundIn(visitNumber: number, statuses: readonly CheckStatus[]): CheckStatus | null {
  const found = statuses.filter((status) => status.finding?.visitNumber === visitNumber);
  return found.sort((one, other) => arrival(one) - arrival(other)).at(-1) ?? null;
}

function arrival({ finding }: CheckStatus): number {
  return finding?.receivedAt.getTime() ?? 0;
}

/** Work is stopped until a later visit of the same kind says otherwise. Visits come newest first. */
export function stoppedVisits(visits: readonly VisitRow[]): VisitRow[] {
  const lastOfKind = new Map<string, VisitRow>();
  for (const visit of visits) {
    if (visit.closing !== null && !lastOfKind.has(visit.kind)) lastOfKind.set(visit.kind, visit);
  }
  return [...lastOfKind.values()].filter((visit) => visit.closing?.outcome === 'stop_work');
}
