import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labelRows, spreadApart, wrapWords } from '../../../src/report/drawings/label-rows.ts';
import { textWidth } from '../../../src/report/drawings/pens.ts';

const labels = fc.array(
  fc.record({
    x: fc.double({ min: 0, max: 760, noNaN: true }),
    words: fc.string({ minLength: 1, maxLength: 40 }),
  }),
  { maxLength: 30 },
);

describe('labelRows', () => {
  it('lays no label on another and leaves none outside the sheet', () => {
    fc.assert(
      fc.property(labels, (wanted) => {
        const placed = labelRows(wanted, 760);
        expect(placed.map((label) => label.words)).toEqual(wanted.map((label) => label.words));
        placed.forEach((one, index) => {
          const half = textWidth(one.words) / 2;
          expect(one.middle - half).toBeGreaterThanOrEqual(0);
          expect(one.middle + half).toBeLessThanOrEqual(760);
          for (const other of placed.slice(index + 1)) {
            if (other.row !== one.row) continue;
            expect(Math.abs(other.middle - one.middle)).toBeGreaterThanOrEqual(
              half + textWidth(other.words) / 2,
            );
          }
        });
      }),
    );
  });
});

describe('spreadApart', () => {
  it('keeps the order and the gap, and stays left of the limit', () => {
    const wanted = fc.array(fc.double({ min: 0, max: 700, noNaN: true }), { maxLength: 20 });
    fc.assert(
      fc.property(wanted, (positions) => {
        const sorted = [...positions].sort((a, b) => a - b);
        const spread = spreadApart(sorted, 17, 750);
        spread.forEach((x, index) => {
          expect(x).toBeLessThanOrEqual(750 + 1e-9);
          if (index > 0) expect(x - spread[index - 1]!).toBeGreaterThanOrEqual(17 - 1e-9);
        });
      }),
    );
  });

  it('moves nothing that has room', () => {
    expect(spreadApart([10, 40, 100], 17, 750)).toEqual([10, 40, 100]);
  });
});

describe('wrapWords', () => {
  it('loses no letter, and keeps every line within its width', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 200 }), fc.integer({ min: 20, max: 400 }), (words, width) => {
        const lines = wrapWords(words, width);
        expect(lines.join('').replace(/\s/gu, '')).toBe(words.replace(/\s/gu, ''));
        for (const line of lines) expect(textWidth(line)).toBeLessThanOrEqual(width);
      }),
    );
  });
});
