import { notNegative, positive, refuseUnless } from '../../trace/index.ts';

/** Pieces to cut and the lengths that sticks are sold in; all inches. Any number of sticks of each length can be had. */
export interface CuttingProblem {
  readonly piecesIn: readonly number[];
  readonly stockIn: readonly number[];
  /** Lost at every cut between two pieces. */
  readonly kerfIn: number;
  /** Cut off every stick that gives more than one piece, kerf included; one piece may take the whole stick. */
  readonly endTrimIn: number;
}

/** One stick and what is cut from it, longest piece first. */
export interface Stick {
  readonly stockIn: number;
  readonly piecesIn: readonly number[];
  /** What is left at the end, after kerfs and end trim. */
  readonly leftIn: number;
}

/** The problem with equal pieces counted together: one entry for each length, longest first. */
export interface Counted {
  readonly lengthsIn: readonly number[];
  readonly counts: readonly number[];
  /** Shortest first, none twice. */
  readonly stockIn: readonly number[];
  readonly kerfIn: number;
  readonly endTrimIn: number;
}

/** Floating sums of sixteenths; far below what a saw can do. */
export const TOLERANCE_IN = 1e-9;

/** @throws Refusal for lengths of zero or less, no stock, and a piece longer than all stock */
export function counted(problem: CuttingProblem): Counted {
  const stockIn = [...new Set(problem.stockIn.map((stock, index) => positive(stock, `stockIn.${index}`)))];
  stockIn.sort((one, other) => one - other);
  const longestStock = stockIn.at(-1);
  refuseUnless(longestStock !== undefined, 'stockIn', 'There is no stock to cut from.');
  const byLength = new Map<number, number>();
  problem.piecesIn.forEach((piece, index) => {
    const length = positive(piece, `pieces.${index}`);
    refuseUnless(
      length <= longestStock + TOLERANCE_IN,
      `pieces.${index}`,
      'No stock length is long enough for this piece.',
    );
    byLength.set(length, (byLength.get(length) ?? 0) + 1);
  });
  const lengthsIn = [...byLength.keys()].sort((one, other) => other - one);
  return {
    lengthsIn,
    counts: lengthsIn.map((length) => byLength.get(length) ?? 0),
    stockIn,
    kerfIn: notNegative(problem.kerfIn, 'kerfIn'),
    endTrimIn: notNegative(problem.endTrimIn, 'endTrimIn'),
  };
}

/** Length of a stick that gives these pieces. */
export function usedIn(
  piecesIn: readonly number[],
  { kerfIn, endTrimIn }: Pick<Counted, 'kerfIn' | 'endTrimIn'>,
): number {
  const sum = piecesIn.reduce((total, piece) => total + piece, 0);
  return piecesIn.length < 2 ? sum : sum + (piecesIn.length - 1) * kerfIn + endTrimIn;
}

/** The shortest stick that gives these pieces; undefined where none is long enough. */
export function shortestStick(piecesIn: readonly number[], problem: Counted): Stick | undefined {
  const used = usedIn(piecesIn, problem);
  const stockIn = problem.stockIn.find((stock) => used <= stock + TOLERANCE_IN);
  return stockIn === undefined ? undefined : { stockIn, piecesIn, leftIn: Math.max(0, stockIn - used) };
}

/** All that is bought, in. */
export function boughtIn(sticks: readonly Pick<Stick, 'stockIn'>[]): number {
  return sticks.reduce((sum, stick) => sum + stick.stockIn, 0);
}
