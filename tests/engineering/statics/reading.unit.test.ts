import { beforeAll, describe, expect, it } from 'vitest';
import {
  analyseBeam,
  extremesOf,
  forceExtremesOf,
  shearAt,
  valueAt,
  type BeamAnalysis,
  type BeamLoad,
  type BeamModel,
  type BeamSupport,
} from '../../../src/engineering/statics/index.ts';

const L = 120;
const pin = (atIn: number): BeamSupport => ({ atIn, kind: 'pin' });
const model = (supports: readonly BeamSupport[]): BeamModel => ({ lengthIn: L, ei: 1e6, supports });
const SIMPLE = model([pin(0), pin(L)]);
const UNIFORM: BeamLoad = { kind: 'uniform', loadLbPerIn: 10 };
const point = (atIn: number, loadLb: number): BeamLoad => ({ kind: 'point', atIn, loadLb });

function close(actual: number, expected: number): void {
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    1e-9 * Math.max(Math.abs(expected), 1e-3),
  );
}

describe('reading a result', () => {
  let analysis: BeamAnalysis;
  beforeAll(() => {
    analysis = analyseBeam(SIMPLE, [UNIFORM, point(60, 120)]);
  });

  it('refuses places off the beam', () => {
    expect(() => valueAt(analysis, -0.1)).toThrow('atIn is -0.1 in, outside the beam (0 to 120 in).');
    expect(() => shearAt(analysis, 121)).toThrow('atIn is 121 in, outside the beam (0 to 120 in).');
  });

  it('takes both sides of an end for the inside, and rounding beyond it for the end', () => {
    expect(valueAt(analysis, 0, 'left')).toEqual(valueAt(analysis, 0));
    expect(valueAt(analysis, L, 'right')).toEqual(valueAt(analysis, L, 'left'));
    expect(valueAt(analysis, L + 1e-8)).toEqual(valueAt(analysis, L));
    expect(valueAt(analysis, -1e-8)).toEqual(valueAt(analysis, 0));
  });

  it('finds the extremes of a stretch from its inside', () => {
    const left = extremesOf(analysis, 0, 60).shearLb;
    expect(left).toEqual({ max: { value: 660, atIn: 0 }, min: { value: 60, atIn: 60 } });
    const right = extremesOf(analysis, 60).shearLb;
    expect(right).toEqual({ max: { value: -60, atIn: 60 }, min: { value: -660, atIn: L } });
    const inner = extremesOf(analysis, 20, 30);
    expect(inner.shearLb.max).toEqual({ value: 460, atIn: 20 });
    close(inner.momentLbIn.max.value, 660 * 30 - 4500);
    close(inner.momentLbIn.max.atIn, 30);
    close(inner.deflectionIn.min.value, valueAt(analysis, 20).deflectionIn);
    expect(extremesOf(analysis, -5, 500)).toEqual(extremesOf(analysis));
  });

  it.each([
    [50, 50],
    [60, 20],
    [130, 140],
    [0, 0.9e-7],
  ])('refuses the empty stretch %d to %d', (from, to) => {
    expect(() => extremesOf(analysis, from, to)).toThrow(
      expect.objectContaining({ path: 'toIn', message: 'toIn must lie right of fromIn on the beam.' }),
    );
  });

  it('finds shear and moment alone as it finds them with the rest', () => {
    const { shearLb, momentLbIn } = extremesOf(analysis);
    expect(forceExtremesOf(analysis)).toEqual({ shearLb, momentLbIn });
  });

  it('names the leftmost of equal lows, and a lower one farther right', () => {
    const three = model([pin(0), pin(40), pin(80), pin(L)]);
    close(extremesOf(analyseBeam(three, [UNIFORM])).momentLbIn.min.atIn, 40);
    const more = analyseBeam(three, [UNIFORM, point(100, 500)]);
    close(extremesOf(more).momentLbIn.min.atIn, 80);
  });

  it('finds the lowest points too: uplift turns everything over', () => {
    const up = extremesOf(analyseBeam(SIMPLE, [{ kind: 'uniform', loadLbPerIn: -10 }]));
    expect(up.momentLbIn.min).toEqual({ value: -18000, atIn: 60 });
    close(up.deflectionIn.min.value, -27);
    close(up.deflectionIn.min.atIn, 60);
  });
});
