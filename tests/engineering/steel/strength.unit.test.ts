import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  A992,
  flexuralStrength,
  momentFactor,
  shearStrength,
  webAtLoad,
  wideFlange,
  wideFlanges,
} from '../../../src/engineering/steel/index.ts';
import { Refusal, substitution, type Editions } from '../../../src/engineering/trace/index.ts';

const editions: Editions = { asce7: '7-22', nds: '2024', irc: '2024', aci318: '318-19', aisc360: '360-22' };
const flexure = (shape: string, unbracedIn: number, momentFactorCb = 1, fyPsi = A992.fyPsi) =>
  flexuralStrength({ shape: wideFlange(shape), fyPsi, unbracedIn, momentFactorCb, editions });

const anyShape = fc.constantFrom(...wideFlanges.map((shape) => shape.shape));

describe('bending of wide flanges', () => {
  it('names the flanges that are not compact at 50 ksi: the user note of AISC 360 F2 within this table', () => {
    const flange = wideFlanges
      .filter((shape) => flexure(shape.shape, 0).governs === 'flange local buckling')
      .map((shape) => shape.shape);
    // F2 user note (from memory): W10x12, W8x31, W8x10, W6x15, W6x9, W6x8.5 of the shapes held here.
    expect(flange.sort()).toEqual(['W10x12', 'W6x15', 'W6x8.5', 'W6x9', 'W8x10', 'W8x31'].sort());
  });

  it('is continuous where plastic bending ends and where buckling turns elastic', () => {
    for (const { shape } of wideFlanges) {
      const { plasticLengthIn: lp, elasticLengthIn: lr } = flexure(shape, 0);
      expect(lr).toBeGreaterThan(lp);
      for (const at of [lp, lr]) {
        const before = flexure(shape, at * (1 - 1e-9)).nominalLbIn;
        const after = flexure(shape, at * (1 + 1e-9)).nominalLbIn;
        // F2-2 ends at 0.7 Fy Sx; F2-4 meets it to the rounding of 1.95 and 6.76.
        expect(Math.abs(after / before - 1)).toBeLessThan(2e-3);
      }
    }
  });

  it('never grows with the unbraced length and never passes the plastic moment', () => {
    fc.assert(
      fc.property(
        anyShape,
        fc.double({ min: 0, max: 400, noNaN: true }),
        fc.double({ min: 0, max: 400, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (shape, one, other, cb) => {
          const [short, long] = one < other ? [one, other] : [other, one];
          const stiff = flexure(shape, short, cb);
          const slack = flexure(shape, long, cb);
          return (
            slack.nominalLbIn <= stiff.nominalLbIn * (1 + 2e-3) &&
            stiff.nominalLbIn <= stiff.plasticLbIn + 1e-6
          );
        },
      ),
    );
  });

  it('agrees with a long hand calculation in kips: W8x18, 20 ft unbraced, elastic', () => {
    // Fcr = π²·29000/(240/1.43)² · √(1 + 0.078·0.172/(15.2·7.81)·(240/1.43)²); rts 1.43, ho 7.81 of the manual.
    const slenderness = 240 / 1.43;
    const fcr =
      ((Math.PI ** 2 * 29000) / slenderness ** 2) *
      Math.sqrt(1 + ((0.078 * 0.172) / (15.2 * 7.81)) * slenderness ** 2);
    const hand = (fcr * 15.2) / 1.67;
    expect(flexure('W8x18', 240).allowableLbIn / 1000 / hand).toBeCloseTo(1, 2);
  });

  it('takes a slender flange by F3-2', () => {
    const thin = { ...wideFlange('W8x10'), flangeIn: 0.07, sectionIn3: 4, plasticIn3: 4.6 };
    const result = flexuralStrength({
      shape: thin,
      fyPsi: 50_000,
      unbracedIn: 0,
      momentFactorCb: 1,
      editions,
    });
    expect(result.governs).toBe('flange local buckling');
    const lambda = 3.94 / 0.14;
    const kc = 4 / Math.sqrt((7.89 - 2 * 0.505) / 0.17);
    expect(result.nominalLbIn).toBeCloseTo((0.9 * 29e6 * kc * 4) / lambda ** 2, 3);
  });

  it('gives the moment factor of AISC Manual Table 3-1 (from memory: 1.14 uniform, 1.32 midspan point, unbraced)', () => {
    expect(momentFactor(1, 0.75, 1, 0.75)).toBeCloseTo(1.14, 2);
    expect(momentFactor(1, 0.5, 1, 0.5)).toBeCloseTo(1.32, 2);
    expect(momentFactor(-5, -5, -5, -5)).toBe(1);
    expect(() => momentFactor(0, 0, 0, 0)).toThrow(Refusal);
  });

  it.each([
    ['a negative unbraced length', { unbracedIn: -1 }],
    ['not a number', { unbracedIn: Number.NaN }],
    ['no yield stress', { fyPsi: 0 }],
    ['an infinite moment factor', { momentFactorCb: Infinity }],
    ['a moment factor over 3', { momentFactorCb: 3.1 }],
  ])('refuses %s', (_, wrong) => {
    const right = { shape: wideFlange('W8x18'), fyPsi: 50_000, unbracedIn: 24, momentFactorCb: 1, editions };
    expect(() => flexuralStrength({ ...right, ...wrong })).toThrow(Refusal);
  });

  it('names every symbol of its formulas', () => {
    for (const step of flexure('W8x10', 60).steps) {
      const shown = substitution(step);
      for (const symbol of Object.keys(step.values)) expect(shown.split(/[^\p{L}]+/u)).not.toContain(symbol);
    }
  });
});

describe('web', () => {
  it('takes Ω 1.67 for W12x14 alone at 50 ksi (G2.1 user note, from memory, within this table)', () => {
    const slender = wideFlanges.filter((shape) => shearStrength(shape, 50_000, editions).omega === 1.67);
    expect(slender.map((shape) => shape.shape)).toEqual(['W12x14']);
  });

  it('W8x18 on 3 1/2 in of bearing, worked in kips', () => {
    const web = webAtLoad({
      shape: wideFlange('W8x18'),
      fyPsi: 50_000,
      bearingIn: 3.5,
      fromEndIn: 1.75,
      editions,
    });
    // Yielding 50·0.23·(2.5·0.63 + 3.5)/1.5 = 38.9; crippling 0.4·0.23²·(1 + (4·3.5/8.14 − 0.2)(0.23/0.33)^1.5)·√(29000·50·0.33/0.23)/2 = 28.8.
    expect(web.yieldingLb / 1000).toBeCloseTo(38.91, 2);
    expect(web.cripplingLb / 1000).toBeCloseTo(28.78, 1);
  });

  it('cripples continuously at lb = 0.2 d and is twice as strong away from the end', () => {
    const shape = wideFlange('W12x26');
    const at = (bearingIn: number, fromEndIn: number) =>
      webAtLoad({ shape, fyPsi: 50_000, bearingIn, fromEndIn, editions });
    const edge = 0.2 * shape.depthIn;
    expect(at(edge * (1 + 1e-9), 1).cripplingLb).toBeCloseTo(at(edge, 1).cripplingLb, 2);
    expect(at(edge, 40).cripplingLb).toBeCloseTo(2 * at(edge, 1).cripplingLb, 6);
    expect(at(3, shape.depthIn).yieldingLb).toBeLessThan(at(3, shape.depthIn + 0.01).yieldingLb);
  });

  it('refuses a bearing length of zero and a place outside the beam', () => {
    const shape = wideFlange('W8x18');
    expect(() => webAtLoad({ shape, fyPsi: 50_000, bearingIn: 0, fromEndIn: 1, editions })).toThrow(Refusal);
    expect(() => webAtLoad({ shape, fyPsi: 50_000, bearingIn: 1, fromEndIn: -1, editions })).toThrow(Refusal);
  });
});
