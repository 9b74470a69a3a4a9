import { gradeCode } from '../materials/sawn-lumber.ts';
import { positive, refuseUnless } from '../trace/index.ts';

/** Lengths that lumber yards keep, 8 to 20 ft by even feet, in. Common practice. */
export const SAWN_STOCK_IN: readonly number[] = [96, 120, 144, 168, 192, 216, 240];
/** Longer sticks of 2x10 and more are ordered in; taken where a piece is longer than what is kept. Common practice. */
export const SAWN_TO_ORDER_IN: readonly number[] = [264, 288];
/** Composite lumber and glulam by the even foot, cut to order from billets up to 60 ft. Common practice. */
export const COMPOSITE_STOCK_IN: readonly number[] = Array.from(
  { length: 27 },
  (_, index) => (index + 4) * 24,
);

/** Stud is a grade for studs of 10 ft and less; longer sticks bear no such stamp (NLGA and WWPA grading rules, from memory). */
export const STUD_LONGEST_IN = 120;

/** What a framing saw takes. Common practice: blades of 3/32 to 1/8 in. */
export const SAW_KERF_IN = 1 / 8;
/** Cut off a stick before its first piece, to be square and free of end checks. Common practice. */
export const END_TRIM_IN = 1 / 2;

/** Shortest stock length that gives a piece. Refuses one that none gives. */
export function stockLengthIn(pieceIn: number, stockIn: readonly number[], path = 'lengthIn'): number {
  const length = positive(pieceIn, path);
  const found = stockIn.find((stock) => stock >= length - 1e-9);
  refuseUnless(found !== undefined, path, 'No stock length is long enough for this piece.');
  return found;
}

/** The sawn stock to cut these pieces from: what is kept, and what is ordered where a piece needs it. */
export function sawnStockFor(piecesIn: readonly number[], grade: string): readonly number[] {
  if (isStudGrade(grade)) return SAWN_STOCK_IN.filter((lengthIn) => lengthIn <= STUD_LONGEST_IN);
  const longest = Math.max(0, ...piecesIn);
  const keptTo = SAWN_STOCK_IN.at(-1) ?? 0;
  return longest > keptTo + 1e-9 ? [...SAWN_STOCK_IN, ...SAWN_TO_ORDER_IN] : SAWN_STOCK_IN;
}

/** Longer than any stick of its grade. */
export function isTooLongForGrade(pieceIn: number, grade: string): boolean {
  return isStudGrade(grade) && pieceIn > STUD_LONGEST_IN + 1e-9;
}

function isStudGrade(grade: string): boolean {
  return gradeCode(grade) === 'Stud';
}
