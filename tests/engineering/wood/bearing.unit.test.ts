import { describe, expect, it } from 'vitest';
import { checkBearing, checkEndBearing, ORDINARY_CONDITIONS } from '../../../src/engineering/wood/index.ts';
import { sawn, sheet } from './wood-fixtures.ts';

const plate = sawn('HF', 'No.2', '2x6').material;

describe('bearing across the grain', () => {
  const input = {
    id: 'plate',
    title: 'Plate under the jacks',
    material: plate,
    edition: '2018',
    loadLb: 7500,
    lengthIn: 4.5,
    widthIn: 5.5,
    endDistanceIn: 12,
  } as const;

  it('presses a plate under a pack, longer by Cb away from its end', () => {
    const check = checkBearing(input);
    expect(check.demand.value).toBeCloseTo(7500 / (4.5 * 5.5), 12);
    expect(check.capacity.value).toBeCloseTo((405 * 4.875) / 4.5, 9);
    expect(check.governing).toBeUndefined();
    expect(checkBearing({ ...input, endDistanceIn: 0 }).capacity.value).toBe(405);
    expect(checkBearing({ ...input, governing: 'D + S' }).governing).toBe('D + S');
  });

  it('gives way in the wet and in heat', () => {
    const conditions = { ...ORDINARY_CONDITIONS, wet: true, temperatureF: 120 };
    expect(checkBearing({ ...input, endDistanceIn: 0, conditions }).capacity.value).toBeCloseTo(
      405 * 0.67 * 0.7,
      9,
    );
  });

  it.each([
    ['plate.loadLb', { loadLb: -1 }],
    ['plate.lengthIn', { lengthIn: 0 }],
    ['plate.widthIn', { widthIn: NaN }],
    ['plate.endDistanceIn', { endDistanceIn: -1 }],
    ['conditions.temperatureF', { conditions: { ...ORDINARY_CONDITIONS, temperatureF: 400 } }],
  ])('is refused at %s', (path, change) => {
    expect(() => checkBearing({ ...input, ...change })).toThrow(expect.objectContaining({ path }));
  });
});

describe('bearing along the grain', () => {
  const member = sawn('DF-L', 'No.2', '2x4', 2);
  const input = {
    id: 'end',
    title: 'Jack on post',
    member,
    edition: '2018',
    loadDuration: 1.15,
    loadLb: 10_000,
  } as const;
  const star = 1350 * 1.15 * 1.15;

  it('is held against Fc* on the whole end', () => {
    const check = checkEndBearing(input);
    expect(check.demand.value).toBeCloseTo(10_000 / 10.5, 9);
    expect(check.capacity.value).toBeCloseTo(star, 9);
    expect(check.governing).toBeUndefined();
    expect(check.sentence).toBe('Jack on post: 952.4 psi of 1,785 psi allowed.');
  });

  it('asks for a plate above three quarters, and for more wood above all', () => {
    expect(checkEndBearing({ ...input, loadLb: 0.76 * star * 10.5 }).sentence).toBe(
      'More than three quarters of Fc*: put a metal plate or another rigid insert between the ends.',
    );
    expect(checkEndBearing({ ...input, loadLb: 0.74 * star * 10.5 }).sentence).toContain('allowed');
    const crushed = checkEndBearing({ ...input, loadLb: 1.01 * star * 10.5, governing: 'D + S' });
    expect(crushed).toMatchObject({ passes: false, governing: 'D + S' });
    expect(crushed.sentence).toBe('The end crushes: more wood, or a plate that spreads the load.');
  });

  it.each([
    ['end.loadLb', { loadLb: -1 }],
    ['end.loadDuration', { loadDuration: 0 }],
    ['conditions.temperatureF', { conditions: { ...ORDINARY_CONDITIONS, temperatureF: 400 } }],
  ])('is refused at %s', (path, change) => {
    expect(() => checkEndBearing({ ...input, ...change })).toThrow(expect.objectContaining({ path }));
  });

  it('takes its surroundings into account', () => {
    const conditions = { ...ORDINARY_CONDITIONS, wet: true };
    expect(checkEndBearing({ ...input, conditions }).capacity.value).toBeCloseTo(star * 0.8, 9);
  });

  it('reads as written', () => {
    expect(sheet([checkEndBearing(input)])).toMatchInlineSnapshot(`
      "end | Jack on post | NDS 2018 3.10.1 (from memory)
        952.4 psi of 1,785 psi, ratio 0.5334, passes
        Jack on post: 952.4 psi of 1,785 psi allowed.
        - end.stress | Bearing stress along the grain | NDS 2018 3.10.1 (from memory)
          fc = P ÷ A
          = 10,000 lb ÷ 10.5 in² = 952.4 psi
        - end.star | Compression value before stability | NDS Supplement 2018 Table 4A
          Fc* = Fc · CD · CM · Ct · CF · Ci
          = 1,350 psi · 1.15 · 1 · 1 · 1.15 · 1 = 1,785 psi"
    `);
  });
});
