import { describe, expect, it } from 'vitest';
import {
  checkLateralDeflection,
  checkTensionBending,
  lateralLoadLbPerIn,
  lateralMomentLbIn,
  longestJoistSpan,
  ORDINARY_CONDITIONS,
  type TensionBendingInput,
} from '../../../src/engineering/wood/index.ts';
import { glulam, lvl, sawn, sheet } from './wood-fixtures.ts';

describe('the longest span of a joist', () => {
  const input = {
    member: sawn('DF-L', 'No.2', '2x10'),
    conditions: ORDINARY_CONDITIONS,
    spacingIn: 16,
    livePsf: 40,
    deadPsf: 10,
    loadDuration: 1,
    liveDeflectionRatio: 360,
  };

  it('is the shortest by bending, shear and deflection', () => {
    const span = longestJoistSpan(input);
    const w = (50 * 16) / 144;
    expect(span.bendingIn).toBeCloseTo(Math.sqrt((8 * 990 * (1.5 * 9.25 ** 2)) / 6 / w), 9);
    expect(span.shearIn).toBeCloseTo((2 * (2 / 3) * 180 * 13.875) / w + 18.5, 9);
    const inertia = (1.5 * 9.25 ** 3) / 12;
    expect(span.deflectionIn).toBeCloseTo(
      Math.cbrt((384 * 1.6e6 * inertia) / (5 * ((40 * 16) / 144) * 360)),
      9,
    );
    expect(span).toMatchObject({ governedBy: 'bending', spanIn: span.bendingIn });
  });

  it('names what governs', () => {
    expect(longestJoistSpan({ ...input, deadPsf: 0, liveDeflectionRatio: 1000 })).toMatchObject({
      governedBy: 'deflection',
    });
    // Shear can govern only where Fb′ is more than 8 Fv′, as in composites: the load within d is left out.
    const short = longestJoistSpan({ ...input, member: lvl(9.5, 1), livePsf: 3000, deadPsf: 0 });
    expect(short.governedBy).toBe('shear');
    expect(short.spanIn).toBe(short.shearIn);
  });

  it('knows the depth factor of composites', () => {
    const deep = longestJoistSpan({ ...input, member: lvl(16, 1) });
    expect(deep.bendingIn).toBeCloseTo(
      Math.sqrt((8 * 2600 * 0.75 ** 0.136 * (1.75 * 256)) / 6 / ((50 * 16) / 144)),
      9,
    );
  });

  it.each([
    ['spacingIn', { spacingIn: 0 }],
    ['livePsf', { livePsf: 0 }],
    ['deadPsf', { deadPsf: -1 }],
    ['liveDeflectionRatio', { liveDeflectionRatio: 0 }],
    ['loadDuration', { loadDuration: 0.5 }],
    ['conditions.temperatureF', { conditions: { ...ORDINARY_CONDITIONS, temperatureF: 900 } }],
    ['member', { member: glulam('24F-V4', 5.125, 12) }],
  ])('is refused at %s', (path, change) => {
    expect(() => longestJoistSpan({ ...input, ...change })).toThrow(expect.objectContaining({ path }));
  });

  it('says why glulam is refused', () => {
    expect(() => longestJoistSpan({ ...input, member: glulam('24F-V4', 5.125, 12) })).toThrow(
      'The volume factor of glulam needs the span; check it as a beam.',
    );
  });
});

describe('wind on kings', () => {
  it('is a line load and a moment', () => {
    expect(lateralLoadLbPerIn(20, 72)).toBe(10);
    expect(lateralMomentLbIn(10, 96)).toBe(11_520);
    expect(() => lateralLoadLbPerIn(-1, 72)).toThrow(expect.objectContaining({ path: 'pressurePsf' }));
    expect(() => lateralLoadLbPerIn(20, NaN)).toThrow(expect.objectContaining({ path: 'tributaryWidthIn' }));
    expect(() => lateralMomentLbIn(-1, 96)).toThrow(expect.objectContaining({ path: 'loadLbPerIn' }));
    expect(() => lateralMomentLbIn(10, 0)).toThrow(expect.objectContaining({ path: 'heightIn' }));
  });

  const input = {
    id: 'kings.sway',
    edition: '2018',
    member: sawn('SPF', 'No.2', '2x6', 2),
    loadLbPerIn: 5,
    heightIn: 96,
    ratio: 240,
  } as const;

  it('bends them sideways', () => {
    const check = checkLateralDeflection(input);
    expect(check.demand.value).toBeCloseTo((5 * 5 * 96 ** 4) / (384 * 1.4e6 * ((3 * 5.5 ** 3) / 12)), 12);
    expect(check.capacity.value).toBeCloseTo(0.4, 12);
    expect(check.governing).toBeUndefined();
    const conditions = { ...ORDINARY_CONDITIONS, wet: true };
    expect(checkLateralDeflection({ ...input, conditions, governing: 'W' })).toMatchObject({
      governing: 'W',
    });
    expect(checkLateralDeflection({ ...input, conditions }).demand.value).toBeCloseTo(
      check.demand.value / 0.9,
      12,
    );
    expect(sheet([check])).toMatchSnapshot();
  });

  it.each([
    ['loadLbPerIn', { loadLbPerIn: -1 }],
    ['heightIn', { heightIn: 0 }],
    ['ratio', { ratio: 0 }],
    ['conditions.temperatureF', { conditions: { ...ORDINARY_CONDITIONS, temperatureF: 900 } }],
  ])('is refused at %s', (path, change) => {
    expect(() => checkLateralDeflection({ ...input, ...change })).toThrow(expect.objectContaining({ path }));
  });
});

describe('tension with bending', () => {
  const input: TensionBendingInput = {
    id: 'tie',
    edition: '2018',
    member: sawn('DF-L', 'No.2', '2x8'),
    loadDuration: 1.15,
    tensionLb: 2000,
    momentLbIn: 6000,
    unbracedIn: 0,
    spanIn: 144,
  };

  it('adds up on the stretched edge and takes off on the other', () => {
    const [stretched, compressed] = checkTensionBending(input);
    const ft = 2000 / 10.875;
    const fb = 6000 / ((1.5 * 7.25 ** 2) / 6);
    const bending = 900 * 1.15 * 1.2;
    expect(stretched!.ratio).toBeCloseTo(ft / (575 * 1.15 * 1.2) + fb / bending, 12);
    expect(compressed!.ratio).toBeCloseTo((fb - ft) / bending, 12);
    expect(sheet([stretched!, compressed!])).toMatchSnapshot();
  });

  it('leaves CL out of the stretched and CV out of the compressed edge', () => {
    const deep = { ...input, member: lvl(24, 2), unbracedIn: 24, momentLbIn: 200_000, governing: 'D' };
    const [stretched, compressed] = checkTensionBending(deep);
    expect(stretched!.governing).toBe('D');
    expect(compressed!.governing).toBe('D');
    expect(stretched!.steps[0]!.values['Fb*']!.value).toBeCloseTo(2600 * 1.15 * 0.5 ** 0.136, 9);
    expect(compressed!.steps[0]!.values['Fb**']!.value).toBeGreaterThan(2600 * 1.15 * 0.5 ** 0.136);
    expect(compressed!.steps[0]!.values['Fb**']!.value).toBeLessThan(2600 * 1.15);
    // Shallow: CV above 1 counts once, in both.
    const [shallow] = checkTensionBending({ ...deep, member: lvl(6, 2) });
    expect(shallow!.steps[0]!.values['Fb*']!.value).toBeCloseTo(2600 * 1.15 * 2 ** 0.136, 9);
  });

  it('takes glulam by its length', () => {
    const [stretched] = checkTensionBending({ ...input, member: glulam('24F-V4', 6.75, 24), spanIn: 360 });
    expect(stretched!.steps[0]!.values['Fb*']!.value).toBeCloseTo(
      2400 * 1.15 * ((21 / 30) * 0.5 * (5.125 / 6.75)) ** 0.1,
      9,
    );
  });

  it('takes its load case and its surroundings', () => {
    const wet = { ...ORDINARY_CONDITIONS, wet: true };
    const at = (change: Partial<TensionBendingInput>) =>
      checkTensionBending({ ...input, unbracedIn: 144, ...change })[1]!.steps[0]!.values['Fb**']!.value;
    expect(at({ loadCase: 'point at centre, held there' })).toBeGreaterThan(at({}));
    expect(at({ conditions: wet })).toBeLessThan(at({}));
  });

  it.each([
    ['tie.tensionLb', { tensionLb: -1 }],
    ['tie.momentLbIn', { momentLbIn: NaN }],
    ['tie.loadDuration', { loadDuration: 9 }],
    ['unbracedIn', { unbracedIn: -1 }],
    ['conditions.temperatureF', { conditions: { ...ORDINARY_CONDITIONS, temperatureF: 900 } }],
  ])('is refused at %s', (path, change) => {
    expect(() => checkTensionBending({ ...input, ...change })).toThrow(expect.objectContaining({ path }));
  });
});
