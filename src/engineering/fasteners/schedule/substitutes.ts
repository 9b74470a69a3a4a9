import { Refusal, type Editions } from '../../trace/index.ts';
import { dowelProperties, fastenerLabel, type Fastener } from '../dowels/fastener.ts';
import { judgeRow } from './judge.ts';
import type { RowJudgement } from './judgement.ts';
import type { FasteningRow } from './row.ts';

export interface Substitute {
  readonly fastener: Fastener;
  /** `as it is`: same pattern. `more of them`: the row below passes. `none`: it does not do, and why. */
  readonly outcome: 'as it is' | 'more of them' | 'none';
  /** The row as it would read with this fastener. */
  readonly row: FasteningRow;
  readonly judgement: RowJudgement | undefined;
  readonly sentence: string;
}

const TIGHTER_SPACINGS_IN = [24, 16, 12, 10, 8, 6, 5, 4, 3] as const;
/** Nobody drives three times as many without asking. */
const MOST_TIMES_AS_MANY = 3;

function judgedOrReason(row: FasteningRow, editions: Editions): RowJudgement | string {
  try {
    return judgeRow(row, editions);
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    throw error;
  }
}

/** Same joint, more fasteners: counts rise one by one, spacings tighten step by step. */
function denser(row: FasteningRow): readonly FasteningRow[] {
  const { pattern } = row;
  if (pattern.kind === 'count') {
    const most = pattern.count * MOST_TIMES_AS_MANY;
    return Array.from({ length: most - pattern.count }, (_, index) => ({
      ...row,
      pattern: { ...pattern, count: pattern.count + index + 1 },
    }));
  }
  return TIGHTER_SPACINGS_IN.filter((spacingIn) => spacingIn < pattern.spacingIn).map((spacingIn) => ({
    ...row,
    pattern: { ...pattern, spacingIn },
  }));
}

function adviceHolds(judgement: RowJudgement, before: RowJudgement | string): boolean {
  const already = typeof before === 'string' ? 0 : before.advice.filter((check) => !check.passes).length;
  return judgement.advice.filter((check) => !check.passes).length <= already;
}

/** A point that comes out behind is said at once: it passes, and still somebody may not want it. */
function pointOf(judgement: RowJudgement): string {
  const notice = judgement.notices.find(({ id }) => id.endsWith('.protrudes'));
  return notice === undefined ? '' : ` ${notice.text}`;
}

function trySubstitute(row: FasteningRow, fastener: Fastener, editions: Editions): Substitute {
  const label = fastenerLabel(fastener);
  // A smaller fastener asks for smaller distances; bored holes go with the kinds that need them.
  const swapped: FasteningRow = {
    ...row,
    fastener,
    prebored:
      row.prebored ||
      fastener.kind === 'lag screw' ||
      fastener.kind === 'wood screw' ||
      fastener.kind === 'bolt',
  };
  const original = judgedOrReason(row, editions);
  const same = judgedOrReason(swapped, editions);
  if (typeof same === 'string') {
    return { fastener, outcome: 'none', row: swapped, judgement: undefined, sentence: `${label}: ${same}` };
  }
  if (same.passes) {
    return {
      fastener,
      outcome: 'as it is',
      row: swapped,
      judgement: same,
      sentence: `${label}: passes as it is.${pointOf(same)}`,
    };
  }
  for (const candidate of denser(swapped)) {
    const judged = judgedOrReason(candidate, editions);
    if (typeof judged === 'string' || !judged.passes || !adviceHolds(judged, original)) continue;
    const how =
      candidate.pattern.kind === 'count'
        ? `${candidate.pattern.count} instead of ${row.pattern.kind === 'count' ? row.pattern.count : ''}`
        : `at ${candidate.pattern.spacingIn} in instead of ${row.pattern.spacingIn} in`;
    return {
      fastener,
      outcome: 'more of them',
      row: candidate,
      judgement: judged,
      sentence: `${label}: passes with ${how}.${pointOf(judged)}`,
    };
  }
  const why = same.checks.find((check) => !check.passes)?.sentence ?? '';
  return {
    fastener,
    outcome: 'none',
    row: swapped,
    judgement: same,
    sentence: `${label}: does not do. ${why}`,
  };
}

function pointSticksOut(substitute: Substitute): number {
  return substitute.judgement !== undefined && pointOf(substitute.judgement) !== '' ? 1 : 0;
}

const ORDER: Readonly<Record<Substitute['outcome'], number>> = { 'as it is': 0, 'more of them': 1, none: 2 };

/**
 * What else in the truck satisfies this row: every fastener on hand tried in the same pattern, then denser.
 * Best first: as it is, with more of them, not at all; among equals those whose point stays in the wood, then
 * thinner shanks.
 */
export function findSubstitutes(
  row: FasteningRow,
  fastenersOnHand: readonly Fastener[],
  editions: Editions,
): readonly Substitute[] {
  return fastenersOnHand
    .map((fastener) => trySubstitute(row, fastener, editions))
    .sort(
      (a, b) =>
        ORDER[a.outcome] - ORDER[b.outcome] ||
        pointSticksOut(a) - pointSticksOut(b) ||
        dowelProperties(a.fastener).diameterIn - dowelProperties(b.fastener).diameterIn,
    );
}
