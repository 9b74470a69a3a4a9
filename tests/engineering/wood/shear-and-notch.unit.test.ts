import { describe, expect, it } from 'vitest';
import {
  checkWoodBeam,
  deepestEndNotchIn,
  judgeWoodBeam,
  type Notch,
  notchedShearLb,
  notchLimitSection,
  shearStressPsi,
} from '../../../src/engineering/wood/index.ts';
import { glulam, header, lvl, sawn } from './wood-fixtures.ts';

const END: Notch = { location: 'end', edge: 'tension', depthIn: 2, reachIn: 0 };

describe('shear', () => {
  it('is three halves of the mean', () => {
    expect(shearStressPsi(1000, sawn('DF-L', 'No.2', '2x10'))).toBeCloseTo(1500 / 13.875, 12);
  });
});

describe('a notch', () => {
  it('may be a quarter deep in sawn lumber, less below in glued wood', () => {
    const sawnBeam = sawn('DF-L', 'No.2', '4x12');
    expect(deepestEndNotchIn(sawnBeam, 'tension')).toBe(11.25 / 4);
    expect(deepestEndNotchIn(sawnBeam, 'compression')).toBe(11.25 / 4);
    expect(deepestEndNotchIn(glulam('24F-V4', 5.125, 24), 'tension')).toBeCloseTo(2.4, 12);
    expect(deepestEndNotchIn(glulam('24F-V4', 5.125, 36), 'tension')).toBe(3);
    expect(deepestEndNotchIn(glulam('24F-V4', 5.125, 24), 'compression')).toBeCloseTo(9.6, 12);
    expect(deepestEndNotchIn(lvl(24, 2), 'tension')).toBeCloseTo(2.4, 12);
    expect(deepestEndNotchIn(lvl(40, 2), 'tension')).toBeCloseTo(4, 12);
    expect(deepestEndNotchIn(lvl(24, 2), 'compression')).toBeCloseTo(9.6, 12);
    expect(notchLimitSection(sawnBeam)).toBe('4.4.3');
    expect(notchLimitSection(sawn('SP', 'No.2', '6x12'))).toBe('4.4.3');
    expect(notchLimitSection(glulam('24F-V4', 5.125, 24))).toBe('5.4.5');
    expect(notchLimitSection(lvl(24, 2))).toBe('8.4.1');
  });

  it('below cuts the shear by the square of what is left (Eq. 3.4-3)', () => {
    const member = sawn('DF-L', 'No.2', '4x12');
    expect(notchedShearLb(member, 180, END)).toBeCloseTo((2 / 3) * 180 * 3.5 * 9.25 * (9.25 / 11.25) ** 2, 9);
  });

  it('of glulam counts 0.72 of the shear value (NDS 5.3.10), which its sheet says', () => {
    const member = glulam('24F-V4', 5.125, 24);
    const allowed = (2 / 3) * 0.72 * 265 * 5.125 * 22 * (22 / 24) ** 2;
    expect(notchedShearLb(member, 265, END)).toBeCloseTo(allowed, 6);
    const checks = checkWoodBeam({ ...header(member), notch: END });
    const check = checks.find(({ id }) => id === 'beam.notchShear')!;
    expect(check.steps.at(-1)!.formula).toBe('Vr′ = (2/3 · Fv′ · Cvr · b · dn) · (dn/d)²');
    expect(check.steps.at(-1)!.values.Cvr?.value).toBe(0.72);
    // Whole, the value is not reduced.
    expect(checks.find(({ id }) => id === 'beam.shear')!.capacity.value).toBe(265);
  });

  it('above cuts it by its reach, up to what is left of the depth (Eq. 3.4-5)', () => {
    const member = sawn('DF-L', 'No.2', '4x12');
    const top = (reachIn: number) => notchedShearLb(member, 180, { ...END, edge: 'compression', reachIn });
    const unit = (2 / 3) * 180 * 3.5;
    expect(top(0)).toBeCloseTo(unit * 11.25, 9);
    expect(top(4)).toBeCloseTo(unit * (11.25 - (2 / 9.25) * 4), 9);
    // At e = dn both forms give dn; beyond, it stays there.
    expect(top(9.25)).toBeCloseTo(unit * 9.25, 9);
    expect(top(20)).toBeCloseTo(unit * 9.25, 9);
  });

  it('is judged by the whole shear at the support', () => {
    const checks = checkWoodBeam({ ...header(sawn('DF-L', 'No.2', '4x12')), notch: END });
    const shear = checks.find((check) => check.id === 'beam.notchShear')!;
    expect(shear.demand.value).toBeCloseTo(2400, 9);
    expect(shear.governing).toBe('D + L');
    expect(checks.find((check) => check.id === 'beam.notchDepth')!.passes).toBe(true);
    const deep = judgeWoodBeam({
      ...header(sawn('DF-L', 'No.2', '4x12'), 48),
      notch: { ...END, depthIn: 3 },
    });
    expect(deep.passes).toBe(false);
    expect(deep.governedBy).toBe('beam.notchDepth');
  });

  it('takes the reduced shear where no other is given', () => {
    const base = header(sawn('DF-L', 'No.2', '4x12'));
    const combinations = base.combinations.map(
      ({ name, loadDuration, momentLbIn, shearLb, reactionsLb }) => ({
        name,
        loadDuration,
        momentLbIn,
        shearLb,
        reactionsLb,
      }),
    );
    const state = judgeWoodBeam({ ...base, combinations, notch: END }).states.find(
      (found) => found.kind === 'notch shear',
    )!;
    expect(state.demand).toBeCloseTo(50 * (48 - 11.25), 9);
  });

  it.each<[Partial<Notch>, string, string]>([
    [
      { location: 'middle third' },
      'notch.location',
      'A beam may not be notched in the middle third of its span (NDS 3.2.3, 4.4.3).',
    ],
    [
      { location: 'outer third' },
      'notch.location',
      'Only a notch at an end, over the bearing, is calculated; replace or reinforce a beam cut in its span.',
    ],
    [{ depthIn: 0 }, 'notch.depthIn', 'The notch must be deeper than nothing and shallower than the beam.'],
    [
      { depthIn: 11.25 },
      'notch.depthIn',
      'The notch must be deeper than nothing and shallower than the beam.',
    ],
    [{ depthIn: NaN }, 'notch.depthIn', 'The notch must be deeper than nothing and shallower than the beam.'],
    [{ reachIn: -1 }, 'notch.reachIn', 'The notch reaches from the support into the span by zero or more.'],
    [
      { reachIn: Infinity },
      'notch.reachIn',
      'The notch reaches from the support into the span by zero or more.',
    ],
  ])('is refused with %j', (change, path, message) => {
    const input = { ...header(sawn('DF-L', 'No.2', '4x12')), notch: { ...END, ...change } };
    expect(() => judgeWoodBeam(input)).toThrow(expect.objectContaining({ path, message }));
  });
});
