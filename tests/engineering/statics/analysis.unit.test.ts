import { describe, expect, it } from 'vitest';
import {
  analyseBeam,
  extremesOf,
  shearAt,
  valueAt,
  type BeamLoad,
  type BeamModel,
  type BeamSupport,
  type Section,
} from '../../../src/engineering/statics/index.ts';

/** Closed forms of mechanics, with numbers small enough to check by hand: L = 120 in, EI = 1e6 lb-in². */
const pin = (atIn: number, settlementIn = 0): BeamSupport => ({ atIn, kind: 'pin', settlementIn });
const fixed = (atIn: number, settlementIn = 0): BeamSupport => ({ atIn, kind: 'fixed', settlementIn });
const EI = 1e6;
const L = 120;
const model = (supports: readonly BeamSupport[], more: Partial<BeamModel> = {}): BeamModel => ({
  lengthIn: L,
  ei: EI,
  supports,
  ...more,
});
const SIMPLE = model([pin(0), pin(L)]);
const UNIFORM: BeamLoad = { kind: 'uniform', loadLbPerIn: 10 };
const point = (atIn: number, loadLb: number): BeamLoad => ({ kind: 'point', atIn, loadLb });
const couple = (atIn: number, coupleLbIn: number): BeamLoad => ({ kind: 'couple', atIn, coupleLbIn });

function close(actual: number, expected: number): void {
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    1e-9 * Math.max(Math.abs(expected), 1e-3),
  );
}

function section(actual: Section, shear: number, moment: number, slope: number, deflection: number): void {
  close(actual.shearLb, shear);
  close(actual.momentLbIn, moment);
  close(actual.slopeRad, slope);
  close(actual.deflectionIn, deflection);
}

describe('simple span', () => {
  it('under uniform load: wL/2, wL²/8, wL³/24EI, 5wL⁴/384EI', () => {
    const analysis = analyseBeam(SIMPLE, [UNIFORM]);
    expect(analysis.reactions).toEqual([
      { atIn: 0, forceLb: 600, momentLbIn: 0 },
      { atIn: L, forceLb: 600, momentLbIn: 0 },
    ]);
    section(valueAt(analysis, 0), 600, 0, 0.72, 0);
    section(valueAt(analysis, 60), 0, 18000, 0, 27);
    section(valueAt(analysis, L), -600, 0, -0.72, 0);
    section(valueAt(analysis, 30), 300, 13500, 0.495, 19.2375);
    const { shearLb, momentLbIn, slopeRad, deflectionIn } = extremesOf(analysis);
    expect(shearLb).toEqual({ max: { value: 600, atIn: 0 }, min: { value: -600, atIn: L } });
    expect(momentLbIn.max).toEqual({ value: 18000, atIn: 60 });
    close(momentLbIn.min.value, 0);
    close(slopeRad.max.value, 0.72);
    expect(slopeRad.max.atIn).toBe(0);
    close(slopeRad.min.value, -0.72);
    expect(slopeRad.min.atIn).toBe(L);
    close(deflectionIn.max.value, 27);
    close(deflectionIn.max.atIn, 60);
    close(deflectionIn.min.value, 0);
  });

  it('under a point load off centre: Pb/L, Pab/L, largest deflection at √((L²−b²)/3)', () => {
    const analysis = analyseBeam(SIMPLE, [point(80, 300)]);
    close(analysis.reactions[0]!.forceLb, 100);
    close(analysis.reactions[1]!.forceLb, 200);
    const { momentLbIn, deflectionIn } = extremesOf(analysis);
    close(momentLbIn.max.value, 8000);
    expect(momentLbIn.max.atIn).toBe(80);
    const x = Math.sqrt((L * L - 40 * 40) / 3);
    close(deflectionIn.max.atIn, x);
    close(deflectionIn.max.value, (300 * 40 * (L * L - 40 * 40) ** 1.5) / (9 * Math.sqrt(3) * L * EI));
    expect(shearAt(analysis, 80, 'left')).toBeCloseTo(100, 9);
    expect(shearAt(analysis, 80, 'right')).toBeCloseTo(-200, 9);
    expect(shearAt(analysis, 80)).toBe(shearAt(analysis, 80, 'right'));
    expect(shearAt(analysis, 80 + 1e-8, 'left')).toBeCloseTo(100, 9);
    expect(shearAt(analysis, 80 - 1e-8)).toBeCloseTo(-200, 9);
  });

  it('under a clockwise couple: the moment jumps up by it, the right support pushes up', () => {
    const analysis = analyseBeam(SIMPLE, [couple(30, 1200)]);
    close(analysis.reactions[0]!.forceLb, -10);
    close(analysis.reactions[1]!.forceLb, 10);
    close(valueAt(analysis, 30, 'left').momentLbIn, -300);
    close(valueAt(analysis, 30, 'right').momentLbIn, 900);
  });

  it('under couples over its supports: end moments, no fixing moment from a pin', () => {
    const analysis = analyseBeam(SIMPLE, [couple(0, 600), couple(L, 600)]);
    close(analysis.reactions[0]!.forceLb, -10);
    expect(analysis.reactions.map(({ momentLbIn }) => momentLbIn)).toEqual([0, 0]);
    section(valueAt(analysis, 0), -10, 600, 0.012, 0);
    section(valueAt(analysis, L), -10, -600, 0.012, 0);
  });

  it('under a triangle rising to the right: wL/6, wL/3, 0.128WL at L/√3', () => {
    const load: BeamLoad = { kind: 'trapezoidal', fromIn: 0, toIn: L, startLbPerIn: 0, endLbPerIn: 10 };
    const analysis = analyseBeam(SIMPLE, [load]);
    close(analysis.reactions[0]!.forceLb, 200);
    close(analysis.reactions[1]!.forceLb, 400);
    const { momentLbIn, deflectionIn } = extremesOf(analysis);
    close(momentLbIn.max.atIn, L / Math.sqrt(3));
    close(momentLbIn.max.value, (10 * L * L) / (9 * Math.sqrt(3)));
    const s = Math.sqrt(1 - Math.sqrt(8 / 15));
    close(deflectionIn.max.atIn, L * s);
    close(deflectionIn.max.value, ((10 * L ** 4) / (360 * EI)) * s * (3 * s ** 4 - 10 * s * s + 7));
  });

  it('under a triangle: every quantity inside it, not only its peaks', () => {
    const load: BeamLoad = { kind: 'trapezoidal', fromIn: 0, toIn: L, startLbPerIn: 0, endLbPerIn: 10 };
    const analysis = analyseBeam(SIMPLE, [load]);
    // V = wL/6 − wx²/2L, M its integral, EIθ and EIy from y = wx(7L⁴ − 10L²x² + 3x⁴)/360EIL.
    const y = (x: number): number =>
      (10 * x * (7 * L ** 4 - 10 * L * L * x * x + 3 * x ** 4)) / (360 * EI * L);
    const slope = (x: number): number =>
      (10 * (7 * L ** 4 - 30 * L * L * x * x + 15 * x ** 4)) / (360 * EI * L);
    for (const x of [30, 90, L]) {
      const shear = 200 - (10 * x * x) / (2 * L);
      section(valueAt(analysis, x), shear, 200 * x - (10 * x ** 3) / (6 * L), slope(x), y(x));
    }
  });

  it('cuts a trapezoid at whatever lies inside it and adds loads that overlap', () => {
    const analysis = analyseBeam(SIMPLE, [
      { kind: 'trapezoidal', fromIn: 30, toIn: 90, startLbPerIn: 5, endLbPerIn: 20 },
      { kind: 'partial', fromIn: 60, toIn: 120, loadLbPerIn: 4 },
      point(50, 100),
      point(50, 20),
    ]);
    expect(analysis.pieces.map((piece) => [piece.fromIn, piece.lengthIn])).toEqual([
      [0, 30],
      [30, 20],
      [50, 10],
      [60, 30],
      [90, 30],
    ]);
    const loads = analysis.pieces.map((piece) => [piece.loadLbPerIn, piece.loadChangeLbPerIn]);
    [
      [0, 0],
      [5, 5],
      [10, 2.5],
      [16.5, 7.5],
      [4, 0],
    ].forEach(([load, change], index) => {
      close(loads[index]![0]!, load!);
      close(loads[index]![1]!, change!);
    });
    const total = analysis.reactions[0]!.forceLb + analysis.reactions[1]!.forceLb;
    close(total, 750 + 240 + 120);
    // Σ about the left end: trapezoid 300·60 + ½·15·60·70, uniform 240·90, points 120·50.
    close(analysis.reactions[1]!.forceLb, (300 * 60 + 450 * 70 + 240 * 90 + 120 * 50) / L);
  });

  it('bears loads over its supports without bending', () => {
    const analysis = analyseBeam(SIMPLE, [point(0, 70), point(L, 90)]);
    expect(analysis.reactions.map(({ forceLb }) => forceLb)).toEqual([70, 90]);
    section(valueAt(analysis, 60), 0, 0, 0, 0);
  });

  it('lists reactions in the order of the supports given', () => {
    const analysis = analyseBeam(model([pin(L), pin(0)]), [point(30, 400)]);
    expect(analysis.reactions).toEqual([
      { atIn: L, forceLb: 100, momentLbIn: 0 },
      { atIn: 0, forceLb: 300, momentLbIn: 0 },
    ]);
  });

  it('only tilts when a support settles', () => {
    const analysis = analyseBeam(model([pin(0, 0.3), pin(L, 1.5)]), [UNIFORM]);
    section(valueAt(analysis, 60), 0, 18000, 0.01, 27.9);
    section(valueAt(analysis, 0), 600, 0, 0.73, 0.3);
  });
});

describe('overhangs', () => {
  const BOTH = model([pin(20), pin(100)]);

  it('on both sides under uniform load', () => {
    const analysis = analyseBeam(BOTH, [UNIFORM]);
    section(valueAt(analysis, 20, 'left'), -200, -2000, valueAt(analysis, 20).slopeRad, 0);
    section(valueAt(analysis, 60), 0, 6000, 0, (80 * 80 * (5 * 8000 - 6 * 2000)) / (48 * EI));
    close(valueAt(analysis, 0).deflectionIn, valueAt(analysis, L).deflectionIn);
    // Root slope wℓ³/24 − Mℓ/2 turns the tips up, wa⁴/8 bends them down.
    const root = (10 * 80 ** 3) / 24 - (2000 * 80) / 2;
    close(valueAt(analysis, L).deflectionIn, ((10 * 20 ** 4) / 8 - root * 20) / EI);
    close(valueAt(analysis, 0).slopeRad, (root - (10 * 20 ** 3) / 6) / EI);
  });

  it('with loads and couples at the tips', () => {
    const analysis = analyseBeam(BOTH, [point(0, 50), couple(0, 300), point(L, 30), couple(L, 400)]);
    section(valueAt(analysis, 0), -50, 300, valueAt(analysis, 0).slopeRad, valueAt(analysis, 0).deflectionIn);
    close(valueAt(analysis, 20).momentLbIn, -700);
    close(valueAt(analysis, 100).momentLbIn, -1000);
    close(valueAt(analysis, L).momentLbIn, -400);
    close(valueAt(analysis, L).shearLb, 30);
    close(analysis.reactions[0]!.forceLb, 50 - 300 / 80);
    close(analysis.reactions[1]!.forceLb, 30 + 300 / 80);
  });

  it('with couples over the supports they hang on', () => {
    const analysis = analyseBeam(BOTH, [point(0, 50), couple(20, 300), couple(100, 500)]);
    close(valueAt(analysis, 20, 'left').momentLbIn, -1000);
    close(valueAt(analysis, 20, 'right').momentLbIn, -700);
    close(valueAt(analysis, 100, 'left').momentLbIn, -500);
    close(valueAt(analysis, 100, 'right').momentLbIn, 0);
    close(valueAt(analysis, 60).shearLb, 200 / 80);
  });

  it('follow a settling support', () => {
    const analysis = analyseBeam(model([pin(20, 0.4), pin(100)]), []);
    section(valueAt(analysis, 0), 0, 0, -0.005, 0.5);
    section(valueAt(analysis, L), 0, 0, -0.005, -0.1);
  });
});

describe('overhangs of continuous beams', () => {
  it('bear on the first and the last support, nowhere else', () => {
    // Pins at 20, 60 and 100: moments −400 and −600 at the outer two, so 2·M·80 = −(−400 − 600)·40.
    const analysis = analyseBeam(model([pin(20), pin(60), pin(100)]), [point(0, 20), point(L, 30)]);
    close(valueAt(analysis, 20).momentLbIn, -400);
    close(valueAt(analysis, 60, 'left').momentLbIn, 250);
    close(valueAt(analysis, 60, 'right').momentLbIn, 250);
    close(valueAt(analysis, 100).momentLbIn, -600);
    [20 + 650 / 40, -650 / 40 - 850 / 40, 30 + 850 / 40].forEach((force, index) => {
      close(analysis.reactions[index]!.forceLb, force);
    });
  });

  it('carry a taper on to the tip: wa⁴/30 and 11wa⁴/120', () => {
    const taper = (startLbPerIn: number, endLbPerIn: number): BeamLoad => ({
      kind: 'trapezoidal',
      fromIn: 0,
      toIn: L,
      startLbPerIn,
      endLbPerIn,
    });
    const falling = valueAt(analyseBeam(model([fixed(0)]), [taper(10, 0)]), L);
    section(falling, 0, 0, (10 * L ** 3) / 24 / EI, (10 * L ** 4) / 30 / EI);
    const rising = valueAt(analyseBeam(model([fixed(0)]), [taper(0, 10)]), L);
    section(rising, 0, 0, (10 * L ** 3) / 8 / EI, (11 * 10 * L ** 4) / 120 / EI);
    const left = valueAt(analyseBeam(model([fixed(L)]), [taper(0, 10)]), 0);
    section(left, 0, 0, -(10 * L ** 3) / 24 / EI, (10 * L ** 4) / 30 / EI);
  });

  it('with a couple on a fixed support between a span and the overhang', () => {
    const analysis = analyseBeam(model([pin(0), fixed(100)]), [point(L, 50), couple(100, 300)]);
    close(valueAt(analysis, 100).momentLbIn, -1000);
    close(valueAt(analysis, 100, 'left').momentLbIn, 0);
    close(analysis.reactions[1]!.momentLbIn, -1300);
    const mirrored = analyseBeam(model([fixed(20), pin(L)]), [point(0, 50), couple(20, 300)]);
    close(valueAt(mirrored, 20).momentLbIn, 0);
    close(mirrored.reactions[0]!.momentLbIn, 700);
    close(valueAt(mirrored, 0).deflectionIn, (50 * 20 ** 3) / 3 / EI);
  });
});

describe('fixed supports', () => {
  it('a cantilever to the right: PL, PL²/2EI, PL³/3EI, wL⁴/8EI', () => {
    const analysis = analyseBeam(model([fixed(0)]), [UNIFORM, point(L, 6)]);
    const [{ forceLb, momentLbIn }] = analysis.reactions as [(typeof analysis.reactions)[0]];
    close(forceLb, 1206);
    close(momentLbIn, -72720);
    section(valueAt(analysis, 0), 1206, -72720, 0, 0);
    section(
      valueAt(analysis, L),
      6,
      0,
      (6 * L * L) / 2 / EI + (10 * L ** 3) / 6 / EI,
      (6 * L ** 3) / 3 / EI + (10 * L ** 4) / 8 / EI,
    );
  });

  it('a cantilever to the left, its support given way', () => {
    const analysis = analyseBeam(model([fixed(L, 0.25)]), [point(0, 6)]);
    close(analysis.reactions[0]!.momentLbIn, 720);
    close(analysis.reactions[0]!.forceLb, 6);
    section(valueAt(analysis, 0), -6, 0, -(6 * L * L) / 2 / EI, 0.25 + (6 * L ** 3) / 3 / EI);
    section(valueAt(analysis, L), -6, -720, 0, 0.25);
  });

  it('a mast: fixed in the middle, free to both sides, with a couple on the support', () => {
    const analysis = analyseBeam(model([fixed(40)]), [
      point(0, 10),
      point(L, 20),
      couple(40, 55),
      point(40, 7),
    ]);
    close(analysis.reactions[0]!.forceLb, 37);
    close(valueAt(analysis, 40, 'left').momentLbIn, -400);
    close(valueAt(analysis, 40, 'right').momentLbIn, -1600);
    close(analysis.reactions[0]!.momentLbIn, -1600 + 400 - 55);
    close(valueAt(analysis, 0).deflectionIn, (10 * 40 ** 3) / 3 / EI);
    close(valueAt(analysis, L).deflectionIn, (20 * 80 ** 3) / 3 / EI);
  });

  it('fixed at both ends: wL²/12, wL²/24, wL⁴/384EI', () => {
    const analysis = analyseBeam(model([fixed(0), fixed(L)]), [UNIFORM]);
    close(analysis.reactions[0]!.momentLbIn, -12000);
    close(analysis.reactions[1]!.momentLbIn, 12000);
    section(valueAt(analysis, 60), 0, 6000, 0, 5.4);
    section(valueAt(analysis, 0), 600, -12000, 0, 0);
  });

  it('fixed at both ends, one settled: 6EIΔ/L², 12EIΔ/L³', () => {
    const analysis = analyseBeam(model([fixed(0), fixed(L, 0.6)]), []);
    section(valueAt(analysis, 0), 25 / 6, -250, 0, 0);
    section(valueAt(analysis, L), 25 / 6, 250, 0, 0.6);
    close(analysis.reactions[1]!.momentLbIn, -250);
  });

  it('fixed on the right, propped on the left: 3wL/8, wL²/8; a couple at the prop goes half across', () => {
    const analysis = analyseBeam(model([pin(0), fixed(L)]), [UNIFORM]);
    close(analysis.reactions[0]!.forceLb, 450);
    close(analysis.reactions[1]!.momentLbIn, 18000);
    const turned = analyseBeam(model([pin(0), fixed(L)]), [couple(0, 900)]);
    close(valueAt(turned, 0).momentLbIn, 900);
    close(valueAt(turned, L).momentLbIn, -450);
    close(valueAt(turned, 0).slopeRad, (900 * L) / 4 / EI);
  });

  it('fixed between two spans: each side by itself', () => {
    const analysis = analyseBeam(model([pin(0), fixed(60), pin(L)]), [
      { kind: 'partial', fromIn: 0, toIn: 60, loadLbPerIn: 10 },
    ]);
    close(valueAt(analysis, 60, 'left').momentLbIn, -4500);
    close(valueAt(analysis, 60, 'right').momentLbIn, 0);
    close(analysis.reactions[1]!.momentLbIn, 4500);
    close(analysis.reactions[1]!.forceLb, 375);
    section(valueAt(analysis, 90), 0, 0, 0, 0);
  });

  it('fixed with an overhang beyond: the overhang does not reach the span', () => {
    const right = analyseBeam(model([pin(0), fixed(100)]), [point(L, 50)]);
    close(valueAt(right, 100).momentLbIn, -1000);
    close(valueAt(right, 100, 'left').momentLbIn, 0);
    const left = analyseBeam(model([fixed(20), pin(L)]), [point(0, 50)]);
    close(valueAt(left, 20, 'left').momentLbIn, -1000);
    close(valueAt(left, 20).momentLbIn, 0);
    close(left.reactions[0]!.momentLbIn, 1000);
  });
});

describe('continuous beams', () => {
  it('two equal spans: 3/8, 10/8, wl²/8; the larger sag of equals is named on the left', () => {
    const analysis = analyseBeam(model([pin(0), pin(60), pin(L)]), [UNIFORM]);
    [225, 750, 225].forEach((force, index) => {
      close(analysis.reactions[index]!.forceLb, force);
    });
    close(valueAt(analysis, 60).momentLbIn, -4500);
    close(valueAt(analysis, 60).slopeRad, 0);
    const { momentLbIn, deflectionIn } = extremesOf(analysis);
    close(momentLbIn.max.value, (9 * 10 * 3600) / 128);
    close(momentLbIn.max.atIn, 22.5);
    expect(deflectionIn.max.atIn).toBeLessThan(60);
  });

  it('two spans, the middle support settled: three-moment equation', () => {
    // 2M(2ℓ) = −6EI(−Δ/ℓ − Δ/ℓ) → M = 3EIΔ/ℓ² for equal spans ℓ.
    const analysis = analyseBeam(model([pin(0), pin(60, 0.012), pin(L)]), []);
    close(valueAt(analysis, 60).momentLbIn, (3 * EI * 0.012) / 3600);
    section(valueAt(analysis, 60, 'left'), 1 / 6, 10, 0, 0.012);
    close(analysis.reactions[1]!.forceLb, -1 / 3);
  });

  it('a couple over the middle support is shared by the spans', () => {
    const analysis = analyseBeam(model([pin(0), pin(60), pin(L)]), [couple(60, 800)]);
    close(valueAt(analysis, 60, 'left').momentLbIn, -400);
    close(valueAt(analysis, 60, 'right').momentLbIn, 400);
    expect(analysis.reactions[1]!.momentLbIn).toBe(0);
    close(analysis.reactions[1]!.forceLb, 0);
  });

  it('a hinge over the middle support parts the beam', () => {
    const analysis = analyseBeam(model([pin(0), pin(60), pin(L)], { hinges: [60] }), [UNIFORM]);
    [300, 600, 300].forEach((force, index) => {
      close(analysis.reactions[index]!.forceLb, force);
    });
    close(valueAt(analysis, 60).momentLbIn, 0);
    close(valueAt(analysis, 60, 'left').slopeRad, -0.09);
    close(valueAt(analysis, 60, 'right').slopeRad, 0.09);
  });

  it('a hung span: the cantilever arm carries its share and drops, the hinge kinks', () => {
    // Pins at 0 and 60, arm to the hinge at 80, hung span 80 to 120 with 100 lb in its middle.
    const hung = model([pin(0), pin(60), pin(L)], { hinges: [80] });
    const analysis = analyseBeam(hung, [point(100, 100)]);
    close(analysis.reactions[2]!.forceLb, 50);
    close(valueAt(analysis, 60).momentLbIn, -1000);
    close(valueAt(analysis, 80).momentLbIn, 0);
    close(analysis.reactions[0]!.forceLb, -1000 / 60);
    const drop = (50 * 20 * 20 * (60 + 20)) / 3 / EI;
    close(valueAt(analysis, 80).deflectionIn, drop);
    close(valueAt(analysis, 80, 'right').slopeRad, -drop / 40 + (100 * 40 * 40) / 16 / EI);
    close(valueAt(analysis, 80, 'left').slopeRad, (1000 * 60) / 3 / EI + (50 * 20 * 20) / 2 / EI);
  });

  it('a load on the hinge goes to the arm', () => {
    const hung = model([pin(0), pin(60), pin(L)], { hinges: [80] });
    const analysis = analyseBeam(hung, [point(80, 100)]);
    close(analysis.reactions[2]!.forceLb, 0);
    close(valueAt(analysis, 60).momentLbIn, -2000);
    close(valueAt(analysis, 80, 'left').shearLb, 100);
    close(valueAt(analysis, 80, 'right').shearLb, 0);
  });

  it('two cantilevers joined by a hinge share the load', () => {
    const joined = model([fixed(0), fixed(L)], { hinges: [60] });
    const analysis = analyseBeam(joined, [point(60, 100)]);
    close(valueAt(analysis, 0).momentLbIn, -3000);
    close(valueAt(analysis, L).momentLbIn, -3000);
    close(valueAt(analysis, 60).deflectionIn, (50 * 60 ** 3) / 3 / EI);
    const settled = analyseBeam({ ...joined, supports: [fixed(0), fixed(L, 0.6)] }, []);
    close(valueAt(settled, 60).deflectionIn, 0.3);
    close(valueAt(settled, 60).shearLb, (3 * EI * 0.3) / 60 ** 3);
  });
});
