import { bestFit } from './best-fit.ts';
import { relax, type Relaxation } from './linear-bound.ts';
import { fullPatterns, type Pattern } from './patterns.ts';
import {
  boughtIn,
  counted,
  shortestStick,
  TOLERANCE_IN,
  type Counted,
  type CuttingProblem,
  type Stick,
} from './problem.ts';
import { roundedUp, search } from './search.ts';

/** How to cut all pieces, and how good that is known to be. */
export interface Cutting {
  /** Longest stick first. */
  readonly sticks: readonly Stick[];
  /** All sticks together, in. */
  readonly boughtIn: number;
  /** No way of cutting buys less than this, in. */
  readonly leastIn: number;
  /** Nothing shorter is possible: shown by the bound, or because every other way was looked at. */
  readonly proven: boolean;
}

/** More ways to cut one stick than this, and the list is large: best-fit decreasing and the bound by length. */
const PATTERN_STEPS = 20_000;
const SEARCH_STEPS = 150_000;

/**
 * One-dimensional cutting of sticks, for the least length bought. Small lists: every way to cut a stick is written out, a
 * linear programme gives the bound, its whole sticks and a branch-and-bound search of the rest give the plan. Large lists:
 * best-fit decreasing, and how far it can be from the best.
 *
 * @throws Refusal for a length of zero or less and for a piece longer than all stock
 */
export function cutFromStock(problem: CuttingProblem): Cutting {
  const all = counted(problem);
  if (all.lengthsIn.length === 0) return { sticks: [], boughtIn: 0, leastIn: 0, proven: true };
  const stepIn = commonStep(all.stockIn);
  let plan = bestFit(all);
  let leastIn = roundedUp(boundByLength(all), stepIn);
  const done = (): boolean => boughtIn(plan) <= leastIn + TOLERANCE_IN;
  if (!done()) {
    const patterns = fullPatterns(all, all.counts, -1, { steps: PATTERN_STEPS });
    if (patterns !== undefined) {
      const relaxed = relax(patterns, all.counts);
      leastIn = Math.max(leastIn, roundedUp(relaxed.boundIn, stepIn));
      if (!done()) plan = better(plan, wholeSticks(all, patterns, relaxed, stepIn));
      if (!done()) {
        const { patterns: found, finished } = search({
          problem: all,
          wanted: all.counts,
          belowIn: boughtIn(plan),
          worthIn: relaxed.worthIn,
          stepIn,
          budget: { steps: SEARCH_STEPS },
        });
        if (found !== undefined) plan = sticksOf(found, all.counts, all);
        if (finished) leastIn = boughtIn(plan);
      }
    }
  }
  const sticks = [...plan].sort(
    (one, other) => other.stockIn - one.stockIn || (other.piecesIn[0] ?? 0) - (one.piecesIn[0] ?? 0),
  );
  return { sticks, boughtIn: boughtIn(plan), leastIn, proven: done() };
}

/** Pieces and kerfs against the stock that loses least to its last cut: no plan can do better. */
function boundByLength({ lengthsIn, counts, stockIn, kerfIn }: Counted): number {
  const wanted = lengthsIn.reduce((sum, length, index) => sum + (length + kerfIn) * (counts[index] ?? 0), 0);
  return wanted * Math.min(...stockIn.map((stock) => stock / (stock + kerfIn)));
}

/** The sticks that the relaxation takes whole, and a search of what is left over. */
function wholeSticks(
  problem: Counted,
  patterns: readonly Pattern[],
  relaxed: Relaxation,
  stepIn: number,
): readonly Stick[] {
  let rest = [...problem.counts];
  const sticks: Stick[] = [];
  patterns.forEach((pattern, index) => {
    for (let time = Math.floor((relaxed.times[index] ?? 0) + 1e-6); time > 0; time -= 1) {
      const cut = pattern.counts.map((count, row) => Math.min(count, rest[row] ?? 0));
      rest = rest.map((count, row) => count - (cut[row] ?? 0));
      sticks.push(...stickOf(cut, problem));
    }
  });
  const fitted = bestFit(problem, rest);
  const { patterns: found } = search({
    problem,
    wanted: rest,
    belowIn: boughtIn(fitted),
    worthIn: relaxed.worthIn,
    stepIn,
    budget: { steps: SEARCH_STEPS },
  });
  return [...sticks, ...(found === undefined ? fitted : sticksOf(found, rest, problem))];
}

function better(one: readonly Stick[], other: readonly Stick[]): readonly Stick[] {
  return boughtIn(other) < boughtIn(one) - TOLERANCE_IN ? other : one;
}

/** Patterns as sticks; a pattern that gives more than is wanted is cut for what is. */
function sticksOf(patterns: readonly Pattern[], wanted: readonly number[], problem: Counted): Stick[] {
  let rest = [...wanted];
  return patterns.flatMap((pattern) => {
    const cut = pattern.counts.map((count, row) => Math.min(count, rest[row] ?? 0));
    rest = rest.map((count, row) => count - (cut[row] ?? 0));
    return stickOf(cut, problem);
  });
}

function stickOf(counts: readonly number[], problem: Counted): Stick[] {
  const piecesIn = problem.lengthsIn.flatMap((length, row) =>
    Array.from({ length: counts[row] ?? 0 }, () => length),
  );
  const stick = piecesIn.length === 0 ? undefined : shortestStick(piecesIn, problem);
  return stick === undefined ? [] : [stick];
}

/** Every plan buys a multiple of this: the greatest common measure of stock in whole inches, or the only stock. */
function commonStep(stockIn: readonly number[]): number {
  const [first, ...others] = stockIn;
  if (first === undefined) return 0;
  if (others.length === 0) return first;
  if (!stockIn.every(Number.isInteger)) return 0;
  const measure = (one: number, other: number): number => (other === 0 ? one : measure(other, one % other));
  return others.reduce(measure, first);
}
