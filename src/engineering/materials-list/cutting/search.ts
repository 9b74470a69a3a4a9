import { fullPatterns, type Budget, type Pattern } from './patterns.ts';
import { TOLERANCE_IN, type Counted } from './problem.ts';

export interface Searched {
  /** The best plan found that buys less than `belowIn`; undefined where there is none, or none was found in time. */
  readonly patterns: readonly Pattern[] | undefined;
  /** False where the budget ran out before everything was looked at. */
  readonly finished: boolean;
}

export interface SearchInput {
  readonly problem: Counted;
  readonly wanted: readonly number[];
  /** Only a plan that buys less is of interest, in. */
  readonly belowIn: number;
  /** Stock length that one piece of each length is worth, from the relaxation: bounds what is still to be bought. */
  readonly worthIn: readonly number[];
  /** Everything bought is a multiple of this, in; 0 where there is no such length. */
  readonly stepIn: number;
  readonly budget: Budget;
}

/**
 * Branch and bound: the longest piece still to cut has to come from some stick, so branch over the ways to cut that one;
 * leave a branch where what is bought plus the bound on the rest is no better than the best plan known, or where the same
 * rest was reached more cheaply before.
 */
export function search(input: SearchInput): Searched {
  const { problem, worthIn, stepIn, budget } = input;
  const taken: Pattern[] = [];
  const reached = new Map<string, number>();
  let best: readonly Pattern[] | undefined;
  let below = input.belowIn;
  let finished = true;

  const restBound = (rest: readonly number[]): number => {
    const worth = rest.reduce((sum, count, index) => sum + count * (worthIn[index] ?? 0), 0);
    return roundedUp(worth, stepIn);
  };

  function branch(rest: readonly number[], bought: number): void {
    if (bought + restBound(rest) >= below - TOLERANCE_IN) return;
    const longest = rest.findIndex((count) => count > 0);
    if (longest < 0) {
      best = [...taken];
      below = bought;
      return;
    }
    const key = rest.join();
    const before = reached.get(key);
    if (before !== undefined && before <= bought + TOLERANCE_IN) return;
    reached.set(key, bought);
    const ways = fullPatterns(problem, rest, longest, budget);
    if (ways === undefined) {
      finished = false;
      return;
    }
    const value = (way: Pattern): number =>
      way.counts.reduce((sum, count, index) => sum + count * (worthIn[index] ?? 0), 0) / way.stockIn;
    ways.sort((one, other) => value(other) - value(one));
    for (const way of ways) {
      taken.push(way);
      branch(
        rest.map((count, index) => count - (way.counts[index] ?? 0)),
        bought + way.stockIn,
      );
      taken.pop();
      if (!finished) return;
    }
  }

  branch(input.wanted, 0);
  return { patterns: best, finished };
}

/** Up to the next multiple of a step; the value itself where there is no step. */
export function roundedUp(value: number, stepIn: number): number {
  return stepIn === 0 ? value : Math.ceil(value / stepIn - 1e-6) * stepIn;
}
