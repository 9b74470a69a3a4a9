import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { twoSpanReactions, wallShare, wallShareOfPart } from '../../../src/engineering/loads/index.ts';
import { Refusal } from '../../../src/engineering/trace/refusal.ts';

const span = fc.double({ min: 24, max: 720, noNaN: true });
const load = fc.double({ min: 0, max: 500, noNaN: true });

describe('one member over two spans', () => {
  test('equilibrium: forces and moments about the wall', () => {
    fc.assert(
      fc.property(span, span, load, load, (l1, l2, w1, w2) => {
        const r = twoSpanReactions({ span: l1, load: w1 }, { span: l2, load: w2 });
        const scale = (w1 + w2) * (l1 + l2) + 1;
        expect(Math.abs(r.farFront + r.wall + r.farRear - w1 * l1 - w2 * l2) / scale).toBeLessThan(1e-12);
        const aboutWall = r.farFront * l1 - (w1 * l1 ** 2) / 2 - (r.farRear * l2 - (w2 * l2 ** 2) / 2);
        expect(Math.abs(aboutWall) / (scale * (l1 + l2))).toBeLessThan(1e-12);
      }),
    );
  });

  test('the member does not move at the wall: deflection of the long simple span is undone by the reaction', () => {
    // Force method on the simple span l1 + l2, by virtual work integrated numerically: independent of the
    // three-moment equation. ∫ M0 m dx = R ∫ m m dx.
    fc.assert(
      fc.property(span, span, load, load, (l1, l2, w1, w2) => {
        fc.pre(w1 + w2 > 1);
        const total = l1 + l2;
        const leftEnd = (w1 * l1 * (total - l1 / 2) + (w2 * l2 ** 2) / 2) / total;
        const moment = (x: number): number =>
          x <= l1
            ? leftEnd * x - (w1 * x ** 2) / 2
            : leftEnd * x - w1 * l1 * (x - l1 / 2) - (w2 * (x - l1) ** 2) / 2;
        const unit = (x: number): number => (x <= l1 ? (l2 * x) / total : (l1 * (total - x)) / total);
        const integrate = (f: (x: number) => number): number =>
          [
            [0, l1],
            [l1, total],
          ].reduce((sum, [a, b]) => {
            // Simpson with many strips: exact for cubics, good to 1e-9 for the quartic here.
            const n = 400;
            const h = (b! - a!) / n;
            let part = f(a! + 1e-12 * h) + f(b! - 1e-12 * h);
            for (let i = 1; i < n; i += 1) part += (i % 2 === 1 ? 4 : 2) * f(a! + i * h);
            return sum + (part * h) / 3;
          }, 0);
        const expected = integrate((x) => moment(x) * unit(x)) / integrate((x) => unit(x) ** 2);
        const { wall } = twoSpanReactions({ span: l1, load: w1 }, { span: l2, load: w2 });
        expect(Math.abs(wall / expected - 1)).toBeLessThan(1e-7);
      }),
      { numRuns: 60 },
    );
  });

  test('the shares are the reaction, side by side', () => {
    fc.assert(
      fc.property(span, span, load, load, (l1, l2, w1, w2) => {
        const { wall } = twoSpanReactions({ span: l1, load: w1 }, { span: l2, load: w2 });
        const shares = w1 * wallShare('continuous', l1, l2) + w2 * wallShare('continuous', l2, l1);
        expect(Math.abs(shares - wall)).toBeLessThanOrEqual(1e-10 * (wall + 1));
      }),
    );
  });

  test('live load on both spans is the pattern that loads the wall most', () => {
    fc.assert(
      fc.property(span, span, load, (l1, l2, w) => {
        const wall = (w1: number, w2: number): number =>
          twoSpanReactions({ span: l1, load: w1 }, { span: l2, load: w2 }).wall;
        expect(wall(w, w)).toBeGreaterThanOrEqual(Math.max(wall(w, 0), wall(0, w)));
      }),
    );
  });

  test('a load on the part next to the wall: the whole span is the whole share, pieces add up', () => {
    fc.assert(
      fc.property(span, span, fc.double({ min: 0, max: 1, noNaN: true }), (l, m, k) => {
        for (const overWall of ['lapped', 'continuous'] as const) {
          expect(wallShareOfPart(overWall, l, m, l)).toBeCloseTo(wallShare(overWall, l, m), 8);
          expect(wallShareOfPart(overWall, l, m, 2 * l)).toBeCloseTo(wallShare(overWall, l, m), 8);
          // Never less for a longer part; right at the wall all of a load is the wall's.
          const part = wallShareOfPart(overWall, l, m, k * l);
          expect(part).toBeGreaterThanOrEqual(0);
          expect(wallShareOfPart(overWall, l, m, k * l + 1)).toBeGreaterThanOrEqual(part - 1e-9);
          expect(wallShareOfPart(overWall, l, m, 1e-4) / 1e-4).toBeCloseTo(1, 4);
        }
      }),
    );
  });

  test('a partial load against the same force method', () => {
    // l = 10, m = 10, load 1 over the 4 next to the wall: R = ∫ over the load of the influence line.
    const influence = (fromWall: number): number => {
      const x = 10 - fromWall;
      return (x / 20) * (3 - (x / 10) ** 2);
    };
    let sum = 0;
    for (let i = 0; i < 4000; i += 1) sum += influence((i + 0.5) / 1000) / 1000;
    expect(wallShareOfPart('continuous', 10, 10, 4)).toBeCloseTo(sum, 6);
  });

  test.each([0, -1, NaN, Infinity])('a span of %d is refused', (bad) => {
    expect(() => twoSpanReactions({ span: bad, load: 1 }, { span: 10, load: 1 })).toThrow(Refusal);
  });
});
