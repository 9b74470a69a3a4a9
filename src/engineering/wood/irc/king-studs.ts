import type { Clause, Editions } from '../../trace/clause.ts';
import { positive } from '../../trace/refusal.ts';

/** Wind the table is read for: basic design speed and exposure. */
export type KingStudWind = 'up to 115 mph, exposure B' | 'under 140 mph exposure B or under 130 exposure C';

export interface KingStudAnswer {
  /** Full-height studs at each end of the header. */
  readonly kingStuds: number;
  readonly clause: Clause;
  readonly confidence: 'low';
}

/** Header span up to, ft → studs in moderate and in stronger wind. */
const ROWS: readonly (readonly [spanFt: number, moderate: number, stronger: number])[] = [
  [4, 1, 1],
  [6, 1, 2],
  [8, 1, 2],
  [10, 2, 3],
  [12, 2, 3],
  [14, 2, 3],
  [16, 2, 4],
  [18, 2, 4],
];

/**
 * Full-height studs beside a header in an exterior wall: a second opinion beside the calculated kings.
 * Source: IRC Table R602.7.5, 2018 and 2021, from memory, confidence low.
 *
 * @returns undefined for headers longer than the table's 18 ft.
 * @throws Refusal for a span that is not above zero.
 */
export function ircKingStuds(
  headerSpanFt: number,
  wind: KingStudWind,
  edition: Editions['irc'],
): KingStudAnswer | undefined {
  positive(headerSpanFt, 'headerSpanFt');
  const row = ROWS.find(([spanFt]) => spanFt >= headerSpanFt);
  if (row === undefined) return undefined;
  const [, moderate, stronger] = row;
  return {
    kingStuds: wind === 'up to 115 mph, exposure B' ? moderate : stronger,
    clause: { standard: 'IRC', edition, section: 'Table R602.7.5', provenance: 'from memory' },
    confidence: 'low',
  };
}
