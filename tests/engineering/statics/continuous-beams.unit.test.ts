import { describe, expect, it } from 'vitest';
import { analyseBeam, extremesOf, valueAt, type BeamLoad } from '../../../src/engineering/statics/index.ts';
import { EI, L, UNIFORM, close, couple, fixed, model, pin, point, section } from './support/small-beams.ts';

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
