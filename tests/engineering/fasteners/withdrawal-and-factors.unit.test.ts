import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupActionFactor } from '../../../src/engineering/fasteners/adjustments/group-action.ts';
import { preBore } from '../../../src/engineering/fasteners/adjustments/pre-bore.ts';
import {
  lateralWetFactor,
  temperatureFactor,
  withdrawalWetFactor,
} from '../../../src/engineering/fasteners/adjustments/service-factors.ts';
import { pennyNail, type Fastener } from '../../../src/engineering/fasteners/dowels/fastener.ts';
import {
  combinedResistanceLb,
  headPullThroughLb,
  referenceWithdrawal,
} from '../../../src/engineering/fasteners/dowels/withdrawal.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';
import { EDITIONS } from './rows.ts';

const wood = (thicknessIn: number, specificGravity: number, angleDeg = 0) =>
  ({ material: 'wood', thicknessIn, specificGravity, angleDeg }) as const;

describe('withdrawal and pull-through', () => {
  it('No. 10 wood screw in G 0.50 is 135 lb per inch (2850 G² D, NDS Table 12.2B, from memory)', () => {
    const result = referenceWithdrawal(
      {
        fastener: { kind: 'wood screw', gauge: 10, lengthIn: 3 },
        method: 'face',
        side: wood(0.75, 0.5),
        main: wood(3.5, 0.5),
        aheadIn: 0,
        path: 'row',
      },
      EDITIONS,
    );
    expect(result.perInchLb).toBeCloseTo(135.4, 1);
    expect(result.holdingIn).toBeCloseTo(2, 9);
  });
  it('never holds more with less in the wood', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<Fastener>(
          pennyNail('common', '16d'),
          { kind: 'wood screw', gauge: 10, lengthIn: 3 },
          { kind: 'lag screw', diameterIn: 0.5, lengthIn: 5 },
        ),
        fc.double({ min: 0.5, max: 5, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        (fastener, sideIn, more) => {
          const hold = (thicknessIn: number): number =>
            referenceWithdrawal(
              {
                fastener,
                method: 'face',
                side: wood(thicknessIn, 0.5),
                main: wood(9, 0.5),
                aheadIn: 0,
                path: 'row',
              },
              EDITIONS,
            ).totalLb;
          expect(hold(sideIn + more)).toBeLessThanOrEqual(hold(sideIn) + 1e-9);
        },
      ),
    );
  });
  it('pull-through is continuous at t = 2.5 DH and does not grow beyond (NDS 12.2.5)', () => {
    const dh = 0.281;
    expect(headPullThroughLb(dh, 0.5, 2.5 * dh)).toBeCloseTo(1725 * Math.PI * dh ** 2 * 0.25, 9);
    expect(headPullThroughLb(dh, 0.5, 3)).toBe(headPullThroughLb(dh, 0.5, 2.5 * dh));
  });
  it('combined load meets lateral at 0° and withdrawal at 90° (NDS 12.4)', () => {
    const nail = pennyNail('common', '16d');
    const lag: Fastener = { kind: 'lag screw', diameterIn: 0.5, lengthIn: 5 };
    for (const fastener of [nail, lag]) {
      expect(combinedResistanceLb(fastener, 140, 60, 0)).toBeCloseTo(140, 9);
      expect(combinedResistanceLb(fastener, 140, 60, 90)).toBeCloseTo(60, 9);
    }
    // Squares are kinder between: cos² + sin² = 1 but cos + sin > 1.
    expect(combinedResistanceLb(lag, 140, 60, 45)).toBeGreaterThan(combinedResistanceLb(nail, 140, 60, 45));
  });
  it('refuses a bolt in withdrawal and a screw whose report is silent', () => {
    const plane = {
      method: 'face',
      side: wood(1.5, 0.5),
      main: wood(3.5, 0.5),
      aheadIn: 0,
      path: 'row',
    } as const;
    expect(() =>
      referenceWithdrawal({ ...plane, fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 6 } }, EDITIONS),
    ).toThrow(/washers bear/);
    expect(() =>
      referenceWithdrawal(
        {
          ...plane,
          fastener: {
            kind: 'structural screw',
            report: 'sheet',
            diameterIn: 0.22,
            rootDiameterIn: 0.15,
            lengthIn: 3.5,
            threadLengthIn: 2,
            tipLengthIn: 0.25,
            fybPsi: 150_000,
            coversBuiltUpColumns: false,
          },
        },
        EDITIONS,
      ),
    ).toThrow(/report/);
  });
});

describe('adjustment factors (NDS Tables 11.3.3, 11.3.4)', () => {
  const nail = pennyNail('common', '16d');
  const conditions = (madeWhen: 'dry' | 'wet', usedWhen: 'dry' | 'wet', temperatureF = 70) => ({
    madeWhen,
    usedWhen,
    temperatureF,
  });
  it('wet service', () => {
    expect(lateralWetFactor(conditions('dry', 'dry'), 0.5, false)).toBe(1);
    expect(lateralWetFactor(conditions('wet', 'dry'), 0.5, false)).toBe(0.4);
    expect(lateralWetFactor(conditions('wet', 'dry'), 0.162, false)).toBe(0.7);
    expect(lateralWetFactor(conditions('wet', 'dry'), 0.5, true)).toBe(1);
    expect(lateralWetFactor(conditions('wet', 'wet'), 0.5, true)).toBe(0.7);
    expect(withdrawalWetFactor(conditions('wet', 'dry'), nail)).toBe(0.25);
    expect(withdrawalWetFactor(conditions('wet', 'wet'), nail)).toBe(1);
    expect(
      withdrawalWetFactor(conditions('dry', 'wet'), { kind: 'lag screw', diameterIn: 0.5, lengthIn: 4 }),
    ).toBe(0.7);
  });
  it('temperature', () => {
    expect([100, 101, 125, 126, 150].map((f) => temperatureFactor(conditions('dry', 'dry', f), 't'))).toEqual(
      [1, 0.8, 0.8, 0.7, 0.7],
    );
    expect([125, 150].map((f) => temperatureFactor(conditions('wet', 'wet', f), 't'))).toEqual([0.7, 0.5]);
    expect(() => temperatureFactor(conditions('dry', 'dry', 151), 't')).toThrow(Refusal);
  });
  it('group action lies between 0 and 1, is symmetric in the members and falls with the count', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 10 }),
        fc.double({ min: 1e6, max: 1e8, noNaN: true }),
        fc.double({ min: 1e6, max: 1e8, noNaN: true }),
        (count, a, b) => {
          const cg = (n: number, mainStiffnessLb: number, sideStiffnessLb: number): number =>
            groupActionFactor({
              count: n,
              diameterIn: 0.625,
              spacingIn: 3,
              mainStiffnessLb,
              sideStiffnessLb,
              toSteel: false,
            });
          expect(cg(count, a, b)).toBeGreaterThan(0);
          expect(cg(count, a, b)).toBeLessThanOrEqual(1);
          expect(cg(count, a, b)).toBeCloseTo(cg(count, b, a), 9);
          expect(cg(count + 1, a, b)).toBeLessThanOrEqual(cg(count, a, b) + 1e-9);
        },
      ),
    );
  });
  it('bored holes by density (NDS 12.1.4.2, 12.1.6.2)', () => {
    expect(preBore(nail, 0.5)).toMatchObject({ required: false, leadIn: 7 / 64 });
    expect(preBore({ kind: 'lag screw', diameterIn: 0.5, lengthIn: 4 }, 0.5)).toMatchObject({
      required: true,
      leadIn: 22 / 64,
      clearanceIn: 0.5,
    });
    expect(preBore({ kind: 'bolt', diameterIn: 0.5, lengthIn: 6 }, 0.5).leadIn).toBeCloseTo(0.5625, 9);
  });
});
