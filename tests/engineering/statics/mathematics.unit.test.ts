import { LuDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { factor, solve } from '../../../src/engineering/statics/linear-system.ts';
import { evaluate, rateOf, rootsBetween } from '../../../src/engineering/statics/polynomial.ts';

describe('polynomials', () => {
  it('are evaluated from the constant upward, and so is their rate', () => {
    expect(evaluate([3, -2, 5], 2)).toBe(19);
    expect(rateOf([3, -2, 5], 2)).toBe(18);
    expect(rateOf([3, -2, 5, 1], 3)).toBe(-2 + 30 + 27);
    expect(evaluate([], 7)).toBe(0);
    expect(rateOf([4], 7)).toBe(0);
  });

  it('keep the first and the last stop and put the roots between', () => {
    expect(rootsBetween([-0.25, 1], [0, 1])).toEqual([0, 0.25, 1]);
    expect(rootsBetween([0.25, -1], [0, 1])).toEqual([0, 0.25, 1]);
    expect(rootsBetween([1, 1], [0, 1])).toEqual([0, 1]);
    expect(rootsBetween([5], [0.2, 0.7])).toEqual([0.2, 0.7]);
  });

  it('find one root on each side of a turn, to the last digits', () => {
    const [, low, high, ...end] = rootsBetween([0.21, -1, 1], [0, 0.5, 1]);
    expect(Math.abs(low! - 0.3)).toBeLessThan(1e-15);
    expect(Math.abs(high! - 0.7)).toBeLessThan(1e-15);
    expect(end).toEqual([1]);
  });

  it('name a root on an inner stop once, and none twice at an end', () => {
    // (s − ½)² touches, (s − ½)³ crosses.
    expect(rootsBetween([0.25, -1, 1], [0, 0.5, 1])).toEqual([0, 0.5, 1]);
    expect(rootsBetween([-0.125, 0.75, -1.5, 1], [0, 0.5, 1])).toEqual([0, 0.5, 1]);
    expect(rootsBetween([0, 1], [0, 1])).toEqual([0, 1]);
    expect(rootsBetween([-1, 1], [0, 1])).toEqual([0, 1]);
  });

  it('get a threefold root that is no stop, where each step gains little', () => {
    const third = 1 / 3;
    const [, root] = rootsBetween([-third * third * third, 3 * third * third, -3 * third, 1], [0, 1]);
    expect(root).toBeCloseTo(third, 5);
  });

  it('stay inside the bracket where the first step points far outside', () => {
    // (s − ½)³ + (s − ½)/1000, moved so that the root is near one end: the tangent in the middle is almost flat.
    const flat = (root: number): number[] => {
      const shift = (root - 0.5) ** 3 + (root - 0.5) / 1000;
      return [-0.125 - 0.0005 - shift, 0.75 + 0.001, -1.5, 1];
    };
    for (const root of [0.03, 0.21, 0.79, 0.97]) {
      const found = rootsBetween(flat(root), [0, 1]);
      expect(found).toHaveLength(3);
      expect(Math.abs(found[1]! - root)).toBeLessThan(1e-13);
    }
    // ± (s − ½)⁴ adds a root outside, on the side where that tangent points: Newton's rule alone ends there.
    const withOuterRoot = (root: number, side: 1 | -1): number[] => {
      const quartic = [0.0625, -0.5, 1.5, -2, 1].map((coefficient) => coefficient * side);
      const cubic = flat(root);
      const moved = quartic.map((coefficient, power) => coefficient + (cubic[power] ?? 0));
      return [moved[0]! - side * (root - 0.5) ** 4, ...moved.slice(1)];
    };
    const [, low] = rootsBetween(withOuterRoot(0.03, 1), [0, 1]);
    expect(Math.abs(low! - 0.03)).toBeLessThan(1e-13);
    const [, high] = rootsBetween(withOuterRoot(0.97, -1), [0, 1]);
    expect(Math.abs(high! - 0.97)).toBeLessThan(1e-13);
    expect(rootsBetween([-1e-8, 0, 0, 0, 1], [0, 1])[1]).toBeCloseTo(0.01, 12);
  });
});

describe('systems of equations', () => {
  it('solves nothing for nothing', () => {
    expect([...solve(factor(new Float64Array(0), 0), new Float64Array(0))]).toEqual([]);
  });

  it('exchanges rows where the diagonal is empty', () => {
    const system = factor(Float64Array.from([0, 2, 1, 3, 0, 0, 0, 1, 4]), 3);
    const [x, y, z] = solve(system, Float64Array.from([7, 6, 9]));
    // 2y + z = 7, 3x = 6, y + 4z = 9.
    expect(x).toBeCloseTo(2, 14);
    expect(y).toBeCloseTo(19 / 7, 14);
    expect(z).toBeCloseTo(11 / 7, 14);
  });

  it('judges a row by its own largest entry', () => {
    // Unscaled, the first row would be the pivot and lose the second unknown altogether.
    const system = factor(Float64Array.from([10, 1e17, 1, 1]), 2);
    const [x, y] = solve(system, Float64Array.from([1e17, 2]));
    expect(x).toBeCloseTo(1, 12);
    expect(y).toBeCloseTo(1, 12);
    expect([...system.order]).toEqual([1, 0]);
  });

  it('agrees with ml-matrix on full systems, several right sides for one reduction', () => {
    const size = 6;
    const entry = (i: number, j: number): number => Math.sin(7 * i + 3 * j + 1) + (i === 5 - j ? 3 : 0);
    const rows = Array.from({ length: size }, (_, i) => Array.from({ length: size }, (__, j) => entry(i, j)));
    const system = factor(Float64Array.from(rows.flat()), size);
    for (const shift of [0, 1, 2]) {
      const right = Array.from({ length: size }, (_, i) => Math.cos(i + shift));
      const theirs = new LuDecomposition(new Matrix(rows)).solve(Matrix.columnVector(right)).to1DArray();
      const ours = [...solve(system, Float64Array.from(right))];
      ours.forEach((value, i) => {
        expect(value).toBeCloseTo(theirs[i]!, 12);
      });
    }
  });
});
