import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cutFromStock,
  materialsList,
  SAW_KERF_IN,
  SAWN_STOCK_IN,
  shoringPieces,
  stockLengthIn,
} from '../../../src/engineering/materials-list/index.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';
import { beam, editions, footing, support } from '../layout/layout-fixtures.ts';
import { shoring, survey } from '../shoring/shoring-fixtures.ts';

describe('cutting from stock', () => {
  it('two 46 in pieces come from one 8 ft stick, two 48 in pieces do not: the kerf', () => {
    expect(cutFromStock([46, 46], [96])!.count).toBe(1);
    // 48 + 1/8 + 48 is more than 96.
    expect(cutFromStock([48, 48], [96])!.count).toBe(2);
    expect(cutFromStock([48, 48 - SAW_KERF_IN], [96])!.count).toBe(1);
  });

  it('buys the least lumber: three 40 in pieces are one 10 ft 1/4 in too short, so one 12 ft', () => {
    const cutting = cutFromStock([40, 40, 40], SAWN_STOCK_IN)!;
    expect([cutting.stockIn, cutting.count]).toEqual([144, 1]);
  });

  it('every piece is there once, no stick holds more than it is long, never fewer sticks than by length', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1, max: 280, noNaN: true }), { minLength: 1, maxLength: 40 }),
        (pieces) => {
          const cutting = cutFromStock(pieces, SAWN_STOCK_IN)!;
          const all = cutting.sticks.flat().sort((a, b) => a - b);
          expect(all).toEqual([...pieces].sort((a, b) => a - b));
          for (const stick of cutting.sticks) {
            const used = stick.reduce((sum, piece) => sum + piece, 0) + (stick.length - 1) * SAW_KERF_IN;
            expect(used).toBeLessThanOrEqual(cutting.stockIn + 1e-9);
          }
          const total = pieces.reduce((sum, piece) => sum + piece, 0);
          expect(cutting.count).toBeGreaterThanOrEqual(Math.ceil(total / cutting.stockIn - 1e-9));
        },
      ),
    );
  });

  it('refuses a piece no stock gives', () => {
    expect(() => stockLengthIn(289, SAWN_STOCK_IN)).toThrow(Refusal);
    expect(() => cutFromStock([10, -1], SAWN_STOCK_IN)).toThrow(Refusal);
    expect(stockLengthIn(144, SAWN_STOCK_IN)).toBe(144);
    expect(stockLengthIn(144.1, SAWN_STOCK_IN)).toBe(168);
  });
});

describe('the list of an opening', () => {
  const list = materialsList({
    survey: survey(),
    beam,
    supports: [support('left'), support('right')],
    footings: [footing('left'), footing('right')],
    shoring: shoring(),
    editions,
  });
  const line = (id: string) => list.lines.find((entry) => entry.id === id)!;

  it('beam: three plies of 11 ft 7 in from 12 ft stock, 73 lb each', () => {
    const plies = line('beam.1');
    expect([plies.pieces, plies.lengthIn, plies.order.stockLengthIn]).toEqual([3, 139, 144]);
    expect(Math.round(plies.weightLbEach)).toBe(73);
  });

  it('packs: six jacks of 90 in, two kings', () => {
    const packs = line('support.1');
    expect(packs.pieces).toBe(8);
    expect(packs.cuts.filter((cut) => cut === 90)).toHaveLength(6);
    expect(packs.order).toMatchObject({ count: 8, stockLengthIn: 96 });
  });

  it('concrete: two pads 30 x 30 x 12 in, a tenth over, 23 bags of 80 lb together', () => {
    // 2 · 6.25 ft³ · 1.1 ÷ 0.6 = 22.9.
    const concrete = line('footing.1');
    expect([concrete.pieces, concrete.order.count, concrete.order.unit]).toEqual([2, 23, 'bag']);
    expect(concrete.order.volumeFt3).toBeCloseTo(13.75, 9);
  });

  it('shoring: studs and plates of both walls, a foot past the beam at either end', () => {
    const pieces = shoringPieces(shoring(), 139, 97.125);
    // 163 in at 16 in: 11 studs and two more, twice; 97.125 less three plates.
    expect(pieces.studsIn).toHaveLength(26);
    expect(pieces.studsIn[0]).toBeCloseTo(92.625, 9);
    const plates = pieces.longIn.filter((piece) => piece === 163);
    // Three plates and one row of bracing, twice.
    expect(plates).toHaveLength(8);
    expect(line('shoring.studs').pieces).toBe(26);
    expect(shoringPieces(shoring({ storeysShored: 2 }), 139, 97.125).studsIn).toHaveLength(52);
  });

  it('total is the sum, each line its count times one', () => {
    expect(list.totalWeightLb).toBeCloseTo(
      list.lines.reduce((sum, entry) => sum + entry.order.count * entry.weightLbEach, 0),
      6,
    );
  });

  it('steel comes cut to length', () => {
    const steel = materialsList({
      survey: survey(),
      beam: { ...beam, member: { kind: 'steel', shape: 'W8x18', fyKsi: 50 } },
      supports: [],
      footings: [],
      editions,
    });
    expect(steel.lines).toHaveLength(1);
    expect(steel.lines[0]!.order.stockLengthIn).toBe(139);
    expect(steel.totalWeightLb).toBeCloseTo((18 * 139) / 12, 9);
  });
});
