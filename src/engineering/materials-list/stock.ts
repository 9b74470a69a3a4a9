import { positive, refuseUnless } from '../trace/index.ts';

/** Lengths that lumber yards keep, in. Common practice. */
export const SAWN_STOCK_IN = [96, 120, 144, 168, 192, 216, 240, 264, 288] as const;
/** Composite lumber and glulam by the even foot, cut to order from billets up to 60 ft. Common practice. */
export const COMPOSITE_STOCK_IN: readonly number[] = Array.from(
  { length: 27 },
  (_, index) => (index + 4) * 24,
);

export const SAW_KERF_IN = 1 / 8;

/** Shortest stock length that gives a piece. Refuses one that none gives. */
export function stockLengthIn(pieceIn: number, stockIn: readonly number[], path = 'lengthIn'): number {
  const length = positive(pieceIn, path);
  const found = stockIn.find((stock) => stock >= length - 1e-9);
  refuseUnless(found !== undefined, path, 'No stock length is long enough for this piece.');
  return found;
}

export interface Cutting {
  readonly stockIn: number;
  readonly count: number;
  /** Pieces of each stick. */
  readonly sticks: readonly (readonly number[])[];
}

/**
 * How to cut pieces from sticks of one length: longest first, each into the first stick with room (saw kerf counted),
 * for the stock length that buys the least lumber, then the shortest sticks. Refuses a piece longer than all stock.
 */
export function cutFromStock(piecesIn: readonly number[], stockIn: readonly number[]): Cutting | undefined {
  if (piecesIn.length === 0) return undefined;
  const longest = Math.max(...piecesIn.map((piece, index) => positive(piece, `pieces.${index}`)));
  const least = stockLengthIn(longest, stockIn, 'pieces');
  const tries = stockIn.filter((stock) => stock >= least).map((stock) => fill(piecesIn, stock));
  return tries.reduce((best, next) => (next.count * next.stockIn < best.count * best.stockIn ? next : best));
}

function fill(piecesIn: readonly number[], stockIn: number): Cutting {
  const sticks: { pieces: number[]; left: number }[] = [];
  for (const piece of [...piecesIn].sort((a, b) => b - a)) {
    // A piece as long as what is left needs no cut behind it.
    const stick = sticks.find((one) => one.left >= piece - 1e-9);
    if (stick === undefined) sticks.push({ pieces: [piece], left: stockIn - piece - SAW_KERF_IN });
    else {
      stick.pieces.push(piece);
      stick.left -= piece + SAW_KERF_IN;
    }
  }
  return { stockIn, count: sticks.length, sticks: sticks.map((stick) => stick.pieces) };
}
