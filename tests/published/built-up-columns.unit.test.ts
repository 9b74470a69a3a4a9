import { describe, expect, it } from 'vitest';
import {
  actingColumn,
  type BuiltUpNailing,
  checkBuiltUpNailing,
  columnResistance,
  fasteningFactor,
  fewestRows,
  nailLimits,
  qualifies,
  shortestNailIn,
  type WoodColumnInput,
  woodColumnCapacityLb,
  woodMember,
} from '../../src/engineering/wood/index.ts';
import file from './reference/built-up-columns.json' with { type: 'json' };
import { holds, named, numberOf, textOf, type WoodRecord, woodRecords } from './wood-record.ts';

const records = woodRecords(file);
const PACK = { plies: 3, plyThicknessIn: 1.5, plyDepthIn: 5.5 };
const D = 0.207;

/** '18 D' → 18. */
function multiple(record: WoodRecord): number {
  return Number(textOf(record.expected, 'max').replace(' D', ''));
}

function holdsRange(record: WoodRecord, key: string, [least, most]: readonly [number, number]): void {
  const [low, high] = (record.expected[key] as { range: [number, number] }).range;
  const rel = record.tolerance.rel ?? 0;
  expect(Math.abs(least - low)).toBeLessThanOrEqual(rel * low);
  expect(Math.abs(most - high)).toBeLessThanOrEqual(rel * high);
}

const GOOD: BuiltUpNailing = {
  diameterIn: D,
  lengthIn: 4.5,
  rows: 2,
  spacingIn: 8,
  rowSpacingIn: 3,
  endDistanceIn: 3.5,
  edgeDistanceIn: 1.25,
  staggered: true,
  oppositeFaces: true,
};

const limits = nailLimits(PACK, D);

const CHECKS: Readonly<Record<string, (record: WoodRecord) => void>> = {
  'KF-1': (r) => {
    holds(r, 'Kf', fasteningFactor('nailed', 'weak', 3));
  },
  'KF-2': (r) => {
    holds(r, 'Kf', fasteningFactor('bolted', 'weak', 3));
  },
  'KF-3': (r) => {
    holds(r, 'Kf', fasteningFactor('nailed', 'strong', 3));
    holds(r, 'Kf', fasteningFactor('bolted', 'strong', 3));
    holds(r, 'Kf', fasteningFactor('solid', 'weak', 1));
  },
  'NAILRULE-1': (r) => {
    holds(r, 'min_multiplesOfD', limits.endIn[0] / D);
    expect(limits.endIn[1] / D).toBeCloseTo(multiple(r), 9);
  },
  'NAILRULE-2': (r) => {
    holds(r, 'min_multiplesOfD', limits.spacingIn[0] / D);
    expect(textOf(r.expected, 'max')).toBe('6 t_min');
    expect(limits.spacingIn[1]).toBe(6 * PACK.plyThicknessIn);
  },
  'NAILRULE-3': (r) => {
    holds(r, 'min_multiplesOfD', limits.rowSpacingIn[0] / D);
    expect(limits.rowSpacingIn[1] / D).toBeCloseTo(multiple(r), 9);
  },
  'NAILRULE-4': (r) => {
    holds(r, 'min_multiplesOfD', limits.edgeIn[0] / D);
    expect(limits.edgeIn[1] / D).toBeCloseTo(multiple(r), 9);
  },
  'NAILRULE-5': (r) => {
    expect(numberOf(r.expected, 'adjacentNailsFromOppositeFaces')).toBe(1);
    const judge = (change: Partial<BuiltUpNailing>, pack = PACK) =>
      qualifies(checkBuiltUpNailing('pack', '2018', pack, { ...GOOD, ...change }));
    expect(judge({})).toBe(true);
    expect(judge({ oppositeFaces: false })).toBe(false);
    expect(shortestNailIn(PACK) - 2 * 1.5).toBeCloseTo(
      numberOf(r.expected, 'penetrationOfOutermostPly_fraction') * 1.5,
      12,
    );
    expect(textOf(r.expected, 'twoRowsWhen')).toBe('d > 3 t_min');
    expect(fewestRows({ ...PACK, plyDepthIn: 4.5 })).toBe(1);
    expect(fewestRows({ ...PACK, plyDepthIn: 4.51 })).toBe(2);
    expect(judge({ rows: 1, staggered: false }, { ...PACK, plyDepthIn: 3.5 })).toBe(false);
    expect(judge({ rows: 1, staggered: true }, { ...PACK, plyDepthIn: 3.5 })).toBe(true);
    expect(textOf(r.expected, 'plies')).toBe('2 to 5');
    expect(() => judge({}, { ...PACK, plies: 1 })).toThrow('two to five plies');
    expect(() => judge({}, { ...PACK, plies: 6 })).toThrow('two to five plies');
    const thinnest = numberOf(r.expected, 'minThickness_in');
    expect(() => judge({}, { ...PACK, plyThicknessIn: thinnest - 0.01 })).toThrow('1-1/2 in');
  },
  'NAILRULE-6': (r) => {
    holds(r, 'minLength', shortestNailIn(PACK));
    holds(r, 'rows', fewestRows(PACK));
    holds(r, 'minSpacing_30d', limits.spacingIn[0]);
    holds(r, 'maxSpacing', limits.spacingIn[1]);
    holdsRange(r, 'endDistance_30d', limits.endIn);
    holdsRange(r, 'rowSpacing_30d', limits.rowSpacingIn);
    holdsRange(r, 'edge_30d', limits.edgeIn);
  },
  'BUC-aghayere-5.7': (r) => {
    const input: WoodColumnInput = {
      edition: '2018',
      member: woodMember({ kind: 'sawn', species: 'DF-L', grade: 'No.1', size: '2x6', plies: 3 }, '2018'),
      fastening: 'nailed',
      heightIn: 144,
      combinations: [{ name: 'D + L', loadDuration: 1, axialLb: 0 }],
    };
    const { starPsi, weak, strong, governing } = columnResistance(input, actingColumn(input), 1);
    holds(r, 'FcE', weak.criticalPsi);
    holds(r, 'FcStar', starPsi);
    holds(r, 'CP', weak.factor);
    // The record's note: the strong axis, without Kf, is stiffer.
    expect(governing).toBe(weak);
    expect(strong.criticalPsi).toBeCloseTo(743.5, 1);
    expect(strong.factor).toBeCloseTo(0.398, 3);
  },
};

describe('published built-up columns', () => {
  it.each(records.map((record) => [named(record), record] as const))('%s', (_, record) => {
    const check = CHECKS[record.id];
    expect(check, `no check for ${record.id}`).toBeDefined();
    check!(record);
  });

  it('carries 8.0 kip as one and 1.8 kip ply by ply: three 2x4 DF-L No.2, 8 ft, unbraced', () => {
    const member = woodMember(
      { kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x4', plies: 3 },
      '2018',
    );
    const pack = { edition: '2018', member, heightIn: 96 } as const;
    // By hand: FcE2 = 0.822 · 580000 ÷ (96/4.5)² = 1047.6; Fc* = 1350 · 1.15 = 1552.5;
    // CP = 0.6 · 0.54456 = 0.32674; 507.26 psi · 15.75 in².
    expect(woodColumnCapacityLb({ ...pack, fastening: 'nailed' }, 1)).toBeCloseTo(7989.1, 1);
    // Each ply: le/d = 64 (over 50: the standard allows it while building only), FcE = 116.4, CP = 0.0737.
    expect(woodColumnCapacityLb({ ...pack, fastening: 'not qualifying' }, 1)).toBeCloseTo(1804.5, 1);
  });
});
