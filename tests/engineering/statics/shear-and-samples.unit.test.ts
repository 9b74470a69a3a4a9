import { beforeAll, describe, expect, it } from 'vitest';
import {
  analyseBeam,
  extremesOf,
  loadsForShear,
  samplesOf,
  shearNearSupports,
  valueAt,
  type BeamAnalysis,
  type BeamLoad,
  type BeamModel,
  type BeamSupport,
  type Sample,
} from '../../../src/engineering/statics/index.ts';

const pin = (atIn: number): BeamSupport => ({ atIn, kind: 'pin' });
const SIMPLE: BeamModel = { lengthIn: 120, supports: [pin(0), pin(120)], ei: 1e6 };
const UNIFORM: BeamLoad = { kind: 'uniform', loadLbPerIn: 10 };

describe('shear near supports', () => {
  it('of a simple span: w(L/2 − d)', () => {
    const [left, right, ...more] = shearNearSupports(analyseBeam(SIMPLE, [UNIFORM]), 12);
    expect(left).toEqual({
      supportIndex: 0,
      side: 'right',
      atIn: 0,
      atSupportLb: 600,
      beyondDistanceLb: 480,
    });
    expect(right).toEqual({
      supportIndex: 1,
      side: 'left',
      atIn: 120,
      atSupportLb: -600,
      beyondDistanceLb: -480,
    });
    expect(more).toEqual([]);
  });

  it('counts point loads within the distance, and tapering loads by what lies there', () => {
    const analysis = analyseBeam(SIMPLE, [
      { kind: 'point', atIn: 6, loadLb: 400 },
      { kind: 'trapezoidal', fromIn: 0, toIn: 60, startLbPerIn: 20, endLbPerIn: 8 },
    ]);
    const [left] = shearNearSupports(analysis, 10);
    // Intensity 20 at the support, 18 at 10 in.
    expect(left!.atSupportLb - left!.beyondDistanceLb).toBeCloseTo(190, 9);
    expect(left!.atSupportLb).toBeCloseTo(analysis.reactions[0]!.forceLb, 9);
  });

  it('looks to both sides of an inner support and no farther than the next support or the end', () => {
    const model: BeamModel = { ...SIMPLE, supports: [pin(110), pin(10), pin(90)] };
    const analysis = analyseBeam(model, [UNIFORM]);
    const shears = shearNearSupports(analysis, 30);
    expect(shears.map(({ supportIndex, side, atIn }) => [supportIndex, side, atIn])).toEqual([
      [0, 'left', 110],
      [0, 'right', 110],
      [1, 'left', 10],
      [1, 'right', 10],
      [2, 'left', 90],
      [2, 'right', 90],
    ]);
    [-200, 100, -100, 300, -300, 200].forEach((near, index) => {
      const { atSupportLb, beyondDistanceLb } = shears[index]!;
      expect(atSupportLb - beyondDistanceLb).toBeCloseTo(near, 9);
    });
    expect(shears[5]!.atSupportLb).toBe(valueAt(analysis, 90).shearLb);
    expect(shears[4]!.atSupportLb).toBe(valueAt(analysis, 90, 'left').shearLb);
  });

  it('takes a distance of nothing, refuses less', () => {
    const analysis = analyseBeam(SIMPLE, [UNIFORM]);
    expect(shearNearSupports(analysis, 0)[0]!.beyondDistanceLb).toBe(600);
    expect(() => shearNearSupports(analysis, -1)).toThrow("distanceIn can't be negative.");
  });
});

describe('loads that count for shear, NDS §3.4.3.1', () => {
  it('cuts distributed loads within d of the faces', () => {
    const model: BeamModel = { ...SIMPLE, supports: [pin(100), pin(0)] };
    expect(loadsForShear(model, [UNIFORM], 10, 2)).toEqual([
      { kind: 'partial', fromIn: 12, toIn: 88, loadLbPerIn: 10 },
      { kind: 'partial', fromIn: 112, toIn: 120, loadLbPerIn: 10 },
    ]);
    const taper: BeamLoad = { kind: 'trapezoidal', fromIn: 0, toIn: 100, startLbPerIn: 0, endLbPerIn: 50 };
    expect(loadsForShear(model, [taper], 20)).toEqual([
      { kind: 'trapezoidal', fromIn: 20, toIn: 80, startLbPerIn: 10, endLbPerIn: 40 },
    ]);
    const near: BeamLoad = { kind: 'partial', fromIn: 0, toIn: 10, loadLbPerIn: 5 };
    expect(loadsForShear(model, [near], 10)).toEqual([]);
    expect(loadsForShear(model, [near], 9)).toEqual([{ ...near, fromIn: 9 }]);
  });

  it('leaves nothing of a span shorter than the two distances', () => {
    const model: BeamModel = { ...SIMPLE, supports: [pin(0), pin(30), pin(120)] };
    expect(loadsForShear(model, [UNIFORM], 15)).toEqual([
      { kind: 'partial', fromIn: 45, toIn: 105, loadLbPerIn: 10 },
    ]);
  });

  it('counts a point load within d by x/d from the face, and couples in full', () => {
    const at = (atIn: number): BeamLoad => ({ kind: 'point', atIn, loadLb: 80 });
    const reduced = (atIn: number): readonly BeamLoad[] => loadsForShear(SIMPLE, [at(atIn)], 10, 2);
    expect(reduced(60)).toEqual([at(60)]);
    expect(reduced(12)).toEqual([at(12)]);
    expect(reduced(7)).toEqual([{ kind: 'point', atIn: 7, loadLb: 40 }]);
    expect(reduced(117)).toEqual([{ kind: 'point', atIn: 117, loadLb: 8 }]);
    expect(reduced(2)).toEqual([]);
    expect(reduced(1)).toEqual([]);
    const couple: BeamLoad = { kind: 'couple', atIn: 3, coupleLbIn: 9 };
    expect(loadsForShear(SIMPLE, [couple], 10)).toEqual([couple]);
  });

  it('gives w(L/2 − d) for a simple span, as the shear beyond the distance does', () => {
    const analysis = analyseBeam(SIMPLE, loadsForShear(SIMPLE, [UNIFORM], 12));
    expect(extremesOf(analysis).shearLb.max.value).toBeCloseTo(480, 9);
  });

  it('refuses a depth of nothing and a bearing less than nothing', () => {
    expect(() => loadsForShear(SIMPLE, [], 0)).toThrow('distanceIn must be more than zero.');
    expect(() => loadsForShear(SIMPLE, [], 1, -1)).toThrow("halfBearingIn can't be negative.");
  });
});

describe('points of the diagrams', () => {
  let analysis: BeamAnalysis;
  let samples: readonly Sample[];
  beforeAll(() => {
    analysis = analyseBeam(SIMPLE, [UNIFORM, { kind: 'point', atIn: 30, loadLb: 400 }]);
    samples = samplesOf(analysis, 4);
  });

  it('run from end to end, twice at a jump, with every peak and every division', () => {
    const places = samples.map(({ atIn }) => atIn);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    const { shearLb, momentLbIn, deflectionIn } = extremesOf(analysis);
    const zeroShear = momentLbIn.max.atIn;
    expect(zeroShear).toBe(50);
    expect(places).toEqual([0, 30, 30, 50, deflectionIn.max.atIn, 60, 90, 120]);
    expect(samples[0]!.shearLb).toBe(shearLb.max.value);
    expect(samples[1]!.shearLb - samples[2]!.shearLb).toBeCloseTo(400, 9);
    expect(samples[3]!.momentLbIn).toBeCloseTo(momentLbIn.max.value, 9);
    expect(samples[4]!.deflectionIn).toBeCloseTo(deflectionIn.max.value, 12);
  });

  it('carry exact values', () => {
    for (const { atIn, ...section } of samples.slice(3)) {
      const exact = valueAt(analysis, atIn, 'left');
      expect(section.momentLbIn).toBeCloseTo(exact.momentLbIn, 8);
      expect(section.slopeRad).toBeCloseTo(exact.slopeRad, 12);
    }
  });

  it('hold the places where the moment and the load change sign', () => {
    const overhang = analyseBeam({ ...SIMPLE, supports: [pin(0), pin(80)] }, [
      { kind: 'trapezoidal', fromIn: 0, toIn: 120, startLbPerIn: 10, endLbPerIn: -2 },
      { kind: 'point', atIn: 120, loadLb: 100 },
    ]);
    const places = samplesOf(overhang, 1);
    expect(places.some(({ atIn }) => Math.abs(atIn - 100) < 1e-9)).toBe(true);
    const inside = places.filter(({ atIn }) => atIn > 1 && atIn < 79);
    expect(inside.some(({ momentLbIn }) => Math.abs(momentLbIn) < 1e-6)).toBe(true);
    expect(inside.some(({ slopeRad }) => Math.abs(slopeRad) < 1e-12)).toBe(true);
  });

  it('may be as few as the ends and the peaks', () => {
    const places = samplesOf(analyseBeam(SIMPLE, [UNIFORM]), 1).map(({ atIn }) => Math.round(atIn));
    expect(places).toEqual([0, 60, 120]);
  });

  it.each([0, -1, 1.5, NaN])('refuse %d divisions', (evenly) => {
    expect(() => samplesOf(analysis, evenly)).toThrow(
      expect.objectContaining({ path: 'evenly', message: 'evenly must be a whole number of 1 or more.' }),
    );
  });
});
