import { describe, expect, it } from 'vitest';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import { peakSag, withOwnWeight } from '../../../src/engineering/proposal/beam-actions.ts';
import { calculateBeam } from '../../../src/engineering/proposal/beam.ts';
import type { Beam } from '../../../src/engineering/proposal/design.ts';
import { calculateFooting } from '../../../src/engineering/proposal/footing.ts';
import { calculateSupport } from '../../../src/engineering/proposal/support.ts';
import type { Survey } from '../../../src/engineering/proposal/survey.ts';
import type { Check, Quantity } from '../../../src/engineering/trace/index.ts';

/**
 * The demo house end to end against figures derived independently for the scenario (invented data, real arithmetic).
 * The derivation had the upper wall 8 ft long and no beam over the bearings, which is worth some 160 lb at each end.
 */
const at40: Survey = {
  ...demoSurvey,
  strips: demoSurvey.strips.map((strip) => (strip.id === 'upper-floor' ? { ...strip, livePsf: 40 } : strip)),
};
const deeper: Beam = {
  ...demoBeam,
  member: { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 11.875, plies: 3 },
  bearingLeftIn: 4.5,
  bearingRightIn: 4.5,
};
const ratio = (checks: readonly Check[], id: string) => checks.find((check) => check.id === id)!.ratio;
const value = (outputs: Readonly<Record<string, Quantity | string>>, name: string) =>
  (outputs[name] as Quantity).value;

describe('Cinder Ferry', () => {
  it('version 1 on 30 psf: bending at 0.97', () => {
    const { checks, outputs } = calculateBeam(demoSurvey, demoCriteria, demoBeam);
    expect(value(outputs, 'span') / 12).toBeCloseTo(11.08, 2);
    expect(ratio(checks, 'beam.bending')).toBeCloseTo(0.97, 2);
  });

  it('at 40 psf the same beam fails at 1.08, and sags too far', () => {
    const { checks } = calculateBeam(at40, demoCriteria, demoBeam);
    expect(ratio(checks, 'beam.bending')).toBeCloseTo(1.08, 2);
    expect(checks.find((check) => check.id === 'beam.bending')?.passes).toBe(false);
    expect(checks.find((check) => check.id === 'beam.deflectionTotal')?.passes).toBe(false);
  });

  it('version 2: span, bending, reactions, hangers', () => {
    const { checks, outputs, actions } = calculateBeam(at40, demoCriteria, deeper);
    expect(value(outputs, 'span') / 12).toBeCloseTo(11.21, 2);
    expect(ratio(checks, 'beam.bending')).toBeCloseTo(0.73, 2);
    const governing = actions.envelope.byCombination.find(({ combination }) => combination.name === 'D + L')!;
    expect(governing.momentLbIn.max.value / 12 / 19_628).toBeCloseTo(1, 2);
    expect(Math.abs(value(outputs, 'left reaction') - 7243)).toBeLessThan(170);
    expect(Math.abs(value(outputs, 'right reaction') - 7571)).toBeLessThan(170);
    expect(value(outputs, 'joist end, front')).toBeCloseTo(416, 6);
    expect(value(outputs, 'joist end, rear')).toBeCloseTo(485.333, 2);
    expect(checks.every((check) => check.passes)).toBe(true);
  });

  it('sags as the derivation says, dead and live at once: L/238, then L/449; live alone L/854', () => {
    const sag = (beam: Beam, which: 'all' | 'live') => {
      const { actions, rigidityLbIn2 } = calculateBeam(at40, demoCriteria, beam);
      const live = actions.passing.find(({ name }) => name === 'L')!.eiLbIn3;
      const all = peakSag(actions.solved, withOwnWeight({ D: 1, L: 1 }, actions.weightPlf));
      return actions.geometry.spanIn / ((which === 'all' ? all : live) / rigidityLbIn2);
    };
    expect(sag(demoBeam, 'all') / 238).toBeCloseTo(1, 2);
    expect(sag(deeper, 'all') / 449).toBeCloseTo(1, 2);
    expect(sag(deeper, 'live') / 854).toBeCloseTo(1, 2);
  });

  it('two jacks under version 1 press the plate to 455 psi or near', () => {
    const short: Beam = { ...deeper, bearingLeftIn: 3, bearingRightIn: 3 };
    const { checks } = calculateSupport(at40, demoCriteria, short, demoSupports[1]!);
    expect(checks.find((check) => check.id === 'plate')!.demand.value / 455).toBeCloseTo(1, 1);
  });

  it('each brace station, both slopes: dead 937 lb, snow 1,201 lb', () => {
    const { actions } = calculateBeam(at40, demoCriteria, deeper);
    const at = (kind: string) =>
      actions.loads
        .filter((load) => load.form === 'point' && load.kind === kind && load.label.endsWith('brace 1'))
        .reduce((sum, load) => sum + (load.form === 'point' ? load.loadLb : 0), 0);
    expect(Math.round(at('D'))).toBe(937);
    expect(Math.round(at('S'))).toBe(1201);
  });

  it('two jacks crush the hem-fir plate, three do not', () => {
    const plate = (jacks: number, beam: Beam) =>
      calculateSupport(at40, demoCriteria, beam, { ...demoSupports[1]!, jacks }).checks.find(
        (check) => check.id === 'plate',
      )!;
    const two = plate(2, { ...deeper, bearingLeftIn: 3, bearingRightIn: 3 });
    expect(two.passes).toBe(false);
    expect(two.capacity.value).toBe(405);
    expect(plate(3, deeper).demand.value / 306).toBeCloseTo(1, 1);
    expect(plate(3, deeper).passes).toBe(true);
  });

  it('pads of 30 x 30 x 12 carry it, 1,361 psf or near under the beam alone; the strip that is there does not', () => {
    const pad = { widthIn: 30, lengthIn: 30, thicknessIn: 12 };
    const judged = calculateFooting(
      at40,
      demoCriteria,
      deeper,
      { ...demoSupports[1]!, jacks: 3 },
      { ...demoFootings[1]!, pad },
    );
    expect(judged.checks.every((check) => check.passes)).toBe(true);
    const soil = judged.checks.find((check) => check.id === 'footing.right.soil')!;
    const pack = soil.steps.find(({ id }) => id === 'footing.right.load')!;
    expect(((pack.values.R?.value ?? NaN) / 6.25 + 150) / 1361).toBeCloseTo(1, 1);
    // The worked example leaves the king out. It stands on the same pad and brings what lies on 9.5 in of top plate
    // (1.5 in and half of 16 in): D (12 + 8) · 13 + 64 = 324 plf, L (40 + 10) · 13 = 650 plf, in D + 0.75L + 0.75S.
    expect(soil.governing).toBe('D + 0.75L + 0.75S');
    expect(pack.values.K?.value).toBeCloseTo(((324 + 0.75 * 650) * 9.5) / 12, 6);
    const load = (pack.values.R?.value ?? NaN) + (pack.values.K?.value ?? NaN);
    expect(value(judged.outputs, 'pressure on the soil')).toBeCloseTo(load / 6.25 + 150, 6);
    // Without kings, as with a post, the next stud carries it.
    const post = calculateFooting(
      at40,
      demoCriteria,
      deeper,
      { ...demoSupports[1]!, jacks: 3, kings: 0 },
      { ...demoFootings[1]!, pad },
    );
    expect(value(post.outputs, 'service load')).toBeCloseTo(pack.values.R?.value ?? NaN, 6);
    // By hand: the reaction comes down three jacks, 4 1/2 in along the wall; the king takes none of it, whatever
    // stands beside them. Mu = qu · 30 · ((30 − 4.5) ÷ 2)² ÷ 2 with qu = Pu ÷ 900.
    const bending = judged.checks.find((check) => check.title === 'Bending along the wall')!;
    const factored = value(judged.outputs, 'factored load');
    expect(bending.demand.value).toBeCloseTo(((factored / 900) * 30 * 12.75 ** 2) / 2, 6);
    // The right pack begins 20 in from the end of the wall: 30 in stay on it, 2.25 + 20 in reach 2 1/4 in past it.
    expect(judged.notices.map((notice) => notice.id)).not.toContain('footing.past-wall');
    const longer = calculateFooting(
      at40,
      demoCriteria,
      deeper,
      { ...demoSupports[1]!, jacks: 3 },
      { ...demoFootings[1]!, pad: { ...pad, lengthIn: 40 } },
    );
    expect(longer.notices.find((notice) => notice.id === 'footing.past-wall')?.text).toContain(
      'reaches 2 1/4" past the right end',
    );
    const found = calculateFooting(
      at40,
      demoCriteria,
      deeper,
      { ...demoSupports[1]!, jacks: 3 },
      demoFootings[1]!,
    );
    expect(found.checks.every((check) => check.passes)).toBe(false);
  });
});
