import { describe, expect, it } from 'vitest';
import {
  analyseBeam,
  extremesOf,
  shearAt,
  valueAt,
  type BeamLoad,
} from '../../../src/engineering/statics/index.ts';
import {
  EI,
  L,
  SIMPLE,
  UNIFORM,
  close,
  couple,
  fixed,
  model,
  pin,
  point,
  section,
} from './support/small-beams.ts';

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
