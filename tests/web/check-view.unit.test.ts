import { describe, expect, it } from 'vitest';
import { makeCheck, qty } from '../../src/engineering/trace/index.ts';
import { checkView, ratioText } from '../../src/web/check-view.ts';

const clause = { standard: 'NDS', edition: '2018', section: '3.3.1' } as const;

function check(demandPsi: number, capacityPsi: number) {
  return makeCheck({
    id: 'bending',
    title: 'Bending',
    clause,
    demand: qty(demandPsi, 'psi'),
    capacity: qty(capacityPsi, 'psi'),
    steps: [
      {
        id: 'bending.fb',
        title: 'Stress',
        clause: { ...clause, provenance: 'from memory' },
        formula: 'fb = M / S',
        values: { M: qty(146_400, 'lb-in'), S: qty(98.7, 'in³') },
        result: qty(demandPsi, 'psi'),
      },
    ],
  });
}

describe('ratioText', () => {
  it.each([
    [0.974, true, '0.97'],
    [1, true, '1.00'],
    [1.0000000001, true, '1.00'],
    [1.001, false, '1.01'],
    [1.0000001, false, '1.01'],
    [1.08, false, '1.08'],
    [12.5, false, '12.50'],
    [Infinity, false, 'no capacity'],
  ])('%d, passes %s: %s', (ratio, passes, words) => {
    expect(ratioText(ratio, passes)).toBe(words);
  });
});

describe('checkView', () => {
  it('puts the values into the formula', () => {
    expect(checkView(check(1483.28, 2200)).steps[0]).toEqual({
      title: 'Stress',
      formula: 'fb = M / S',
      substituted: 'fb = 146,400 lb-in / 98.7 in³',
      result: 'fb = 1,483 psi',
      clause: 'NDS 2018 3.3.1 (from memory)',
    });
  });

  it.each([
    [1100, 2200, 50],
    [2200, 2200, 100],
    [2640, 2200, 120],
    [9900, 2200, 150],
    [10, 0, 150],
  ])('draws %d of %d psi as a bar of %d', (demand, capacity, width) => {
    expect(checkView(check(demand, capacity)).barWidth).toBe(width);
  });
});
