import { describe, expect, it } from 'vitest';
import {
  analyseBeam,
  panelsOf,
  type BeamLoad,
  type BeamModel,
  type BeamSupport,
} from '../../../src/engineering/statics/index.ts';
import { layOutBeam } from '../../../src/engineering/statics/beam-line.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';

const pin = (atIn: number): BeamSupport => ({ atIn, kind: 'pin' });
const fixed = (atIn: number): BeamSupport => ({ atIn, kind: 'fixed' });
const SIMPLE: BeamModel = { lengthIn: 100, supports: [pin(0), pin(100)], ei: 1e6 };

/** 'path: sentence' of the refusal, or 'stands'. */
function answer(model: BeamModel, loads: readonly BeamLoad[] = []): string {
  try {
    analyseBeam(model, loads);
    return 'stands';
  } catch (error) {
    if (error instanceof Refusal) return `${error.path} | ${error.message}`;
    throw error;
  }
}

const beam = (change: Partial<BeamModel>): string => answer({ ...SIMPLE, ...change });
const hinged = (supports: readonly BeamSupport[], ...hinges: number[]): string =>
  answer({ lengthIn: 100, ei: 1e6, supports, hinges });
const load = (given: BeamLoad, change: Partial<BeamModel> = {}): string =>
  answer({ ...SIMPLE, ...change }, [{ kind: 'uniform', loadLbPerIn: 1 }, given]);

describe('beams that are refused', () => {
  it.each([0, -1, NaN, Infinity])('length %d', (lengthIn) => {
    expect(beam({ lengthIn })).toBe('lengthIn | lengthIn must be more than zero.');
  });

  it.each([0, -5, NaN, Infinity])('stiffness %d', (ei) => {
    expect(beam({ ei })).toBe('ei | ei must be more than zero.');
  });

  it('names the support that is off the beam, that is no number, or that stands on another', () => {
    expect(beam({ supports: [pin(0), pin(100.1)] })).toBe(
      'supports.1.atIn | supports.1.atIn is 100.1 in, outside the beam (0 to 100 in).',
    );
    expect(beam({ supports: [pin(-0.1), pin(100)] })).toBe(
      'supports.0.atIn | supports.0.atIn is -0.1 in, outside the beam (0 to 100 in).',
    );
    expect(beam({ supports: [pin(0), pin(NaN)] })).toBe(
      'supports.1.atIn | supports.1.atIn must be a finite number.',
    );
    expect(beam({ supports: [pin(0), pin(40), pin(100), pin(40)] })).toBe(
      'supports.3.atIn | supports.3.atIn is 40 in, where supports.1 already stands.',
    );
    expect(beam({ supports: [pin(0), { ...pin(100), settlementIn: NaN }] })).toBe(
      'supports.1.settlementIn | supports.1.settlementIn must be a finite number.',
    );
  });

  it('takes places within a billionth of the length as one', () => {
    expect(beam({ supports: [pin(0), pin(100 + 0.9e-7)] })).toBe('stands');
    expect(beam({ supports: [pin(-0.9e-7), pin(100)] })).toBe('stands');
    expect(beam({ supports: [pin(0), pin(100 + 1.1e-7)] })).not.toBe('stands');
    expect(beam({ supports: [pin(0), pin(0.9e-7), pin(100)] })).toContain('supports.1.atIn');
    expect(beam({ supports: [pin(0), pin(1.1e-7), pin(100)] })).toBe('stands');
  });

  it('names the hinge that is misplaced', () => {
    const supports = [pin(0), fixed(50), pin(100)];
    expect(hinged(supports, 70, -3)).toBe('hinges.1 | hinges.1 is -3 in, outside the beam (0 to 100 in).');
    expect(hinged(supports, NaN)).toBe('hinges.0 | hinges.0 must be a finite number.');
    const atEnd = 'is at an end of the beam; a hinge lies between the ends.';
    expect(hinged(supports, 0)).toBe(`hinges.0 | hinges.0 ${atEnd}`);
    expect(hinged(supports, 100)).toBe(`hinges.0 | hinges.0 ${atEnd}`);
    expect(hinged(supports, 20, 70, 20)).toBe('hinges.2 | hinges.2 is 20 in, where hinges.0 already is.');
    expect(hinged(supports, 50)).toBe(
      'hinges.0 | hinges.0 is at the fixed support supports.1; place it clearly left or right of it.',
    );
  });
});

describe('arrangements that can move', () => {
  it('can not even be laid out without a support', () => {
    expect(() => layOutBeam({ ...SIMPLE, supports: [] }, [])).toThrow(
      expect.objectContaining({
        path: 'supports',
        message: 'supports: a beam needs two pins or a fixed support to stand.',
      }),
    );
  });

  it.each([
    ['no support', []],
    ['one pin', [pin(50)]],
  ])('%s', (_, supports) => {
    expect(beam({ supports })).toBe(
      'supports | supports: a beam needs two pins or a fixed support to stand.',
    );
  });

  const moves = (from: number, to: number): string =>
    `hinges | hinges: the beam is a mechanism, the part from ${from} to ${to} in can move freely.`;

  it.each<[string, readonly BeamSupport[], readonly number[], string]>([
    ['a hinge in a simple span', [pin(0), pin(100)], [50], moves(50, 100)],
    ['a hinge in an overhang on the right', [pin(0), pin(60)], [80], moves(80, 100)],
    ['a hinge in an overhang on the left', [pin(40), pin(100)], [20], moves(0, 20)],
    ['a hinge at the pin before an overhang', [pin(0), pin(60)], [60], moves(60, 100)],
    ['a hinge at the pin after an overhang', [pin(40), pin(100)], [40], moves(0, 40)],
    ['three hinges in a row', [fixed(0), fixed(100)], [20, 50, 80], moves(50, 80)],
    ['a part on nothing behind a part that moves', [pin(0), fixed(100)], [20, 50], moves(20, 50)],
    ['two parts on one pin each', [pin(10), pin(90)], [50], moves(50, 100)],
    ['hinges given from right to left', [fixed(0), fixed(100)], [80, 50, 20], moves(50, 80)],
  ])('%s', (_, supports, hinges, refusal) => {
    expect(hinged(supports, ...hinges)).toBe(refusal);
  });

  it.each<[string, readonly BeamSupport[], readonly number[]]>([
    ['two spans parted over the middle pin', [pin(0), pin(50), pin(100)], [50]],
    ['a hung span', [pin(0), pin(40), pin(100)], [60]],
    ['a hung span held from the right', [pin(0), pin(60), pin(100)], [40]],
    ['two hinges between fixed ends', [fixed(0), fixed(100)], [30, 70]],
    ['parts on one pin each, held by the last', [pin(10), pin(40), fixed(100)], [30, 60]],
    ['a moving part held by a pin at its hinge', [pin(0), pin(50), pin(90)], [50]],
    ['a part without a pin between held parts', [pin(0), pin(20), pin(80), pin(100)], [30, 70]],
    ['a fixed support alone', [fixed(30)], []],
  ])('%s stands', (_, supports, hinges) => {
    expect(hinged(supports, ...hinges)).toBe('stands');
  });
});

describe('loads that are refused', () => {
  it.each<[BeamLoad, string]>([
    [{ kind: 'uniform', loadLbPerIn: NaN }, 'loads.1.loadLbPerIn'],
    [{ kind: 'partial', fromIn: 0, toIn: 10, loadLbPerIn: Infinity }, 'loads.1.loadLbPerIn'],
    [{ kind: 'trapezoidal', fromIn: 0, toIn: 10, startLbPerIn: NaN, endLbPerIn: 1 }, 'loads.1.startLbPerIn'],
    [{ kind: 'trapezoidal', fromIn: 0, toIn: 10, startLbPerIn: 1, endLbPerIn: NaN }, 'loads.1.endLbPerIn'],
    [{ kind: 'point', atIn: 5, loadLb: NaN }, 'loads.1.loadLb'],
    [{ kind: 'point', atIn: NaN, loadLb: 1 }, 'loads.1.atIn'],
    [{ kind: 'couple', atIn: 5, coupleLbIn: NaN }, 'loads.1.coupleLbIn'],
    [{ kind: 'partial', fromIn: NaN, toIn: 10, loadLbPerIn: 1 }, 'loads.1.fromIn'],
    [{ kind: 'partial', fromIn: 0, toIn: NaN, loadLbPerIn: 1 }, 'loads.1.toIn'],
  ])('%j: not a number', (given, path) => {
    expect(load(given)).toBe(`${path} | ${path} must be a finite number.`);
  });

  it.each<[BeamLoad, string, number]>([
    [{ kind: 'point', atIn: 101, loadLb: 1 }, 'loads.1.atIn', 101],
    [{ kind: 'couple', atIn: -1, coupleLbIn: 1 }, 'loads.1.atIn', -1],
    [{ kind: 'partial', fromIn: -2, toIn: 10, loadLbPerIn: 1 }, 'loads.1.fromIn', -2],
    [{ kind: 'trapezoidal', fromIn: 50, toIn: 103, startLbPerIn: 1, endLbPerIn: 2 }, 'loads.1.toIn', 103],
  ])('%j: off the beam', (given, path, at) => {
    expect(load(given)).toBe(`${path} | ${path} is ${at} in, outside the beam (0 to 100 in).`);
  });

  it.each([
    [60, 40],
    [40, 40],
    [40, 40 + 0.9e-7],
  ])('a stretch from %d to %d', (fromIn, toIn) => {
    const sentence = `loads.1.toIn | loads.1.toIn is ${toIn} in and must lie right of fromIn (${fromIn} in).`;
    expect(load({ kind: 'partial', fromIn, toIn, loadLbPerIn: 1 })).toBe(sentence);
    expect(load({ kind: 'trapezoidal', fromIn, toIn, startLbPerIn: 1, endLbPerIn: 2 })).toBe(sentence);
  });

  it('a couple at a hinge, but not a point load there', () => {
    const change = { supports: [fixed(0), fixed(100)], hinges: [30, 60] };
    expect(load({ kind: 'couple', atIn: 60, coupleLbIn: 5 }, change)).toBe(
      'loads.1.atIn | loads.1.atIn is at hinges.1; place the couple clearly left or right of the hinge.',
    );
    expect(load({ kind: 'couple', atIn: 61, coupleLbIn: 5 }, change)).toBe('stands');
    expect(load({ kind: 'point', atIn: 60, loadLb: 5 }, change)).toBe('stands');
  });

  it('what overflows, in the beam or in a reaction alone', () => {
    const huge = 1.7e308;
    const tooLarge = 'loads | loads: too large, or the beam too soft, to compute a finite result.';
    expect(load({ kind: 'point', atIn: 100, loadLb: huge })).toBe('stands');
    expect(
      answer(SIMPLE, [
        { kind: 'point', atIn: 100, loadLb: huge },
        { kind: 'point', atIn: 100, loadLb: huge },
      ]),
    ).toBe(tooLarge);
    expect(load({ kind: 'point', atIn: 50, loadLb: 1e300 }, { lengthIn: 100, ei: 1e-10 })).toBe(tooLarge);
    expect(load({ kind: 'point', atIn: 50, loadLb: 1e308 }, { lengthIn: 100, ei: 1e-10 })).toBe(
      'loads | loads: too large, or the beam too soft, to compute a finite result.',
    );
  });
});

describe('panels', () => {
  it('are the spans and overhangs from left to right, whatever the order of the supports', () => {
    expect(panelsOf({ lengthIn: 100, ei: 1, supports: [pin(80), pin(10), pin(40)] })).toEqual([
      { kind: 'overhang', fromIn: 0, toIn: 10 },
      { kind: 'span', fromIn: 10, toIn: 40 },
      { kind: 'span', fromIn: 40, toIn: 80 },
      { kind: 'overhang', fromIn: 80, toIn: 100 },
    ]);
  });

  it('leave out overhangs of no length', () => {
    expect(panelsOf(SIMPLE)).toEqual([{ kind: 'span', fromIn: 0, toIn: 100 }]);
    expect(panelsOf({ lengthIn: 100, ei: 1, supports: [fixed(100)] })).toEqual([
      { kind: 'overhang', fromIn: 0, toIn: 100 },
    ]);
  });
});
