import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkSteelBeam,
  plateThicknessIn,
  proposeBearingPlate,
  steelRigidityLbIn2,
  wideFlange,
  wideFlanges,
  type SteelBeamInput,
} from '../../../src/engineering/steel/index.ts';
import { Refusal, type Editions } from '../../../src/engineering/trace/index.ts';

const editions: Editions = { asce7: '7-16', nds: '2018', irc: '2021', aci318: '318-19', aisc360: '360-16' };

/** 12 ft, 900 plf: M = wL²/8, V = wL/2, EIδ = 5wL⁴/384. */
function uniform(change: Partial<SteelBeamInput> = {}, plf = 900): SteelBeamInput {
  const w = plf / 12;
  const span = 144;
  const reactionLb = (w * span) / 2;
  const total = (5 * w * span ** 4) / 384;
  return {
    shape: 'W8x18',
    fyKsi: 50,
    editions,
    momentLbIn: (w * span ** 2) / 8,
    shearLb: reactionLb,
    unbracedIn: 16,
    bearings: (['left', 'right'] as const).map((end) => ({
      end,
      reactionLb,
      lengthIn: 4.5,
      supportWidthIn: 5.5,
      woodAllowablePsi: 625,
    })),
    deflection: { spanIn: span, liveLbIn3: total * 0.7, totalLbIn3: total, liveRatio: 360, totalRatio: 240 },
    ...change,
  };
}

const find = (input: SteelBeamInput, id: string) =>
  checkSteelBeam(input).checks.find((check) => check.id === id)!;

describe('a steel beam', () => {
  it('passes a light load and says its weight', () => {
    const result = checkSteelBeam(uniform());
    expect(result.checks.filter((check) => !check.passes)).toEqual([]);
    expect(result.weightPlf).toBe(18);
    expect(result.notices.map((notice) => notice.id)).toContain('steel.ends-held');
  });

  it('deflects by 5wL⁴/384EI', () => {
    const check = find(uniform(), 'steel.deflection.total');
    expect(check.demand.value).toBeCloseTo((5 * 75 * 144 ** 4) / (384 * 29e6 * 61.9), 9);
    expect(check.capacity.value).toBe(0.6);
    expect(steelRigidityLbIn2('W8x18')).toBe(29e6 * 61.9);
  });

  it('fails in bending, with the number over the number, when the load is raised enough', () => {
    const check = find(uniform({}, 2600), 'steel.flexure');
    expect(check.passes).toBe(false);
    expect(check.ratio).toBeCloseTo((2600 * 12 ** 2) / 8 / 42_400, 1);
  });

  it('crushes soft wood under a narrow flange and is saved by the plate it proposes', () => {
    const bearing = {
      end: 'left' as const,
      reactionLb: 9000,
      lengthIn: 4.5,
      supportWidthIn: 5.5,
      woodAllowablePsi: 405,
    };
    const bare = uniform({ shape: 'W8x10', bearings: [bearing] });
    expect(find(bare, 'steel.bearing.left.wood').passes).toBe(false);
    const plate = proposeBearingPlate(wideFlange('W8x10'), bearing)!;
    // 9000/405 = 22.2 in² → 4.94 → 5 in wide; 400 psi, n = 2.5 − 0.505: t = 1.995·√(3.34·400/36000) = 0.384 → 1/2.
    expect(plate).toEqual({ lengthIn: 4.5, widthIn: 5, thicknessIn: 0.5, fyPsi: 36_000 });
    const plated = uniform({ shape: 'W8x10', bearings: [{ ...bearing, plate }] });
    expect(find(plated, 'steel.bearing.left.wood').passes).toBe(true);
    expect(find(plated, 'steel.bearing.left.plate').passes).toBe(true);
    expect(proposeBearingPlate(wideFlange('W8x10'), { ...bearing, reactionLb: 12_000 })).toBeUndefined();
  });

  it('works out plate thickness as t = n √(2 Ω fp / Fy): 400 psi, 2 in, 36 ksi', () => {
    // Mn/Ω = Fy t²/(4·1.67) per inch = fp n²/2 → t² = 2·1.67·400·4/36000.
    expect(plateThicknessIn(400, 2, 36_000)).toBeCloseTo(Math.sqrt((2 * 1.67 * 400 * 4) / 36_000), 12);
    expect(plateThicknessIn(400, -1, 36_000)).toBe(0);
  });

  it('checks the web under a landing post only where there is one', () => {
    expect(checkSteelBeam(uniform()).checks.some((check) => check.id.startsWith('steel.web.landing'))).toBe(
      false,
    );
    const landing = { label: 'Post', loadLb: 60_000, bearingIn: 3.5, fromEndIn: 60 };
    expect(find(uniform({ landings: [landing] }), 'steel.web.landing.crippling').passes).toBe(false);
    // Near the end the web is weaker: half the load in the middle is not the worse of the two.
    const nearEnd = { label: 'Brace', loadLb: 36_000, bearingIn: 1.5, fromEndIn: 2 };
    const inMiddle = { ...landing, loadLb: 40_000 };
    const worst = find(uniform({ landings: [inMiddle, nearEnd] }), 'steel.web.landing.yielding');
    expect(worst.title).toBe('Web yielding, under Brace');
    // Fy tw (2.5 k + lb) / 1.5, k 0.63 (J10-3).
    expect(worst.capacity.value).toBeCloseTo((50_000 * 0.23 * (2.5 * 0.63 + 1.5)) / 1.5, 6);
  });

  it('keeps the limit of the finishes', () => {
    const { deflection } = uniform();
    const check = find(
      uniform({ deflection: { ...deflection, absoluteIn: 0.1 } }),
      'steel.deflection.absolute',
    );
    expect(check.passes).toBe(false);
  });

  it('a heavier shape of the same flange family never bends more under the same load', () => {
    fc.assert(
      fc.property(fc.constantFrom(...wideFlanges), fc.constantFrom(...wideFlanges), (one, other) => {
        if (one.inertiaIn4 > other.inertiaIn4) return true;
        const weak = find(uniform({ shape: one.shape }), 'steel.deflection.total').ratio;
        const stiff = find(uniform({ shape: other.shape }), 'steel.deflection.total').ratio;
        return stiff <= weak;
      }),
    );
  });

  it('every check ratio grows with the load', () => {
    fc.assert(
      fc.property(fc.constantFrom(...wideFlanges), fc.integer({ min: 50, max: 4000 }), (shape, plf) => {
        const light = checkSteelBeam(uniform({ shape: shape.shape }, plf)).checks;
        const heavy = checkSteelBeam(uniform({ shape: shape.shape }, plf * 1.5)).checks;
        return light.every((check, index) => heavy[index]!.ratio >= check.ratio);
      }),
    );
  });

  it.each([
    ['member.shape', { shape: 'W99x1' }],
    ['member.fyKsi', { fyKsi: -36 }],
    ['momentLbIn', { momentLbIn: -1 }],
    ['shearLb', { shearLb: Number.NaN }],
    ['unbracedIn', { unbracedIn: Infinity }],
  ])('refuses nonsense at %s', (path, change) => {
    expect(() => checkSteelBeam(uniform(change))).toThrow(Refusal);
    expect(() => checkSteelBeam(uniform(change))).toThrow(expect.objectContaining({ path }) as Error);
  });
});
