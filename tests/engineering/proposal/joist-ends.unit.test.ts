import { describe, expect, it } from 'vitest';
import { demoBeam, demoCriteria, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import { calculateBeam } from '../../../src/engineering/proposal/beam.ts';
import type { Survey } from '../../../src/engineering/proposal/survey.ts';
import type { Quantity } from '../../../src/engineering/trace/index.ts';

const value = (outputs: Readonly<Record<string, Quantity | string>>, name: string) =>
  (outputs[name] as Quantity | undefined)?.value;
const tied: Survey = {
  ...demoSurvey,
  strips: demoSurvey.strips.map((strip) => (strip.id === 'attic' ? { ...strip, tiesRafters: true } : strip)),
};

describe('what the ends of joists ask', () => {
  it('thrust of the rafters across a flush beam, by hand: H = w L² / 8h', () => {
    const { outputs, notices, steps } = calculateBeam(tied, demoCriteria, demoBeam);
    // 8 in 12, 26 ft: h 8.667 ft. D 15 psf on the slope, snow 0.7 · 1.1 · 30 = 23.1 psf.
    const plan = 15 * Math.hypot(1, 8 / 12) + 23.1;
    const byHand = (plan * 26 ** 2) / (8 * (13 * (8 / 12)));
    expect(value(outputs, 'thrust across the beam')).toBeCloseTo(byHand, 6);
    expect(value(outputs, 'thrust across the beam, each joist')).toBeCloseTo((byHand * 16) / 12, 6);
    expect(notices.find((one) => one.id === 'beam.tie-thrust')?.severity).toBe('caution');
    expect(steps.some((step) => step.id === 'tie.H0')).toBe(true);
  });

  it('no thrust where the joists stay whole, or do not tie; said where the roof is not described', () => {
    const thrust = 'thrust across the beam';
    const whole = calculateBeam(tied, demoCriteria, { ...demoBeam, placement: 'dropped' });
    expect(value(whole.outputs, thrust)).toBeUndefined();
    expect(value(calculateBeam(demoSurvey, demoCriteria, demoBeam).outputs, thrust)).toBeUndefined();
    const { roof: _roof, ...roofless } = { ...tied, braces: [] };
    const unknown = calculateBeam(roofless, demoCriteria, demoBeam);
    expect(value(unknown.outputs, thrust)).toBeUndefined();
    expect(unknown.notices.find((one) => one.id === 'beam.tie-thrust')?.text).toContain('not calculated');
  });

  it('rafters: what a hanger would carry if they too were hung, with snow', () => {
    const rafters: Survey = {
      ...demoSurvey,
      strips: [
        ...demoSurvey.strips,
        {
          id: 'rafters',
          label: 'Rafters',
          evidence: 'measured',
          carries: 'roof',
          frontSpanIn: 120,
          rearSpanIn: 0,
          overWall: 'lapped',
          spacingIn: 24,
          deadPsf: 15,
          livePsf: 0,
        },
      ],
    };
    const { outputs, notices } = calculateBeam(rafters, demoCriteria, demoBeam);
    const plan = 15 * Math.hypot(1, 8 / 12) + 23.1;
    expect(value(outputs, 'rafter end, front')).toBeCloseTo(plan * 5 * 2, 6);
    expect(value(outputs, 'rafter end, rear')).toBeUndefined();
    expect(notices.some((one) => one.id === 'beam.rafters-on-top')).toBe(true);
    expect(value(outputs, 'joist end, front')).toBe(
      value(calculateBeam(demoSurvey, demoCriteria, demoBeam).outputs, 'joist end, front'),
    );
  });
});
