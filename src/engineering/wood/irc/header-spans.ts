import type { Clause, Editions } from '../../trace/clause.ts';
import { positive } from '../../trace/refusal.ts';

/**
 * Header spans and jack studs that the IRC allows without calculation: a second opinion beside the
 * calculated header, never its replacement.
 *
 * Table R602.7(1) of the 2018 and 2021 codes is from memory, confidence low: confirm against the adopted
 * code. The table of the 2000 to 2012 codes (R502.5(1)) was seen; it is superseded and serves as a check of
 * the calculation only (tests/published). Rows are held for 30 psf ground snow.
 */
export type HeaderSupport = 'roof and ceiling' | 'roof, ceiling and one center-bearing floor';

export interface HeaderQuestion {
  readonly supporting: HeaderSupport;
  /** '2-2x10'. */
  readonly size: string;
  /** Across the ridge, ft. */
  readonly buildingWidthFt: number;
  readonly groundSnowPsf: number;
}

export interface HeaderAnswer {
  readonly spanIn: number;
  /** Each end. */
  readonly jackStuds: number;
  readonly clause: Clause;
  readonly confidence: 'high' | 'medium' | 'low';
  readonly note: string;
}

interface Cell {
  readonly widthFt: number;
  readonly spanIn: number;
  readonly jackStuds: number;
}

type Row = readonly Cell[];
type Table = ReadonlyMap<string, Row>;

const TABLE_SNOW_PSF = 30;

/** '6-10', feet and inches as the table prints them → inches. */
export function feetAndInches(text: string): number {
  const [feet, inches] = text.split('-').map(Number);
  return (feet ?? NaN) * 12 + (inches ?? NaN);
}

function table(
  widthsFt: readonly number[],
  rows: Readonly<Record<string, readonly (readonly [span: string, jackStuds: number])[]>>,
): Table {
  return new Map(
    Object.entries(rows).map(([size, cells]) => [
      size,
      cells.map(([span, jackStuds], at) => ({
        widthFt: widthsFt[at] ?? NaN,
        spanIn: feetAndInches(span),
        jackStuds,
      })),
    ]),
  );
}

const CURRENT_ROOF_AND_CEILING = table([12, 24, 36], {
  '2-2x6': [
    ['6-0', 1],
    ['4-7', 1],
    ['3-10', 1],
  ],
  '2-2x8': [
    ['7-7', 1],
    ['5-9', 1],
    ['4-10', 2],
  ],
  '2-2x10': [
    ['9-0', 1],
    ['6-10', 2],
    ['5-9', 2],
  ],
  '2-2x12': [
    ['10-7', 2],
    ['8-1', 2],
    ['6-10', 2],
  ],
  '3-2x8': [
    ['9-5', 1],
    ['7-3', 1],
    ['6-1', 1],
  ],
  '3-2x10': [
    ['11-3', 1],
    ['8-7', 1],
    ['7-3', 2],
  ],
  '3-2x12': [
    ['13-2', 1],
    ['10-1', 2],
    ['8-6', 2],
  ],
});

const SUPERSEDED: Readonly<Record<HeaderSupport, Table>> = {
  'roof and ceiling': table([20, 36], {
    '2-2x4': [
      ['3-6', 1],
      ['2-10', 1],
    ],
    '2-2x6': [
      ['5-5', 1],
      ['4-2', 1],
    ],
    '2-2x8': [
      ['6-10', 1],
      ['5-4', 2],
    ],
    '2-2x10': [
      ['8-5', 2],
      ['6-6', 2],
    ],
    '2-2x12': [
      ['9-9', 2],
      ['7-6', 2],
    ],
    '3-2x8': [
      ['8-4', 1],
      ['6-8', 1],
    ],
    '3-2x10': [
      ['10-6', 1],
      ['8-2', 2],
    ],
    '3-2x12': [
      ['12-2', 2],
      ['9-5', 2],
    ],
    '4-2x8': [
      ['9-2', 1],
      ['7-8', 2],
    ],
    '4-2x10': [
      ['11-8', 1],
      ['9-5', 2],
    ],
    '4-2x12': [
      ['14-1', 1],
      ['10-11', 2],
    ],
  }),
  'roof, ceiling and one center-bearing floor': table([20, 36], {
    '2-2x4': [
      ['3-1', 1],
      ['2-5', 1],
    ],
    '2-2x6': [
      ['4-6', 1],
      ['3-7', 2],
    ],
    '2-2x8': [
      ['5-9', 2],
      ['4-6', 2],
    ],
    '2-2x10': [
      ['7-0', 2],
      ['5-6', 2],
    ],
    '2-2x12': [
      ['8-1', 2],
      ['6-5', 2],
    ],
    '3-2x8': [
      ['7-2', 1],
      ['5-8', 2],
    ],
    '3-2x10': [
      ['8-9', 2],
      ['6-11', 2],
    ],
    '3-2x12': [
      ['10-2', 2],
      ['8-0', 2],
    ],
  }),
};

/** One-piece headers under roof and ceiling, 20 psf ground snow or less (seen in the code change proposal). */
const SINGLE_SNOW_PSF = 20;
const SINGLE_WIDTHS_FT = [20, 28, 36];
const SINGLE: Readonly<Record<'SPF' | 'DF-L or SP', Table>> = {
  SPF: table(SINGLE_WIDTHS_FT, {
    '1-2x8': [
      ['4-10', 1],
      ['4-2', 1],
      ['3-8', 1],
    ],
    '1-2x10': [
      ['6-2', 1],
      ['5-3', 1],
      ['4-8', 1],
    ],
  }),
  'DF-L or SP': table(SINGLE_WIDTHS_FT, {
    '1-2x8': [
      ['5-3', 1],
      ['4-6', 1],
      ['4-0', 1],
    ],
    '1-2x12': [
      ['8-1', 1],
      ['6-11', 1],
      ['6-2', 1],
    ],
  }),
};

/** Straight line between two tabulated values, as the tables' footnotes allow. */
export function betweenTabulated(
  at: number,
  [lowAt, lowValue]: readonly [number, number],
  [highAt, highValue]: readonly [number, number],
): number {
  if (highAt === lowAt) return lowValue;
  return lowValue + ((at - lowAt) / (highAt - lowAt)) * (highValue - lowValue);
}

/** Span at a width: the narrowest column for narrower houses, a straight line between columns. */
function read(row: Row, widthFt: number): Cell | undefined {
  const upper = row.find((cell) => cell.widthFt >= widthFt);
  if (upper === undefined) return undefined;
  const lower = row.findLast((cell) => cell.widthFt <= widthFt) ?? upper;
  return {
    widthFt,
    spanIn: betweenTabulated(widthFt, [lower.widthFt, lower.spanIn], [upper.widthFt, upper.spanIn]),
    jackStuds: Math.max(lower.jackStuds, upper.jackStuds),
  };
}

/**
 * Table R602.7(1) for a header in an exterior wall.
 *
 * @returns undefined where no row is held: more than 30 psf snow, wider than 36 ft, floors above, other sizes.
 * @throws Refusal for a width that is not above zero.
 */
export function ircHeaderSpan(question: HeaderQuestion, edition: Editions['irc']): HeaderAnswer | undefined {
  positive(question.buildingWidthFt, 'buildingWidthFt');
  if (question.supporting !== 'roof and ceiling' || question.groundSnowPsf > TABLE_SNOW_PSF) return undefined;
  const row = CURRENT_ROOF_AND_CEILING.get(question.size);
  const cell = row === undefined ? undefined : read(row, question.buildingWidthFt);
  if (cell === undefined) return undefined;
  return {
    spanIn: cell.spanIn,
    jackStuds: cell.jackStuds,
    clause: { standard: 'IRC', edition, section: 'Table R602.7(1)', provenance: 'from memory' },
    confidence: 'low',
    note: 'From memory: confirm against the adopted code.',
  };
}

/**
 * The header table of the 2000 to 2012 codes, at the widths seen (20 and 36 ft).
 * @returns undefined where no row is held.
 * @throws Refusal for a width that is not above zero.
 */
export function supersededHeaderSpan(question: HeaderQuestion): HeaderAnswer | undefined {
  positive(question.buildingWidthFt, 'buildingWidthFt');
  if (question.groundSnowPsf > TABLE_SNOW_PSF) return undefined;
  const row = SUPERSEDED[question.supporting].get(question.size);
  const cell = row === undefined ? undefined : read(row, question.buildingWidthFt);
  if (cell === undefined) return undefined;
  return {
    spanIn: cell.spanIn,
    jackStuds: cell.jackStuds,
    clause: { standard: 'IRC', edition: '2000-2012', section: 'Table R502.5(1)', provenance: 'seen' },
    confidence: 'high',
    note: 'Superseded: a check of the calculation, not a limit of the current code.',
  };
}

/**
 * A header of one piece (R602.7.1), roof and ceiling above.
 * @returns undefined where no row is held.
 * @throws Refusal for a width that is not above zero.
 */
export function ircSingleHeaderSpan(
  question: Omit<HeaderQuestion, 'supporting'> & { readonly species: 'SPF' | 'DF-L or SP' },
  edition: Editions['irc'],
): HeaderAnswer | undefined {
  positive(question.buildingWidthFt, 'buildingWidthFt');
  if (question.groundSnowPsf > SINGLE_SNOW_PSF) return undefined;
  const row = SINGLE[question.species].get(question.size);
  const cell = row === undefined ? undefined : read(row, question.buildingWidthFt);
  if (cell === undefined) return undefined;
  return {
    spanIn: cell.spanIn,
    jackStuds: cell.jackStuds,
    clause: { standard: 'IRC', edition, section: 'Table R602.7.1', provenance: 'seen' },
    confidence: 'medium',
    note: 'Read in the proposal that became the section; one jack each end is from memory.',
  };
}
