import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { roofLiveLoad } from '../../../src/engineering/loads/index.ts';
import { Refusal } from '../../../src/engineering/trace/refusal.ts';

const at = (tributaryFt2: number, riseIn12: number): number =>
  roofLiveLoad({ asce7: '7-16', tributaryFt2, riseIn12 }).psf;

describe('roof live load', () => {
  test('the corners of R1 and R2', () => {
    expect(at(0, 0)).toBe(20);
    expect(at(200, 4)).toBe(20);
    expect(at(600, 4)).toBe(12);
    expect(at(200, 12)).toBe(12);
    expect(at(400, 8)).toBeCloseTo(12.8, 9);
  });

  test('never outside 12 to 20 psf, never more for a larger or steeper roof, no jump', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2000, noNaN: true }),
        fc.double({ min: 0, max: 24, noNaN: true }),
        (area, rise) => {
          const here = at(area, rise);
          expect(here).toBeGreaterThanOrEqual(12);
          expect(here).toBeLessThanOrEqual(20);
          expect(at(area + 1, rise)).toBeLessThanOrEqual(here);
          expect(at(area, rise + 0.1)).toBeLessThanOrEqual(here);
          expect(here - at(area + 1e-6, rise + 1e-6)).toBeLessThan(1e-5);
        },
      ),
    );
  });

  test.each([
    [-1, 4, undefined],
    [NaN, 4, undefined],
    [100, -1, undefined],
    [100, Infinity, undefined],
    [100, 4, 25],
    [100, 4, 11],
  ])('area %d, rise %d, Lo %s are refused', (tributaryFt2, riseIn12, unreducedPsf) => {
    const input = { asce7: '7-16', tributaryFt2, riseIn12 } as const;
    expect(() => roofLiveLoad(unreducedPsf === undefined ? input : { ...input, unreducedPsf })).toThrow(
      Refusal,
    );
  });
});
