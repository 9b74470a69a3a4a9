import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import { calculateBeam } from '../../../src/engineering/proposal/beam.ts';
import type { Criteria } from '../../../src/engineering/proposal/criteria.ts';
import type { Beam, Member } from '../../../src/engineering/proposal/design.ts';
import { calculateFooting } from '../../../src/engineering/proposal/footing.ts';
import { calculateSupport } from '../../../src/engineering/proposal/support.ts';
import type { Landing, Strip, Survey } from '../../../src/engineering/proposal/survey.ts';

const steel = (shape: string): Member => ({ kind: 'steel', shape, fyKsi: 50 });
const dropped = (member: Member, bearingIn: number, unbracedIn?: number): Beam => ({
  ...demoBeam,
  placement: 'dropped',
  member,
  bearingLeftIn: bearingIn,
  bearingRightIn: bearingIn,
  ...(unbracedIn === undefined ? {} : { unbracedIn }),
});

function surveyOf(clearIn: number, strips: readonly Strip[], landings: readonly Landing[] = []): Survey {
  return {
    ...demoSurvey,
    wallLengthIn: clearIn + 80,
    openingFromIn: 40,
    openingToIn: 40 + clearIn,
    strips: [...strips],
    wallsAbove: [],
    braces: [],
    landings: [...landings],
  };
}

const strip = (carries: Strip['carries'], spanIn: number, deadPsf: number, livePsf: number): Strip => ({
  id: carries,
  label: carries,
  evidence: 'measured',
  carries,
  frontSpanIn: spanIn,
  rearSpanIn: carries === 'roof' ? 0 : spanIn,
  overWall: 'lapped',
  spacingIn: 16,
  deadPsf,
  livePsf,
  ...(carries === 'roof' ? { roofRiseIn12: 3 } : {}),
});

const post = (positionIn: number, deadLb: number, snowLb: number): Landing => ({
  id: 'post',
  label: 'Post',
  evidence: 'measured',
  positionIn,
  deadLb,
  liveLb: 0,
  roofLiveLb: 0,
  snowLb,
  upliftLb: 0,
});

describe('what lands on top of a beam', () => {
  it('is judged on the web of a steel beam, one stud long (AISC 360 J10.2, J10.3)', () => {
    const survey = surveyOf(288, [strip('floor', 150, 15, 40)], [post(180, 900, 1800)]);
    const { checks } = calculateBeam(survey, demoCriteria, dropped(steel('W14x22'), 5.5));
    const yielding = checks.find(({ id }) => id === 'steel.web.landing.yielding')!;
    const crippling = checks.find(({ id }) => id === 'steel.web.landing.crippling')!;
    // By hand from the shape table of the AISC Manual: d 13.7, tw 0.230, tf 0.335, k 0.735 in; Fy 50 ksi; lb 1.5 in.
    expect(yielding.title).toBe('Web yielding, under Post');
    expect(yielding.demand.value).toBeCloseTo(2700, 6);
    expect(yielding.governing).toBe('D + S');
    expect(yielding.capacity.value).toBeCloseTo((50_000 * 0.23 * (5 * 0.735 + 1.5)) / 1.5, 3);
    const crippled =
      (0.8 *
        0.23 ** 2 *
        (1 + 3 * (1.5 / 13.7) * (0.23 / 0.335) ** 1.5) *
        Math.sqrt((29e6 * 50_000 * 0.335) / 0.23)) /
      2;
    expect(crippling.capacity.value).toBeCloseTo(crippled, 3);
  });

  it('asks of a post on wood how long its foot must be, where a stud’s thickness would crush the beam (NDS 3.10.2)', () => {
    const lvl: Member = { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 14, plies: 3 };
    const said = (snowLb: number) =>
      calculateBeam(
        surveyOf(120, [strip('floor', 150, 12, 40)], [post(100, 1500, snowLb)]),
        demoCriteria,
        dropped(lvl, 4.5),
      ).notices.filter(({ id }) => id.startsWith('beam.foot.'));
    // 5.25 in of 750 psi: 1.5 in take 5,906 lb; 1,500 + 6,000 lb take 1.905 in, to the next eighth 2.
    expect(said(4400)).toEqual([]);
    const [notice, ...others] = said(6000);
    expect(others).toEqual([]);
    expect(notice).toMatchObject({ severity: 'caution', clause: { section: '3.10.2' } });
    expect(notice!.text).toContain('Post presses the beam with 7500 lb (D + S)');
    expect(notice!.text).toContain('at least 2 in long');
  });
});

describe('a steel beam that wind lifts', () => {
  const lifted: Criteria = { ...demoCriteria, groundSnowPsf: 0, windUpliftPsf: 45 };
  const survey: Survey = surveyOf(216, [strip('roof', 192, 9, 0)]);
  const beam = dropped(steel('W12x14'), 5.5, 24);

  it('is judged with its bottom flange free between the supports (AISC 360 F2)', () => {
    const { checks } = calculateBeam(survey, lifted, beam);
    const uplift = checks.find(({ id }) => id === 'steel.flexure.uplift')!;
    // Derived apart: 0.6 · 45 · 8 − 0.6 · (9 · √(12² + 3²)/12 · 8 + 14) plf on 221.5 in; Fcr by F2-4, Lb 221.5 in, Cb 1.
    const plf = 0.6 * 45 * 8 - 0.6 * ((9 * Math.hypot(12, 3) * 8) / 12 + 14);
    const span = 216 + 5.5;
    expect(uplift.demand.value).toBeCloseTo(((plf / 12) * span ** 2) / 8, 3);
    const ho = 11.9 - 0.225;
    const rts = Math.sqrt((2.36 * ho) / (2 * 14.9));
    const fcr =
      ((Math.PI ** 2 * 29e6) / (span / rts) ** 2) *
      Math.sqrt(1 + ((0.078 * 0.0704) / (14.9 * ho)) * (span / rts) ** 2);
    expect(uplift.capacity.value).toBeCloseTo((fcr * 14.9) / 1.67, 2);
    expect(uplift.passes).toBe(false);
    expect(uplift.governing).toBe('0.6D + 0.6W');
    // Downward, with the top flange held every 24 in, the same beam does.
    expect(checks.find(({ id }) => id === 'steel.flexure')!.passes).toBe(true);
  });

  it('has no such check without uplift', () => {
    const { checks } = calculateBeam(survey, { ...lifted, windUpliftPsf: 0 }, beam);
    expect(checks.some(({ id }) => id === 'steel.flexure.uplift')).toBe(false);
  });
});

describe('more uplift', () => {
  it('never takes load off the concrete: what presses down is judged with the wind left out, too', () => {
    const factored = (spanIn: number, windUpliftPsf: number, groundSnowPsf: number) => {
      const criteria: Criteria = { ...demoCriteria, windUpliftPsf, groundSnowPsf };
      const { outputs } = calculateFooting(
        surveyOf(96, [strip('roof', spanIn, 12, 0)]),
        criteria,
        dropped({ kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x12', plies: 3 }, 3),
        { ...demoSupports[0]!, jacks: 2 },
        demoFootings[0]!,
      );
      const load = outputs['factored load'];
      return typeof load === 'object' ? load.value : NaN;
    };
    fc.assert(
      fc.property(
        fc.integer({ min: 96, max: 240 }),
        fc.integer({ min: 5, max: 80 }),
        fc.constantFrom(0, 25, 60),
        (spanIn, uplift, snow) => {
          expect(factored(spanIn, uplift, snow)).toBeCloseTo(factored(spanIn, 0, snow), 6);
        },
      ),
      { numRuns: 30 },
    );
  });
});

describe('kings that wind bends', () => {
  it('are not unloaded by the uplift of the roof, which need not come at the same time (ASCE 7 2.4.1)', () => {
    const survey: Survey = { ...surveyOf(72, [strip('roof', 192, 15, 0)]), wallIsExterior: true };
    const combined = (windUpliftPsf: number) => {
      const criteria: Criteria = { ...demoCriteria, groundSnowPsf: 40, windWallPsf: 25, windUpliftPsf };
      const beam = dropped({ kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x12', plies: 3 }, 3);
      const support = { ...demoSupports[0]!, jacks: 2, kings: 2 };
      return calculateSupport(survey, criteria, beam, support).checks.find(
        ({ id }) => id === 'kings.combined',
      )!;
    };
    expect(combined(50).ratio).toBeCloseTo(combined(0).ratio, 9);
  });
});
