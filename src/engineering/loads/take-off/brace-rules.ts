import type { Editions } from '../../trace/clause.ts';
import type { Brace } from '../../proposal/survey.ts';
import type { Notice } from '../../trace/step.ts';
import { formatFeetInches } from '../../units/length-format.ts';

const LEAST_ANGLE_DEG = 45;
const LONGEST_UNBRACED_IN = 96;
const WIDEST_SPACING_IN = 48;

/** Tolerance of a tape and of an angle finder: nobody is sent back over less. */
const TAPE_IN = 1 / 16;

/**
 * What IRC R802.4.5 asks of purlin braces: 2x4 at most 4 ft apart, unbraced length at most 8 ft, not flatter than
 * 45° from the horizontal, down to a bearing wall (seen in a public discussion of the section). A brace that
 * breaks a rule still stands there and is counted; the engineer is told.
 */
export function braceRuleNotices(braces: readonly Brace[], editions: Pick<Editions, 'irc'>): Notice[] {
  const clause = { standard: 'IRC', edition: editions.irc, section: 'R802.4.5', provenance: 'seen' } as const;
  const notices: Notice[] = [];
  for (const brace of braces) {
    if (brace.angleDeg < LEAST_ANGLE_DEG) {
      notices.push({
        id: `${brace.id}.angle`,
        severity: 'caution',
        text: `${brace.label} stands at ${brace.angleDeg}° from the horizontal; purlin braces are to be no flatter than 45°.`,
        clause,
      });
    }
    if (brace.lengthIn > LONGEST_UNBRACED_IN + TAPE_IN) {
      notices.push({
        id: `${brace.id}.length`,
        severity: 'caution',
        text: `${brace.label} is ${formatFeetInches(brace.lengthIn, { to: 16 })} long; the unbraced length of a purlin brace is limited to 8'-0".`,
        clause,
      });
    }
  }
  for (const side of ['front', 'rear'] as const) {
    const row = braces
      .filter((brace) => brace.side === side)
      .sort((left, right) => left.positionIn - right.positionIn);
    row.forEach((brace, index) => {
      const next = row[index + 1];
      if (next === undefined || next.positionIn - brace.positionIn <= WIDEST_SPACING_IN + TAPE_IN) return;
      notices.push({
        id: `${brace.id}.spacing`,
        severity: 'caution',
        text: `${brace.label} and ${next.label} stand ${formatFeetInches(next.positionIn - brace.positionIn, { to: 16 })} apart; purlin braces are to be no more than 4'-0" apart.`,
        clause,
      });
    });
  }
  return notices;
}
