import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hankinson, woodBearingPsi } from '../../../src/engineering/fasteners/dowels/bearing-strength.ts';
import {
  dowelProperties,
  fastenerLabel,
  pennyNail,
  type Fastener,
} from '../../../src/engineering/fasteners/dowels/fastener.ts';
import { referenceLateral } from '../../../src/engineering/fasteners/dowels/lateral.ts';
import { NAIL_SIZES } from '../../../src/engineering/fasteners/dowels/nail-sizes.ts';
import { reductionTerms } from '../../../src/engineering/fasteners/dowels/reduction-term.ts';
import { doubleShear, singleShear } from '../../../src/engineering/fasteners/dowels/yield-modes.ts';
import { Refusal, substitution } from '../../../src/engineering/trace/index.ts';
import { EDITIONS } from './rows.ts';

const wood = (thicknessIn: number, specificGravity: number, angleDeg = 0) =>
  ({ material: 'wood', thicknessIn, specificGravity, angleDeg }) as const;

function z(
  fastener: Fastener,
  sideIn: number,
  mainIn: number,
  gravity = 0.5,
  method: 'face' | 'toe' = 'face',
): number {
  return referenceLateral(
    { fastener, method, side: wood(sideIn, gravity), main: wood(mainIn, gravity), aheadIn: 0, path: 'row' },
    EDITIONS,
  ).zLb;
}

const anyNail = fc.constantFrom(
  ...(['common', 'box', 'sinker'] as const).flatMap((style) =>
    NAIL_SIZES[style].map((size) => pennyNail(style, size.penny)),
  ),
);
const gravity = fc.double({ min: 0.35, max: 0.7, noNaN: true });

describe('lateral values', () => {
  it('never grow when the point goes in less far', () => {
    fc.assert(
      fc.property(
        anyNail,
        gravity,
        fc.double({ min: 0, max: 4, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (nail, g, ahead, more) => {
          const at = (aheadIn: number): number =>
            referenceLateral(
              {
                fastener: nail,
                method: 'face',
                side: wood(0.75, g),
                main: wood(5.5, g),
                aheadIn,
                path: 'row',
              },
              EDITIONS,
            ).zLb;
          expect(at(ahead + more)).toBeLessThanOrEqual(at(ahead) + 1e-9);
        },
      ),
    );
  });

  it('never grow when the holding piece gets thinner or the wood lighter', () => {
    fc.assert(
      fc.property(
        anyNail,
        gravity,
        fc.double({ min: 0.3, max: 5, noNaN: true }),
        fc.double({ min: 0.01, max: 0.2, noNaN: true }),
        (nail, g, mainIn, less) => {
          expect(z(nail, 1.5, mainIn, g)).toBeLessThanOrEqual(z(nail, 1.5, mainIn + less, g) + 1e-9);
          expect(z(nail, 1.5, mainIn, Math.max(0.31, g - less))).toBeLessThanOrEqual(
            z(nail, 1.5, mainIn, g) + 1e-9,
          );
        },
      ),
    );
  });

  it('are the same from either side where both members and lengths are alike', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(0.25, 0.375, 0.5, 0.625, 0.75, 1),
        gravity,
        gravity,
        fc.double({ min: 1, max: 6, noNaN: true }),
        fc.double({ min: 1, max: 6, noNaN: true }),
        fc.double({ min: 0, max: 90, noNaN: true }),
        fc.double({ min: 0, max: 90, noNaN: true }),
        (diameterIn, g1, g2, t1, t2, a1, a2) => {
          const fastener: Fastener = { kind: 'bolt', diameterIn, lengthIn: 14 };
          const value = (first: ReturnType<typeof wood>, second: ReturnType<typeof wood>): number =>
            referenceLateral(
              { fastener, method: 'face', side: first, main: second, aheadIn: 0, path: 'row' },
              EDITIONS,
            ).zLb;
          const one = wood(t1, g1, a1);
          const two = wood(t2, g2, a2);
          expect(value(one, two) / value(two, one)).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it('double shear is the least of Im and twice Is, IIIs and IV of the same pieces', () => {
    fc.assert(
      fc.property(gravity, gravity, fc.double({ min: 1, max: 6, noNaN: true }), (g1, g2, mainLengthIn) => {
        const input = {
          diameterIn: 0.5,
          fybPsi: 45_000,
          mainLengthIn,
          sideLengthIn: 1.5,
          femPsi: woodBearingPsi(g1, 0.5, 0),
          fesPsi: woodBearingPsi(g2, 0.5, 0),
          rd: reductionTerms(0.5, 0.5, 0),
        };
        const { Im, Is, IIIs, IV } = singleShear(input).modesLb;
        expect(doubleShear(input).zLb).toBeCloseTo(Math.min(Im!, 2 * Is!, 2 * IIIs!, 2 * IV!), 9);
      }),
    );
  });

  it('a nail under 6 D does not count, at 6 D it counts for six tenths', () => {
    const nail = pennyNail('common', '16d');
    const sideFor = (multiple: number): number => nail.lengthIn - multiple * nail.diameterIn;
    expect(z(nail, sideFor(5.99), 3.5)).toBe(0);
    const six = z(nail, sideFor(6), 3.5);
    expect(six).toBeGreaterThan(0);
    expect(six).toBeLessThanOrEqual(0.6 * 141.2);
  });

  it('a lag screw under 4 D without its tip does not count', () => {
    const lag: Fastener = { kind: 'lag screw', diameterIn: 0.5, lengthIn: 4 };
    // 4 − ts − 5/16 = 2 in at ts = 1.6875.
    expect(z(lag, 1.6875, 5.5)).toBeGreaterThan(0);
    expect(z(lag, 1.7, 5.5)).toBe(0);
  });

  it('lag screws of 1/2 in use the reduced body: IV = Dr²/3.2 · √(2 Fe Fyb / 6)', () => {
    const lag: Fastener = { kind: 'lag screw', diameterIn: 0.5, lengthIn: 8 };
    const modes = referenceLateral(
      { fastener: lag, method: 'face', side: wood(3.5, 0.5), main: wood(7.5, 0.5), aheadIn: 0, path: 'row' },
      EDITIONS,
    ).modesLb;
    expect(modes.IV).toBeCloseTo((0.371 ** 2 / 3.2) * Math.sqrt((2 * 5600 * 45_000) / 6), 6);
  });

  it('a toe-nail counts L/3 as side bearing and L cos 30° − L/3 as penetration (NDS C12.1.6.3)', () => {
    const { penetration } = referenceLateral(
      {
        fastener: pennyNail('common', '8d'),
        method: 'toe',
        side: wood(1.5, 0.5),
        main: wood(1.5, 0.5),
        aheadIn: 0,
        path: 'row',
      },
      EDITIONS,
    );
    expect(penetration.sideLengthIn).toBeCloseTo(2.5 / 3, 9);
    expect(penetration.penetrationIn).toBeCloseTo(2.5 * Math.cos(Math.PI / 6) - 2.5 / 3, 9);
  });

  it('every mode unfolds to values for each symbol of its formula', () => {
    const { steps } = referenceLateral(
      {
        fastener: pennyNail('common', '16d'),
        method: 'face',
        side: wood(1.5, 0.5),
        main: wood(3.5, 0.42),
        aheadIn: 0,
        path: 'row',
      },
      EDITIONS,
    );
    const text = steps.filter((step) => step.id.includes('.mode.')).map(substitution);
    expect(text).toHaveLength(6);
    for (const line of text) expect(line).not.toMatch(/Fem|Fes|Fyb|lm|ls|Rd|k[123]/);
  });

  it.each([
    [
      'wood without specific gravity',
      { material: 'wood', thicknessIn: 1.5, angleDeg: 0 },
      'row.members.0.specificGravity',
    ],
    ['thickness of zero', wood(0, 0.5), 'row.members.0.thicknessIn'],
    ['not a number', wood(Number.NaN, 0.5), 'row.members.0.thicknessIn'],
    ['cork', wood(1.5, 0.1), 'specificGravity'],
  ] as const)('refuses %s', (_, side, path) => {
    const act = (): unknown =>
      referenceLateral(
        {
          fastener: pennyNail('common', '16d'),
          method: 'face',
          side,
          main: wood(3.5, 0.5),
          aheadIn: 0,
          path: 'row',
        },
        EDITIONS,
      );
    expect(act).toThrow(Refusal);
    try {
      act();
    } catch (error) {
      expect((error as Refusal).path).toBe(path);
    }
  });

  it('refuses sizes that the standard does not list', () => {
    expect(() => pennyNail('common', '11d')).toThrow(Refusal);
    expect(() => dowelProperties({ kind: 'wood screw', gauge: 11, lengthIn: 3 })).toThrow(Refusal);
    expect(() => dowelProperties({ kind: 'lag screw', diameterIn: 0.55, lengthIn: 3 })).toThrow(Refusal);
  });
});

describe('dowel bearing', () => {
  it('Hankinson meets both ends and stays between', () => {
    expect(hankinson(5600, 3150, 0)).toBeCloseTo(5600, 9);
    expect(hankinson(5600, 3150, 90)).toBeCloseTo(3150, 9);
    fc.assert(
      fc.property(fc.double({ min: 0, max: 90, noNaN: true }), (angle) => {
        const value = hankinson(5600, 3150, angle);
        expect(value).toBeGreaterThanOrEqual(3150 - 1e-6);
        expect(value).toBeLessThanOrEqual(5600 + 1e-6);
      }),
    );
  });
  it('threaded with nominal 1/4 in and a thinner root takes KD Kθ (Table 12.3.1B footnote 1)', () => {
    expect(reductionTerms(0.25, 0.173, 90).modeI).toBeCloseTo((10 * 0.173 + 0.5) * 1.25, 12);
    expect(reductionTerms(0.192, 0.192, 90).modeI).toBeCloseTo(2.42, 12);
    expect(reductionTerms(0.5, 0.5, 90)).toEqual({ modeI: 5, modeII: 4.5, modeIIIandIV: 4 });
  });
});

it('labels name diameter × length first, penny second', () => {
  expect(fastenerLabel(pennyNail('common', '16d'))).toBe('0.162 × 3.5 in nail (16d common)');
  expect(fastenerLabel({ kind: 'nail', style: 'pneumatic', diameterIn: 0.131, lengthIn: 3.25 })).toBe(
    '0.131 × 3.25 in pneumatic nail',
  );
});
