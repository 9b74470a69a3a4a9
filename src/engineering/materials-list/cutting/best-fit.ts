import { boughtIn, shortestStick, TOLERANCE_IN, usedIn, type Counted, type Stick } from './problem.ts';

/**
 * Best-fit decreasing: longest piece first, each into the stick where the least is left over, a new stick where none has
 * room; then every stick as short as its pieces allow. Tried with new sticks of every stock length, and with a stick for
 * each piece; the plan that buys least wins, of equals the one of shorter sticks, which are easier to carry.
 */
export function bestFit(problem: Counted, wanted: readonly number[] = problem.counts): readonly Stick[] {
  const pieces = problem.lengthsIn.flatMap((length, index) =>
    Array.from({ length: wanted[index] ?? 0 }, () => length),
  );
  const alone = shortened(
    pieces.map((piece) => [piece]),
    problem,
  );
  const tries = problem.stockIn.map((stock) => shortened(filled(pieces, stock, problem), problem));
  return [alone, ...tries].reduce((best, next) =>
    boughtIn(next) < boughtIn(best) - TOLERANCE_IN ||
    (boughtIn(next) < boughtIn(best) + TOLERANCE_IN && next.length > best.length)
      ? next
      : best,
  );
}

function filled(pieces: readonly number[], stockIn: number, problem: Counted): number[][] {
  const sticks: number[][] = [];
  for (const piece of pieces) {
    let best: number[] | undefined;
    let least = Infinity;
    for (const stick of sticks) {
      const left = stockIn - usedIn([...stick, piece], problem);
      if (left >= -TOLERANCE_IN && left < least) {
        least = left;
        best = stick;
      }
    }
    // A piece longer than this stock gets a longer stick of its own when the sticks are shortened.
    if (best === undefined) sticks.push([piece]);
    else best.push(piece);
  }
  return sticks;
}

function shortened(sticks: readonly (readonly number[])[], problem: Counted): Stick[] {
  return sticks.flatMap((pieces) => shortestStick(pieces, problem) ?? []);
}
