import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cutFromStock,
  SAW_KERF_IN,
  SAWN_STOCK_IN,
  usedIn,
  type Cutting,
  type CuttingProblem,
} from '../../../src/engineering/materials-list/index.ts';
import { bestFit } from '../../../src/engineering/materials-list/cutting/best-fit.ts';
import { boughtIn, counted } from '../../../src/engineering/materials-list/cutting/problem.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';

const bare = { kerfIn: 0, endTrimIn: 0 };
const saw = { kerfIn: SAW_KERF_IN, endTrimIn: 0.5 };
const each = (...list: readonly (readonly [length: number, count: number])[]) =>
  list.flatMap(([length, count]) => Array.from({ length: count }, () => length));

function expectWhole(problem: CuttingProblem, cutting: Cutting): void {
  const byLength = (one: number, other: number) => one - other;
  expect(cutting.sticks.flatMap((stick) => stick.piecesIn).sort(byLength)).toEqual(
    [...problem.piecesIn].sort(byLength),
  );
  for (const stick of cutting.sticks) {
    expect(problem.stockIn).toContain(stick.stockIn);
    expect(usedIn(stick.piecesIn, problem)).toBeLessThanOrEqual(stick.stockIn + 1e-6);
    expect(stick.leftIn).toBeCloseTo(Math.max(0, stick.stockIn - usedIn(stick.piecesIn, problem)), 6);
  }
  expect(cutting.boughtIn).toBe(cutting.sticks.reduce((sum, stick) => sum + stick.stockIn, 0));
}

describe('published cutting-stock instances', () => {
  it('the paper mill of the encyclopaedias: 13 widths from 5600 mm, 73 rolls, 0.401 % lost', () => {
    // The article "Cutting stock problem" of the free encyclopaedia: 308 patterns, least 73 rolls, 407160 mm wanted.
    const piecesIn = each(
      [1380, 22],
      [1520, 25],
      [1560, 12],
      [1710, 14],
      [1820, 18],
      [1880, 18],
      [1930, 20],
      [2000, 10],
      [2050, 12],
      [2100, 14],
      [2140, 16],
      [2150, 18],
      [2200, 20],
    );
    const problem = { piecesIn, stockIn: [5600], ...bare };
    const cutting = cutFromStock(problem);
    expectWhole(problem, cutting);
    expect(cutting.sticks).toHaveLength(73);
    expect(cutting.proven).toBe(true);
    const lost = 1 - piecesIn.reduce((sum, piece) => sum + piece, 0) / cutting.boughtIn;
    expect(100 * lost).toBeCloseTo(0.401, 3);
  });

  it('the example of the textbooks: 45, 36, 31 and 14 from 100, relaxation 452.25, least 453', () => {
    // Chvátal, Linear Programming (1983), chapter 13, and many teaching models after it.
    const problem = { piecesIn: each([45, 97], [36, 610], [31, 395], [14, 211]), stockIn: [100], ...bare };
    const cutting = cutFromStock(problem);
    expectWhole(problem, cutting);
    expect([cutting.sticks.length, cutting.leastIn, cutting.proven]).toEqual([453, 45300, true]);
  });

  it('boards of 17 ft into 3, 5 and 9 ft: no fewer than by length, which is 19', () => {
    // Data of a textbook exercise (Winston, Operations Research): 310 ft wanted, 18.2 boards.
    const problem = { piecesIn: each([3, 25], [5, 20], [9, 15]), stockIn: [17], ...bare };
    const cutting = cutFromStock(problem);
    expectWhole(problem, cutting);
    expect([cutting.sticks.length, cutting.proven]).toEqual([19, true]);
  });
});

describe('cutting from stock', () => {
  it('counts the kerf: two 48 in pieces do not come from 8 ft, two that leave it do', () => {
    const one = (piecesIn: number[]) =>
      cutFromStock({ piecesIn, stockIn: [96], kerfIn: SAW_KERF_IN, endTrimIn: 0 }).sticks.length;
    expect(one([48, 48])).toBe(2);
    expect(one([48, 48 - SAW_KERF_IN])).toBe(1);
  });

  it('trims the end of a stick that is cut up, and takes a stick whole for one piece', () => {
    const one = (piecesIn: number[]) => cutFromStock({ piecesIn, stockIn: [96], ...saw }).sticks.length;
    expect(one([96])).toBe(1);
    // 47.7 + 1/8 + 47.7 = 95.525, and half an inch of trim is too much.
    expect(one([47.7, 47.7])).toBe(2);
    expect(one([47.6, 47.6])).toBe(1);
  });

  it('mixes stock lengths for the least lumber', () => {
    // 10 ft gives 70 + 45; 8 ft gives 90. One length alone would buy 20 ft or more.
    const cutting = cutFromStock({ piecesIn: [70, 45, 90], stockIn: SAWN_STOCK_IN, ...saw });
    expect(cutting.sticks.map((stick) => stick.stockIn)).toEqual([120, 96]);
    expect(cutting.proven).toBe(true);
  });

  it('finds what best-fit decreasing misses', () => {
    // Best fit puts 6 + 3 and is left with four sticks; 6 + 2 + 2 twice over needs three.
    const problem = { piecesIn: [6, 6, 3, 3, 2, 2, 2, 2, 2, 2], stockIn: [10], ...bare };
    expect(boughtIn(bestFit(counted(problem)))).toBeGreaterThanOrEqual(30);
    expect(cutFromStock(problem)).toMatchObject({ boughtIn: 30, proven: true });
  });

  it('has nothing to cut, and refuses what can’t be cut', () => {
    expect(cutFromStock({ piecesIn: [], stockIn: [96], ...saw }).sticks).toEqual([]);
    for (const piecesIn of [[289], [0], [-1], [NaN], [Infinity]])
      expect(() => cutFromStock({ piecesIn, stockIn: [96, 288], ...saw })).toThrow(Refusal);
    expect(() => cutFromStock({ piecesIn: [1], stockIn: [], ...saw })).toThrow(Refusal);
    expect(() => cutFromStock({ piecesIn: [1], stockIn: [96], kerfIn: -1, endTrimIn: 0 })).toThrow(Refusal);
  });

  it('every piece once, no stick overfull, never more than a stick each, bound ≤ plan ≤ best fit', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 4, max: 240, noNaN: true }), { minLength: 1, maxLength: 30 }),
        (piecesIn) => {
          const problem = { piecesIn, stockIn: SAWN_STOCK_IN, ...saw };
          const cutting = cutFromStock(problem);
          expectWhole(problem, cutting);
          expect(cutting.sticks.length).toBeLessThanOrEqual(piecesIn.length);
          expect(cutting.boughtIn).toBeLessThanOrEqual(boughtIn(bestFit(counted(problem))) + 1e-6);
          expect(cutting.leastIn).toBeLessThanOrEqual(cutting.boughtIn + 1e-6);
          const total = piecesIn.reduce((sum, piece) => sum + piece, 0);
          expect(cutting.leastIn).toBeGreaterThanOrEqual(total - piecesIn.length * saw.kerfIn);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('agrees with trying every way to share out small lists', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 2, max: 22 }), { minLength: 1, maxLength: 7 }),
        fc.uniqueArray(fc.integer({ min: 22, max: 40 }), { minLength: 1, maxLength: 3 }),
        fc.constantFrom(0, 0.5),
        (piecesIn, stockIn, kerfIn) => {
          const problem = { piecesIn, stockIn, kerfIn, endTrimIn: 2 * kerfIn };
          const cutting = cutFromStock(problem);
          expectWhole(problem, cutting);
          expect(cutting.proven).toBe(true);
          expect(cutting.boughtIn).toBe(leastByTrying(problem));
        },
      ),
      { numRuns: 150 },
    );
  });
});

/** Every partition of the pieces into sticks; independent of the solver, for at most seven pieces. */
function leastByTrying({ piecesIn, stockIn, kerfIn, endTrimIn }: CuttingProblem): number {
  const groups: number[][] = [];
  let best = Infinity;
  const price = (group: readonly number[]): number => {
    const used =
      group.reduce((sum, piece) => sum + piece, 0) +
      (group.length > 1 ? (group.length - 1) * kerfIn + endTrimIn : 0);
    return Math.min(...stockIn.filter((stock) => stock >= used - 1e-9));
  };
  const place = (index: number): void => {
    const piece = piecesIn[index];
    if (piece === undefined) {
      best = Math.min(
        best,
        groups.reduce((sum, group) => sum + price(group), 0),
      );
      return;
    }
    for (const group of groups) {
      group.push(piece);
      place(index + 1);
      group.pop();
    }
    groups.push([piece]);
    place(index + 1);
    groups.pop();
  };
  place(0);
  return best;
}
