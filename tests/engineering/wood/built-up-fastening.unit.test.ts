import { describe, expect, it } from 'vitest';
import {
  boltLimits,
  type BuiltUpBolting,
  type BuiltUpNailing,
  checkBuiltUpBolting,
  checkBuiltUpNailing,
  qualifies,
} from '../../../src/engineering/wood/index.ts';
import { sheet, without } from './wood-fixtures.ts';

const PACK = { plies: 2, plyThicknessIn: 1.5, plyDepthIn: 5.5 };
const NAILS: BuiltUpNailing = {
  diameterIn: 0.148,
  lengthIn: 3,
  rows: 2,
  spacingIn: 6,
  rowSpacingIn: 2,
  endDistanceIn: 2.5,
  edgeDistanceIn: 1.5,
  staggered: false,
  oppositeFaces: true,
};
const BOLTS: BuiltUpBolting = {
  diameterIn: 0.5,
  rows: 2,
  spacingIn: 8,
  rowSpacingIn: 2.5,
  endDistanceIn: 4,
  edgeDistanceIn: 1.5,
  staggered: false,
  washers: true,
};

const failing = (change: Partial<BuiltUpNailing>, pack = PACK) =>
  checkBuiltUpNailing('pack', '2018', pack, { ...NAILS, ...change })
    .filter((check) => !check.passes)
    .map((check) => check.id.replace('pack.', ''));

const failingBolts = (change: Partial<BuiltUpBolting>) =>
  checkBuiltUpBolting('pack', '2018', PACK, { ...BOLTS, ...change })
    .filter((check) => !check.passes)
    .map((check) => check.id.replace('pack.', ''));

describe('a nailed pack (NDS 15.3.3)', () => {
  it('qualifies where every rule is met', () => {
    expect(failing({})).toEqual([]);
    expect(qualifies(checkBuiltUpNailing('pack', '2018', PACK, NAILS))).toBe(true);
    expect(qualifies(checkBuiltUpNailing('pack', '2018', PACK, { ...NAILS, lengthIn: 2 }))).toBe(false);
  });

  it.each<[Partial<BuiltUpNailing>, readonly string[]]>([
    [{ lengthIn: 2.62 }, ['length']],
    [{ lengthIn: 2.625 }, []],
    [{ oppositeFaces: false }, ['faces']],
    [{ rows: 1, staggered: true }, ['rows']],
    [{ rows: 3 }, ['stagger']],
    [{ rows: 3, staggered: true }, []],
    [{ endDistanceIn: 2.2 }, ['end.least']],
    [{ endDistanceIn: 2.7 }, ['end.most']],
    [{ spacingIn: 2.9 }, ['spacing.least']],
    [{ spacingIn: 9.01 }, ['spacing.most']],
    [{ rowSpacingIn: 1.4 }, ['rowSpacing.least']],
    [{ rowSpacingIn: 3 }, ['rowSpacing.most']],
    [{ edgeDistanceIn: 0.7 }, ['edge.least']],
    [{ edgeDistanceIn: 3 }, ['edge.most']],
  ])('with %j fails %j', (change, ids) => {
    expect(failing(change)).toEqual(ids);
  });

  it('takes one staggered row in narrow plies, without a row spacing', () => {
    const one = without({ ...NAILS, rows: 1, staggered: true }, 'rowSpacingIn');
    const checks = checkBuiltUpNailing('pack', '2018', { ...PACK, plyDepthIn: 3.5 }, one);
    expect(qualifies(checks)).toBe(true);
    expect(checks.some((check) => check.id.includes('rowSpacing'))).toBe(false);
    expect(failing({ rows: 1 }, { ...PACK, plyDepthIn: 3.5 })).toEqual(['stagger']);
  });
});

describe('a bolted pack (NDS 15.3.4)', () => {
  it('qualifies where every rule is met', () => {
    expect(failingBolts({})).toEqual([]);
    expect(boltLimits(PACK, 0.5)).toEqual({
      section: '15.3.4',
      endIn: [3.5, 4.2],
      spacingIn: [2, 9],
      rowSpacingIn: [0.75, 5],
      edgeIn: [0.75, 5],
    });
  });

  it.each<[Partial<BuiltUpBolting>, readonly string[]]>([
    [{ washers: false }, ['washers']],
    [{ rows: 1 }, ['rows']],
    [{ endDistanceIn: 3.4 }, ['end.least']],
    [{ endDistanceIn: 4.3 }, ['end.most']],
    [{ spacingIn: 1.9 }, ['spacing.least']],
    [{ edgeDistanceIn: 5.1 }, ['edge.most']],
    [{ rowSpacingIn: 0.7 }, ['rowSpacing.least']],
  ])('with %j fails %j', (change, ids) => {
    expect(failingBolts(change)).toEqual(ids);
  });
});

describe('what can’t be', () => {
  it.each([
    ['plies', PACK, { ...PACK, plies: 2.5 }, {}],
    ['plyDepthIn', PACK, { ...PACK, plyDepthIn: 0 }, {}],
    ['diameterIn', PACK, PACK, { diameterIn: 0 }],
    ['rows', PACK, PACK, { rows: 0 }],
    ['rows', PACK, PACK, { rows: 1.5 }],
    ['spacingIn', PACK, PACK, { spacingIn: 0 }],
    ['endDistanceIn', PACK, PACK, { endDistanceIn: NaN }],
    ['edgeDistanceIn', PACK, PACK, { edgeDistanceIn: 0 }],
    ['nailing.lengthIn', PACK, PACK, { lengthIn: 0 }],
  ])('is refused at %s', (path, _, pack, change) => {
    expect(() => checkBuiltUpNailing('pack', '2018', pack, { ...NAILS, ...change })).toThrow(
      expect.objectContaining({ path }),
    );
  });

  it('says what is missing', () => {
    const rest = without(NAILS, 'rowSpacingIn');
    expect(() => checkBuiltUpNailing('pack', '2018', PACK, rest)).toThrow(
      expect.objectContaining({ path: 'rowSpacingIn', message: 'Say how far apart the rows are.' }),
    );
    expect(() => checkBuiltUpNailing('pack', '2018', PACK, { ...NAILS, rows: 0 })).toThrow(
      'The number of rows is a whole number, 1 or more.',
    );
    expect(() => checkBuiltUpBolting('pack', '2018', { ...PACK, plies: 6 }, BOLTS)).toThrow(
      expect.objectContaining({ path: 'plies' }),
    );
  });
});

describe('the calculation sheet', () => {
  it('reads as written, met and missed', () => {
    expect(sheet(checkBuiltUpNailing('pack', '2018', PACK, NAILS))).toMatchSnapshot();
    expect(
      sheet(
        checkBuiltUpNailing('pack', '2018', PACK, {
          ...NAILS,
          lengthIn: 2,
          oppositeFaces: false,
          rows: 1,
          endDistanceIn: 1,
        }),
      ),
    ).toMatchSnapshot();
    expect(sheet(checkBuiltUpBolting('pack', '2024', PACK, { ...BOLTS, washers: false }))).toMatchSnapshot();
    expect(sheet(checkBuiltUpBolting('pack', '2024', PACK, BOLTS))).toMatchSnapshot();
  });
});
