import type { Pattern } from './patterns.ts';

/** The linear relaxation of a cutting problem: how often each pattern, in fractions, and what a piece is worth. */
export interface Relaxation {
  /** By pattern, as handed in. */
  readonly times: readonly number[];
  /** Stock length that one piece of each length is worth; no pattern's pieces are worth more than its stick. */
  readonly worthIn: readonly number[];
  /** No plan buys less than this, in. */
  readonly boundIn: number;
}

const SMALL = 1e-9;
const MOST_PIVOTS = 2000;

/**
 * Least stock with fractions of sticks allowed: revised simplex on all patterns (Dantzig's rule; the columns of Gilmore
 * and Gomory 1961, written out instead of generated). What a piece is worth at the end is scaled until no pattern is worth
 * more than its stick (Farley 1990), so that the bound holds whatever rounding did on the way, even where it stops early.
 */
export function relax(patterns: readonly Pattern[], counts: readonly number[]): Relaxation {
  const size = counts.length;
  const columns = [
    ...patterns.map((pattern) => ({ cost: pattern.stockIn, entries: pattern.counts })),
    // More may be cut than is wanted.
    ...counts.map((_, row) => ({ cost: 0, entries: counts.map((__, other) => (other === row ? -1 : 0)) })),
  ];
  // To begin with, each length by the pattern that gives it for the least stock, its other pieces thrown away.
  const basis = counts.map((_, row) => startFor(row, patterns));
  const inverse = basis.map((start, row) =>
    counts.map((_, column) => (row === column ? 1 / start.gives : 0)),
  );
  const level = basis.map((start, row) => (counts[row] ?? 0) / start.gives);
  const inBasis = basis.map((start) => ({ column: -1, cost: start.cost }));

  let worth = worthOf(inBasis, inverse);
  for (let pivot = 0; pivot < MOST_PIVOTS; pivot += 1) {
    const entering = mostGained(columns, worth);
    if (entering < 0) break;
    const column = columns[entering];
    if (column === undefined) break;
    const direction = inverse.map((row) => dot(row, column.entries));
    const leaving = leavingRow(level, direction);
    if (leaving < 0) break;
    turn(inverse, level, direction, leaving);
    inBasis[leaving] = { column: entering, cost: column.cost };
    worth = worthOf(inBasis, inverse);
  }
  const times = patterns.map(() => 0);
  inBasis.forEach(({ column }, row) => {
    if (column >= 0 && column < times.length) times[column] = Math.max(0, level[row] ?? 0);
  });
  const worthIn = scaled(worth, patterns);
  return { times, worthIn, boundIn: size === 0 ? 0 : dot(worthIn, counts) };
}

function startFor(row: number, patterns: readonly Pattern[]): { gives: number; cost: number } {
  let best = { gives: 1, cost: Infinity };
  for (const pattern of patterns) {
    const gives = pattern.counts[row] ?? 0;
    if (gives > 0 && pattern.stockIn / gives < best.cost / best.gives)
      best = { gives, cost: pattern.stockIn };
  }
  return best;
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, index) => sum + value * (other[index] ?? 0), 0);
}

/** Costs of the basis through its inverse. */
function worthOf(
  inBasis: readonly { readonly cost: number }[],
  inverse: readonly (readonly number[])[],
): number[] {
  return inBasis.map((_, column) =>
    inBasis.reduce((sum, { cost }, row) => sum + cost * (inverse[row]?.[column] ?? 0), 0),
  );
}

function mostGained(
  columns: readonly { readonly cost: number; readonly entries: readonly number[] }[],
  worth: readonly number[],
): number {
  let best = -1;
  let most = 1e-7;
  columns.forEach((column, index) => {
    const gained = dot(worth, column.entries) - column.cost;
    if (gained > most) {
      most = gained;
      best = index;
    }
  });
  return best;
}

function leavingRow(level: readonly number[], direction: readonly number[]): number {
  let best = -1;
  let least = Infinity;
  direction.forEach((step, row) => {
    if (step <= SMALL) return;
    const ratio = (level[row] ?? 0) / step;
    if (ratio < least) {
      least = ratio;
      best = row;
    }
  });
  return best;
}

/** One pivot of inverse and levels, in place. */
function turn(inverse: number[][], level: number[], direction: readonly number[], leaving: number): void {
  const pivotRow = inverse[leaving] ?? [];
  const by = direction[leaving] ?? 1;
  const scaledRow = pivotRow.map((value) => value / by);
  const scaledLevel = (level[leaving] ?? 0) / by;
  inverse.forEach((row, index) => {
    const step = direction[index] ?? 0;
    if (index === leaving) inverse[index] = scaledRow;
    else inverse[index] = row.map((value, column) => value - step * (scaledRow[column] ?? 0));
    level[index] = index === leaving ? scaledLevel : (level[index] ?? 0) - step * scaledLevel;
  });
}

function scaled(worth: readonly number[], patterns: readonly Pattern[]): number[] {
  const positive = worth.map((value) => Math.max(0, value));
  const most = Math.max(1, ...patterns.map((pattern) => dot(positive, pattern.counts) / pattern.stockIn));
  return positive.map((value) => value / most);
}
