import { TOLERANCE_IN, type Counted } from './problem.ts';

/** One way to cut a stick: how many pieces of each length of the problem. */
export interface Pattern {
  readonly stockIn: number;
  readonly counts: readonly number[];
}

/** Steps that an enumeration may take; shared by callers that enumerate again and again. */
export interface Budget {
  steps: number;
}

/**
 * Every way to cut a stick that leaves no room for another piece that is still wanted, for each stock length, without
 * those that a shorter stick gives as well: some best plan consists of these alone, since a piece moved from one stick to
 * another that has room for it never makes the plan longer.
 *
 * @param wanted pieces still to cut, by length
 * @param withFirst the index of a length that must be in every pattern; -1 for none
 * @returns undefined where the budget ran out
 */
export function fullPatterns(
  problem: Counted,
  wanted: readonly number[],
  withFirst: number,
  budget: Budget,
): Pattern[] | undefined {
  const { lengthsIn, stockIn, kerfIn, endTrimIn } = problem;
  const found: Pattern[] = [];
  const counts = wanted.map(() => 0);
  const shortestWanted = lengthsIn.findLast((_, index) => (wanted[index] ?? 0) > 0) ?? Infinity;

  /** Sum of pieces and kerfs so far, the end trim not counted: it is due from the second piece on. */
  function extend(index: number, stock: number, shorter: number, sum: number, pieces: number): boolean {
    budget.steps -= 1;
    if (budget.steps < 0) return false;
    const room = (length: number): number =>
      pieces === 0 ? stock - length : stock - endTrimIn - sum - kerfIn - length;
    if (index === lengthsIn.length || (pieces > 0 && room(shortestWanted) < -TOLERANCE_IN)) {
      keep(stock, shorter, sum, pieces);
      return true;
    }
    const length = lengthsIn[index] ?? Infinity;
    const left = (wanted[index] ?? 0) - (counts[index] ?? 0);
    if (left > 0 && room(length) >= -TOLERANCE_IN) {
      counts[index] = (counts[index] ?? 0) + 1;
      const added = pieces === 0 ? length : kerfIn + length;
      const going = extend(index, stock, shorter, sum + added, pieces + 1);
      counts[index] = (counts[index] ?? 0) - 1;
      if (!going) return false;
    }
    if (index === withFirst && counts[index] === 0) return true;
    return extend(index + 1, stock, shorter, sum, pieces);
  }

  function keep(stock: number, shorter: number, sum: number, pieces: number): void {
    if (pieces === 0) return;
    const used = pieces === 1 ? sum : sum + endTrimIn;
    if (used <= shorter + TOLERANCE_IN) return;
    const left = stock - endTrimIn - sum - kerfIn;
    const full = lengthsIn.every(
      (length, index) => counts[index] === wanted[index] || length > left + TOLERANCE_IN,
    );
    if (full) found.push({ stockIn: stock, counts: [...counts] });
  }

  let shorter = 0;
  for (const stock of stockIn) {
    if (!extend(0, stock, shorter, 0, 0)) return undefined;
    shorter = stock;
  }
  return found;
}
