import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  driftHeight,
  flatRoofSnow,
  minimumRoofSnow,
  rainOnSnow,
  ridgeDrift,
  roofSnow,
  slopeFactor,
  snowDensityPcf,
  type GableRoof,
  type SnowOnRoof,
  type SnowSite,
} from '../../../src/engineering/loads/index.ts';
import { Refusal } from '../../../src/engineering/trace/refusal.ts';

const in16: SnowSite = {
  asce7: '7-16',
  groundSnowPsf: 40,
  exposureFactor: 1,
  thermalFactor: 1,
  importanceFactor: 1,
};
const in22: SnowSite = { ...in16, asce7: '7-22', winterWindParameter: 0.45 };
const gable: GableRoof = {
  riseIn12: 6,
  slippery: false,
  eaveToRidge: { frontIn: 288, rearIn: 360 },
  simpleRafters: false,
};

const riseOf = (degrees: number): number => 12 * Math.tan((degrees * Math.PI) / 180);

function cs(asce7: '7-16' | '7-22', degrees: number, thermalFactor: number, slippery = false): number {
  return slopeFactor({ asce7, riseIn12: riseOf(degrees), thermalFactor, slippery }).factor;
}

function caseOf(cases: readonly SnowOnRoof[], name: SnowOnRoof['snowCase']): SnowOnRoof {
  const found = cases.find((way) => way.snowCase === name);
  if (!found) throw new Error(`no case ${name}`);
  return found;
}

describe('slope factor, ASCE 7 Fig. 7.4-1', () => {
  test.each<[number, number, boolean, number]>([
    [30, 1, false, 1],
    [50, 1, false, 0.5],
    [37.5, 1.1, false, 1],
    [53.75, 1.1, false, 0.5],
    [33.69, 1.1, false, 1],
    [45, 1.2, false, 1],
    [57.5, 1.3, false, 0.5],
    [5, 1, true, 1],
    [37.5, 1, true, 0.5],
    // 4 in 12 slippery, Ct 1.0: (70 − 18.435) ÷ 65 = 0.7933, as in a public test of the same figure.
    [18.434949, 1, true, 0.7933],
    [40, 1.1, true, 0.5],
    [42.5, 1.2, true, 0.5],
    [70, 1, false, 0],
    [80, 1, true, 0],
  ])('7-16: %d°, Ct %d, slippery %s: Cs %d', (degrees, thermalFactor, slippery, expected) => {
    expect(cs('7-16', degrees, thermalFactor, slippery)).toBeCloseTo(expected, 4);
  });

  test('between the panels: 7-16 takes the next one, 7-22 has ranges', () => {
    expect(cs('7-16', 35, 1.05)).toBe(1);
    expect(cs('7-22', 35, 1.05)).toBeCloseTo(35 / 40, 9);
    expect(cs('7-16', 40, 1.15)).toBe(1);
    expect(cs('7-22', 40, 1.15)).toBeCloseTo(30 / 32.5, 9);
    expect(cs('7-22', 45, 1.2)).toBeCloseTo(1, 9);
  });

  test('never rises with the slope, stays in 0 to 1, has no jump', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 24, noNaN: true }),
        fc.constantFrom(0.85, 1, 1.1, 1.2, 1.3),
        fc.boolean(),
        fc.constantFrom('7-16' as const, '7-22' as const),
        (riseIn12, thermalFactor, slippery, asce7) => {
          const at = (rise: number): number =>
            slopeFactor({ asce7, riseIn12: rise, thermalFactor, slippery }).factor;
          const here = at(riseIn12);
          expect(here).toBeGreaterThanOrEqual(0);
          expect(here).toBeLessThanOrEqual(1);
          const next = at(riseIn12 + 1e-6);
          expect(next).toBeLessThanOrEqual(here);
          expect(here - next).toBeLessThan(1e-6);
        },
      ),
    );
  });
});

describe('minimum and rain on low slopes', () => {
  test.each<[SnowSite, number, number]>([
    [{ ...in16, groundSnowPsf: 15 }, 2, 15],
    [{ ...in16, groundSnowPsf: 35 }, 2, 20],
    [{ ...in16, groundSnowPsf: 35, importanceFactor: 1.1 }, 2, 22],
    [{ ...in22, groundSnowPsf: 25 }, 2, 25],
    [{ ...in22, groundSnowPsf: 60 }, 2, 30],
    // 3 in 12 is 14.04°, 3.25 in 12 is 15.15°
    [in16, 3, 20],
    [in16, 3.25, 0],
    [{ ...in16, groundSnowPsf: 0 }, 2, 0],
  ])('case %#: %d in 12', (site, rise, expected) => {
    expect(minimumRoofSnow(site, rise).psf).toBeCloseTo(expected, 9);
  });

  test('rain on snow: 5 psf in 7-16 up to pg 20, 8 psf in 7-22 up to pg 30, below W ÷ 50 degrees', () => {
    const flat16 = { ...in16, groundSnowPsf: 20 };
    // W = 30 ft: 0.6°, 1/8 in 12 is 0.597°
    expect(rainOnSnow(flat16, 0.125, 30).psf).toBe(5);
    expect(rainOnSnow(flat16, 0.126, 30).psf).toBe(0);
    expect(rainOnSnow({ ...in16, groundSnowPsf: 21 }, 0, 30).psf).toBe(0);
    expect(rainOnSnow({ ...in22, groundSnowPsf: 30 }, 0, 30).psf).toBe(8);
    expect(rainOnSnow({ ...in22, groundSnowPsf: 31 }, 0, 30).psf).toBe(0);
    expect(rainOnSnow({ ...in16, groundSnowPsf: 0 }, 0, 30).psf).toBe(0);
  });

  test('the uniform case is the larger of balanced with rain and minimum', () => {
    const low: GableRoof = { ...gable, riseIn12: 2 };
    // pf = 28 > 20
    expect(caseOf(roofSnow(in16, low).cases, 'balanced').front.uniformPsf).toBeCloseTo(28, 9);
    // pf = 12.6 < pm 18
    const light = { ...in16, groundSnowPsf: 18 };
    expect(caseOf(roofSnow(light, low).cases, 'balanced').front.uniformPsf).toBeCloseTo(18, 9);
    // flat: pf 12.6 + 5 = 17.6 < 18; at pg 19.9 and Ct 1.2: 16.716 + 5 > 19.9
    const flat: GableRoof = { ...gable, riseIn12: 0 };
    expect(caseOf(roofSnow(light, flat).cases, 'balanced').front.uniformPsf).toBeCloseTo(18, 9);
    const cold = { ...in16, groundSnowPsf: 19.9, thermalFactor: 1.2 };
    expect(caseOf(roofSnow(cold, flat).cases, 'balanced').front.uniformPsf).toBeCloseTo(21.716, 9);
  });
});

describe('unbalanced snow on gables, ASCE 7 7.6.1', () => {
  test('runs from ½ in 12 to 7 in 12 and says why not elsewhere', () => {
    const count = (riseIn12: number): number => roofSnow(in16, { ...gable, riseIn12 }).cases.length;
    expect([0.49, 0.5, 7, 7.01].map(count)).toEqual([1, 3, 3, 1]);
    expect(roofSnow(in16, { ...gable, riseIn12: 8 }).notices[0]!.text).toContain('steeper than 7 in 12');
    expect(roofSnow(in16, { ...gable, riseIn12: 0 }).notices[0]!.text).toContain('flatter');
    expect(roofSnow({ ...in16, groundSnowPsf: 0 }, gable)).toMatchObject({ notices: [] });
  });

  test('the fetch is the windward slope, the surcharge lies on the leeward: both sides', () => {
    const { cases } = roofSnow(in16, gable);
    const front = caseOf(cases, 'front leeward');
    const rear = caseOf(cases, 'rear leeward');
    const expected = (fetch: number): number =>
      ((0.43 * Math.cbrt(fetch) * 50 ** 0.25 - 1.5) * 19.2) / Math.SQRT2;
    expect(front.front.surcharge!.psf).toBeCloseTo(expected(30), 9);
    expect(rear.rear.surcharge!.psf).toBeCloseTo(expected(24), 9);
    expect(front.rear).toEqual({ uniformPsf: 0.3 * 28 });
    expect(rear.front).toEqual({ uniformPsf: 0.3 * 28 });
    expect(front.front.uniformPsf).toBeCloseTo(28, 9);
  });

  test('simple rafters: exactly 20 ft still is the simple case, more is drift', () => {
    const simple = (frontIn: number): GableRoof => ({
      ...gable,
      simpleRafters: true,
      eaveToRidge: { frontIn, rearIn: 240 },
    });
    expect(caseOf(roofSnow(in16, simple(240)).cases, 'front leeward')).toMatchObject({
      front: { uniformPsf: 40 },
      rear: { uniformPsf: 0 },
    });
    expect(caseOf(roofSnow(in16, simple(241)).cases, 'front leeward').front.surcharge).toBeDefined();
    const important = roofSnow({ ...in16, importanceFactor: 1.1 }, simple(240));
    expect(caseOf(important.cases, 'front leeward').front.uniformPsf).toBeCloseTo(44, 9);
    const of22 = roofSnow({ ...in22, importanceFactor: 1.1 }, simple(240));
    expect(caseOf(of22.cases, 'front leeward').front.uniformPsf).toBe(40);
  });

  test('a short slope counts as a fetch of 20 ft; the surcharge never runs past the eave', () => {
    expect(driftHeight(in16, 5).heightFt).toBe(driftHeight(in16, 20).heightFt);
    expect(ridgeDrift(in16, 1, 24, 4).lengthFt).toBe(4);
  });
});

describe('where the edition decides', () => {
  test('the same ground figure is other snow: Is, drift by W2, minimum, slope panels', () => {
    expect(flatRoofSnow({ ...in16, importanceFactor: 1.1 }).psf).toBeCloseTo(30.8, 9);
    expect(flatRoofSnow({ ...in22, importanceFactor: 1.1 }).psf).toBeCloseTo(28, 9);
    // 7-22: 1.5 √(40^0.74 · 24^0.70 · 0.45^1.7 ÷ 19.2), by logarithms: 1.5 · √(15.33 · 9.251 · 0.2573 ÷ 19.2)
    expect(driftHeight(in22, 24).heightFt).toBeCloseTo(2.068, 3);
    expect(driftHeight(in16, 24).heightFt).toBeCloseTo(1.798, 3);
  });

  test('7-22 drift without W2 is refused, 7-16 never asks for it', () => {
    const without: SnowSite = { ...in16, asce7: '7-22' };
    expect(() => driftHeight(without, 24)).toThrow(Refusal);
    expect(() => driftHeight(in16, 24)).not.toThrow();
  });
});

describe('properties', () => {
  const sites = fc.record({
    asce7: fc.constantFrom('7-16' as const, '7-22' as const),
    groundSnowPsf: fc.double({ min: 0, max: 300, noNaN: true }),
    exposureFactor: fc.double({ min: 0.7, max: 1.2, noNaN: true }),
    thermalFactor: fc.constantFrom(0.85, 1, 1.1, 1.2, 1.3),
    importanceFactor: fc.constantFrom(0.8, 1, 1.1, 1.2),
    winterWindParameter: fc.double({ min: 0.25, max: 0.65, noNaN: true }),
  });
  const roofs = fc.record({
    riseIn12: fc.double({ min: 0, max: 24, noNaN: true }),
    slippery: fc.boolean(),
    eaveToRidge: fc.record({
      frontIn: fc.double({ min: 48, max: 600, noNaN: true }),
      rearIn: fc.double({ min: 48, max: 600, noNaN: true }),
    }),
    simpleRafters: fc.boolean(),
  });
  const figures = (cases: readonly SnowOnRoof[]): number[] =>
    cases.flatMap(({ front, rear }) =>
      [front, rear].flatMap((side) => [
        side.uniformPsf,
        side.surcharge?.psf ?? 0,
        side.surcharge?.lengthIn ?? 0,
      ]),
    );

  test('snow is never negative and never a nonsense number', () => {
    fc.assert(
      fc.property(sites, roofs, (site, roof) => {
        for (const figure of figures(roofSnow(site, roof).cases)) {
          expect(Number.isFinite(figure)).toBe(true);
          expect(figure).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  test('more snow on the ground is never less on the roof: uniform, surcharge and its length', () => {
    fc.assert(
      fc.property(sites, roofs, fc.double({ min: 0.01, max: 50, noNaN: true }), (site, roof, more) => {
        fc.pre(site.groundSnowPsf > 0);
        // Rain on snow stops where snow gets deep (7.10): a step down that the standard itself makes.
        fc.pre(roof.riseIn12 > 0.3);
        const less = figures(roofSnow(site, roof).cases);
        const deeper = figures(roofSnow({ ...site, groundSnowPsf: site.groundSnowPsf + more }, roof).cases);
        expect(deeper).toHaveLength(less.length);
        less.forEach((figure, index) => {
          // Only rounding is forgiven.
          expect(deeper[index]!).toBeGreaterThanOrEqual(figure * (1 - 1e-12));
        });
      }),
    );
  });

  test('a gable turned end for end swaps its cases', () => {
    fc.assert(
      fc.property(sites, roofs, fc.double({ min: 0.5, max: 7, noNaN: true }), (site, any, riseIn12) => {
        fc.pre(site.groundSnowPsf > 0);
        const roof = { ...any, riseIn12 };
        const turned = roofSnow(site, {
          ...roof,
          eaveToRidge: { frontIn: roof.eaveToRidge.rearIn, rearIn: roof.eaveToRidge.frontIn },
        });
        const straight = roofSnow(site, roof);
        expect(straight.cases).toHaveLength(3);
        const front = caseOf(straight.cases, 'front leeward');
        const rear = caseOf(turned.cases, 'rear leeward');
        expect(rear.rear).toEqual(front.front);
        expect(rear.front).toEqual(front.rear);
      }),
    );
  });

  test('density runs from 14 pcf and is capped at 30', () => {
    expect(snowDensityPcf(0)).toBe(14);
    expect(snowDensityPcf(40)).toBeCloseTo(19.2, 9);
    expect(snowDensityPcf(1000)).toBe(30);
  });

  test.each([NaN, Infinity, -1])('ground snow of %d is refused', (groundSnowPsf) => {
    expect(() => roofSnow({ ...in16, groundSnowPsf }, gable)).toThrow(Refusal);
  });
});
