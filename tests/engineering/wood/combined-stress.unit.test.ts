import { describe, expect, it } from 'vitest';
import {
  checkWoodColumn,
  evaluateWoodColumn,
  type InteractionInput,
  interactionRatio,
  lateralInteraction,
  weakSectionModulusIn3,
  type WoodColumnInput,
} from '../../../src/engineering/wood/index.ts';
import { glulam, sawn, without } from './wood-fixtures.ts';

const CENTRED: InteractionInput = {
  fc: 200,
  fcAdjusted: 500,
  fcE1: 1000,
  fcE2: 800,
  fb1: 600,
  fb1Adjusted: 1500,
  fb2: 100,
  fb2Adjusted: 1200,
  fbE: 3000,
  eccentric1: 0,
  eccentric2: 0,
};

describe('interaction of compression and bending', () => {
  it('adds a term for each axis that is bent (Eq. 3.9-3)', () => {
    const axial = 0.16;
    const strong = 600 / (1500 * 0.8);
    const weak = 100 / (1200 * (1 - 0.25 - 0.04));
    expect(interactionRatio({ ...CENTRED, fb1: 0, fb2: 0 })).toBeCloseTo(axial, 12);
    expect(interactionRatio({ ...CENTRED, fb2: 0 })).toBeCloseTo(axial + strong, 12);
    expect(interactionRatio({ ...CENTRED, fb1: 0 })).toBeCloseTo(axial + 100 / (1200 * 0.75), 12);
    expect(interactionRatio(CENTRED)).toBeCloseTo(axial + strong + weak, 12);
  });

  it('lets the load off its centre grow by its own deflection (Eq. 15.4-1)', () => {
    const ratio = interactionRatio({ ...CENTRED, eccentric1: 300, eccentric2: 50 });
    const m = (900 / 3000) ** 2;
    expect(ratio).toBeCloseTo(
      0.16 +
        (600 + 300 * (1 + 0.234 * 0.2)) / (1500 * 0.8) +
        (100 + 50 * (1 + 0.234 * 0.25 + 0.234 * m)) / (1200 * (1 - 0.25 - m)),
      12,
    );
  });

  it('is endless where buckling leaves nothing to bend', () => {
    expect(interactionRatio({ ...CENTRED, fc: 1000 })).toBe(Infinity);
    expect(interactionRatio({ ...CENTRED, fc: 999.9, fb2: 0 })).toBeLessThan(Infinity);
    expect(interactionRatio({ ...CENTRED, fb1: 0, fc: 800 })).toBe(Infinity);
    // Nothing bends: the column formula alone decides.
    expect(interactionRatio({ ...CENTRED, fb1: 0, fb2: 0, fc: 1200 })).toBeCloseTo(5.76, 12);
  });

  it('holds the beam from buckling sideways (Eq. 3.9-4)', () => {
    expect(lateralInteraction(CENTRED)).toBeCloseTo(0.25 + 0.04, 12);
    expect(lateralInteraction({ ...CENTRED, eccentric1: 300 })).toBeCloseTo(0.25 + 0.09, 12);
    expect(lateralInteraction({ ...CENTRED, fbE: Infinity })).toBe(0.25);
  });
});

const king: WoodColumnInput = {
  edition: '2018',
  member: sawn('DF-L', 'No.2', '2x6', 2),
  fastening: 'nailed',
  heightIn: 96,
  weakUnbracedIn: 0,
  combinations: [
    { name: 'D + L', loadDuration: 1, axialLb: 2000 },
    { name: 'D + 0.6W', loadDuration: 1.6, axialLb: 1000, strongMomentLbIn: 12_000 },
  ],
};

describe('kings under wind', () => {
  it('are judged by compression with bending about the strong axis', () => {
    const combined = checkWoodColumn(king)[2]!;
    const star = 1350 * 1.1 * 1.6;
    const critical = (0.822 * 580_000) / (96 / 5.5) ** 2;
    const half = (1 + critical / star) / 1.6;
    const fc = 1000 / 16.5;
    const adjusted = star * (half - Math.sqrt(half ** 2 - critical / star / 0.8));
    const fb = 12_000 / ((3 * 5.5 ** 2) / 6);
    const ratio = (fc / adjusted) ** 2 + fb / (900 * 1.6 * 1.3 * (1 - fc / critical));
    expect(combined.id).toBe('column.combined');
    expect(combined.governing).toBe('D + 0.6W');
    expect(combined.ratio).toBeCloseTo(ratio, 12);
    expect(combined.sentence).toBe(
      `Compression with bending uses ${(100 * ratio).toFixed(0)} percent of what there is.`,
    );
  });

  it('have no such check where nothing bends them', () => {
    const idle = { ...king, combinations: [king.combinations[0]!] };
    expect(checkWoodColumn(idle)).toHaveLength(2);
    expect(checkWoodColumn({ ...idle, eccentricity: { strongIn: 0, weakIn: 0 } })).toHaveLength(2);
    expect(checkWoodColumn({ ...idle, eccentricity: { strongIn: 0, weakIn: 0.5 } })).toHaveLength(3);
    expect(checkWoodColumn({ ...idle, eccentricity: { strongIn: 0.5, weakIn: 0 } })).toHaveLength(3);
    const flat = { ...idle.combinations[0]!, weakMomentLbIn: 1 };
    expect(checkWoodColumn({ ...idle, combinations: [flat] })).toHaveLength(3);
  });

  it('say so when they fail, and when they buckle first', () => {
    const over = { name: 'W', loadDuration: 1.6, axialLb: 1000, strongMomentLbIn: 60_000 };
    const failed = checkWoodColumn({ ...king, combinations: [over] })[2]!;
    expect(failed.passes).toBe(false);
    expect(failed.sentence).toMatch(/^Compression with bending takes \d+ percent of what there is\.$/);
    const heavy = { ...over, axialLb: 40_000 };
    const buckled = checkWoodColumn({ ...king, combinations: [heavy] })[2]!;
    expect(buckled.ratio).toBe(Infinity);
    expect(buckled.sentence).toBe('The column buckles before it bends: more plies, or closer bracing.');
  });

  it('lose by the unbraced edge: held by itself, by the weak axis bracing, or by nothing', () => {
    const moment = (change: Partial<WoodColumnInput>) => {
      const state = evaluateWoodColumn({ ...king, member: sawn('DF-L', 'No.2', '2x6'), ...change })
        .states[2]!;
      if (state.kind !== 'combined') throw new Error(state.kind);
      return state.stress.bending.stability;
    };
    expect(moment({}).held).toBe(true);
    expect(moment({ weakUnbracedIn: 48 }).effectiveIn).toBeCloseTo(1.63 * 48 + 16.5, 9);
    expect(moment({ weakUnbracedIn: 48, edgeUnbracedIn: 24 }).effectiveIn).toBeCloseTo(2.06 * 24, 9);
    expect(moment({ edgeUnbracedIn: 24, edgeLoadCase: 'equal end moments' }).effectiveIn).toBeCloseTo(
      1.84 * 24,
      9,
    );
    const free = without(king, 'weakUnbracedIn');
    const state = evaluateWoodColumn({ ...free, member: sawn('DF-L', 'No.2', '2x6') }).states[2]!;
    if (state.kind !== 'combined') throw new Error(state.kind);
    expect(state.stress.bending.stability.effectiveIn).toBeCloseTo(1.84 * 96, 9);
  });
});

describe('bending across the plies', () => {
  it('bends each ply flat', () => {
    expect(weakSectionModulusIn3(sawn('DF-L', 'No.2', '2x6', 3))).toBeCloseTo((3 * 5.5 * 1.5 ** 2) / 6, 12);
    expect(weakSectionModulusIn3(sawn('DF-L', 'No.1', '4x6'))).toBeCloseTo((5.5 * 3.5 ** 2) / 6, 12);
  });

  it('takes Cfu, Cr and Kf into its term', () => {
    const state = evaluateWoodColumn({
      ...king,
      weakUnbracedIn: 96,
      conditions: { wet: false, temperatureF: 70, incised: true, repetitive: true, seasoned: true },
      combinations: [{ name: 'x', loadDuration: 1.6, axialLb: 500, weakMomentLbIn: 600 }],
    }).states[2]!;
    if (state.kind !== 'combined') throw new Error(state.kind);
    const { numbers } = state.stress;
    expect(numbers.fb2Adjusted).toBeCloseTo(900 * 1.6 * 0.8 * 1.3 * 1.15 * 1.15, 9);
    expect(numbers.fcE2).toBeCloseTo((0.6 * 0.822 * 580_000 * 0.95) / 32 ** 2, 9);
    expect(numbers.fb2).toBeCloseTo(600 / ((2 * 5.5 * 1.5 ** 2) / 6), 9);
    expect(numbers.fb1).toBe(0);
  });

  it('of a glulam post takes Fby', () => {
    const state = evaluateWoodColumn({
      ...king,
      member: glulam('24F-V4', 5.125, 9),
      fastening: 'solid',
      combinations: [{ name: 'x', loadDuration: 1, axialLb: 0, weakMomentLbIn: 600 }],
    }).states[2]!;
    if (state.kind !== 'combined') throw new Error(state.kind);
    expect(state.stress.numbers.fb2Adjusted).toBe(1450);
  });
});

describe('a load off its centre', () => {
  it('bends by P · e, each ply by its share where the fastening does not qualify', () => {
    const input: WoodColumnInput = {
      ...king,
      eccentricity: { strongIn: 0.5, weakIn: 0.25 },
      combinations: [king.combinations[0]!],
    };
    const numbers = (change: Partial<WoodColumnInput>) => {
      const state = evaluateWoodColumn({ ...input, ...change }).states[2]!;
      if (state.kind !== 'combined') throw new Error(state.kind);
      return state.stress.numbers;
    };
    const together = numbers({});
    // fc · 6e ÷ d, as NDS writes it.
    expect(together.eccentric1).toBeCloseTo(((2000 / 16.5) * 6 * 0.5) / 5.5, 9);
    expect(together.eccentric2).toBeCloseTo(((2000 / 16.5) * 6 * 0.25) / 1.5, 9);
    const alone = numbers({ fastening: 'not qualifying' });
    expect(alone.fc).toBeCloseTo(together.fc, 12);
    expect(alone.eccentric1).toBeCloseTo(together.eccentric1, 9);
    expect(alone.eccentric2).toBeCloseTo(together.eccentric2, 9);
  });
});
