import { describe, expect, it } from 'vitest';
import { demoBeam, demoCriteria, demoSupports, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import { calculateBeam } from '../../../src/engineering/proposal/beam.ts';
import type { Criteria } from '../../../src/engineering/proposal/criteria.ts';
import type { Beam, Support } from '../../../src/engineering/proposal/design.ts';
import { calculateSupport } from '../../../src/engineering/proposal/support.ts';
import type { Survey } from '../../../src/engineering/proposal/survey.ts';
import { Refusal, type Check } from '../../../src/engineering/trace/index.ts';

const pack = (over: Partial<Support> = {}): Support => ({ ...demoSupports[0]!, ...over });
const find = (checks: readonly Check[], id: string) => checks.find((check) => check.id === id)!;
const notice = (
  outcome: { notices: readonly { id: string; severity: string; text: string }[] },
  id: string,
) => outcome.notices.find((one) => one.id === id);
const reaction = (survey: Survey, criteria: Criteria, beam: Beam, name: string) =>
  calculateBeam(survey, criteria, beam).actions.envelope.byCombination.find(
    ({ combination }) => combination.name === name,
  )!.reactions[0]!.forceLb.max.value;

describe('where the beam stands on its jacks', () => {
  it('counts no more of a wide beam than the studs are deep, in the beam and in the pack', () => {
    const narrow: Survey = { ...demoSurvey, wallThicknessIn: 3.5 };
    const outcome = calculateSupport(narrow, demoCriteria, demoBeam, pack({ size: '2x4' }));
    const load = reaction(narrow, demoCriteria, demoBeam, 'D + 0.75L + 0.75S');
    expect(find(outcome.checks, 'pack.beam').demand.value).toBeCloseTo(load / (3 * 3.5), 6);
    const own = calculateBeam(narrow, demoCriteria, demoBeam).checks;
    expect(find(own, 'beam.bearing.left').demand.value).toBeCloseTo(load / (3 * 3.5), 6);
    expect(notice(outcome, 'pack.overhang')?.text).toContain('1.75 in wider');
    expect(
      notice(calculateSupport(demoSurvey, demoCriteria, demoBeam, pack()), 'pack.overhang'),
    ).toBeUndefined();
  });

  it('holds the end grain against Fc*, by hand: NDS Table 4A DF-L No.2 2x6, Fc 1350 · CF 1.1', () => {
    const outcome = calculateSupport(demoSurvey, demoCriteria, demoBeam, pack());
    const top = find(outcome.checks, 'pack.top');
    expect(top.governing).toBe('D + L');
    expect(top.capacity.value).toBeCloseTo(1350 * 1.1, 9);
    expect(top.demand.value).toBeCloseTo(
      reaction(demoSurvey, demoCriteria, demoBeam, 'D + L') / (3 * 5.25),
      6,
    );
  });

  it('counts no jack that stands wholly beside the end of the beam: 3 in of bearing stand on two', () => {
    const judge = (jacks: number, beam: Beam) =>
      calculateSupport(demoSurvey, demoCriteria, beam, pack({ jacks }));
    const three = judge(3, demoBeam);
    expect(three.checks.map((check) => check.ratio)).toEqual(
      judge(2, demoBeam).checks.map((check) => check.ratio),
    );
    expect(notice(three, 'pack.beside')?.text).toContain('1 stands beside its end and is not counted');
    expect(notice(three, 'pack.beside')?.text).toContain('4 1/2" of bearing');
    const longer: Beam = { ...demoBeam, bearingLeftIn: 4.5 };
    const load = reaction(demoSurvey, demoCriteria, longer, 'D + 0.75L + 0.75S');
    expect(find(judge(3, longer).checks, 'plate').demand.value).toBeCloseTo(load / (4.5 * 5.5), 6);
    expect(notice(judge(3, longer), 'pack.beside')).toBeUndefined();
    // A jack that the end of the beam half covers is one that it stands on.
    expect(notice(judge(3, { ...demoBeam, bearingLeftIn: 3.5 }), 'pack.beside')).toBeUndefined();
  });

  it('a steel beam presses no wood of its own', () => {
    const steel: Beam = { ...demoBeam, member: { kind: 'steel', shape: 'W8x18', fyKsi: 50 } };
    const { checks } = calculateSupport(demoSurvey, demoCriteria, steel, pack());
    expect(find(checks, 'pack.beam')).toBeUndefined();
    expect(find(checks, 'pack.top').ratio).toBeGreaterThan(0);
  });
});

describe('kings of an exterior wall', () => {
  const outside: Survey = { ...demoSurvey, wallIsExterior: true };
  const windy: Criteria = { ...demoCriteria, windWallPsf: 30 };

  it('under wind and what lies beside the beam, NDS Eq. 3.9-3 by hand', () => {
    const support = pack({ kings: 2, bracedWeakAxisIn: 24 });
    const { checks } = calculateSupport(outside, windy, demoBeam, support);
    const combined = find(checks, 'kings.combined');
    expect(combined.governing).toBe('D + 0.6W');
    // Two kings and half of 16 in: 11 in of top plate. D: floor 12 psf and attic 8 psf on 13 ft, wall 64 plf.
    const axial = ((20 * 13 + 64) * 11) / 12;
    const fc = axial / (2 * 8.25);
    const moment = (((0.6 * 30 * 73) / 144) * 97.125 ** 2) / 8;
    const fb = moment / (2 * ((1.5 * 5.5 ** 2) / 6));
    // NDS Supplement Table 4A, DF-L No.2: Fb 900, Fc 1350, Emin 580,000; 2x6 CF 1.3 and 1.1; CD 1.6.
    const stability = (star: number, critical: number, c: number, top: number) => {
      const a = (1 + critical / star) / top;
      return a - Math.sqrt(a ** 2 - critical / star / c);
    };
    const fcStar = 1350 * 1.6 * 1.1;
    const fcE1 = (0.822 * 580_000) / (97.125 / 5.5) ** 2;
    const fcE2 = (0.822 * 580_000) / (24 / 1.5) ** 2;
    const fcAllowed = fcStar * stability(fcStar, Math.min(fcE1, fcE2), 0.8, 1.6);
    const fbStar = 900 * 1.6 * 1.3;
    // Table 3.3.3, any loading: lu/d 4.36 < 7, le = 2.06 lu.
    const fbE = (1.2 * 580_000) / ((2.06 * 24 * 5.5) / 1.5 ** 2);
    const fbAllowed = fbStar * stability(fbStar, fbE, 0.95, 1.9);
    const byHand = (fc / fcAllowed) ** 2 + fb / (fbAllowed * (1 - fc / fcE1));
    expect(combined.ratio).toBeCloseTo(byHand, 9);
  });

  it('names the counts of the code’s own tables beside the calculation', () => {
    const moderate = calculateSupport(outside, { ...windy, windWallPsf: 20 }, demoBeam, pack({ kings: 2 }));
    expect(notice(moderate, 'kings.table')).toMatchObject({ severity: 'note' });
    const strong = calculateSupport(outside, windy, demoBeam, pack({ kings: 2 }));
    expect(notice(strong, 'kings.table')).toMatchObject({ severity: 'caution' });
    expect(notice(strong, 'kings.table')?.text).toContain('3 full-height studs');
    expect(notice(strong, 'jacks.table')).toBeUndefined();
  });

  it('the header table speaks of sawn headers under roof and ceiling alone', () => {
    const [floor, attic] = demoSurvey.strips;
    const oneStorey: Survey = {
      ...outside,
      openingToIn: 20 + 60,
      strips: [attic!, { ...floor!, id: 'rafters', label: 'Rafters', carries: 'roof', livePsf: 0 }],
      wallsAbove: [],
      braces: [],
    };
    const header: Beam = {
      ...demoBeam,
      placement: 'dropped',
      member: { kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x8', plies: 2 },
    };
    const one = calculateSupport(oneStorey, windy, header, pack({ jacks: 2 }));
    // 26 ft wide, between 5'-9" with one jack (24 ft) and 4'-10" with two (36 ft).
    expect(notice(one, 'jacks.table')).toMatchObject({ severity: 'note' });
    expect(notice(one, 'jacks.table')?.text).toMatch(/5'-7" with 2 jacks/);
    const short = calculateSupport(oneStorey, windy, header, pack({ jacks: 1 }));
    expect(notice(short, 'jacks.table')).toMatchObject({ severity: 'caution' });
    const wide = { ...oneStorey, openingToIn: 20 + 96 };
    expect(notice(calculateSupport(wide, windy, header, pack()), 'jacks.table')).toMatchObject({
      severity: 'caution',
    });
  });
});

describe('below the pack', () => {
  const crawl: Survey = { ...demoSurvey, below: 'crawlspace' };
  const blocks = {
    species: 'DF-L',
    grade: 'No.2',
    size: '2x6',
    count: 2,
    heightIn: 9.25,
    on: { species: 'HF', grade: 'No.2', size: '2x6' },
    endDistanceIn: 0,
  };

  it('asks for squash blocks on a framed floor, not on a slab', () => {
    const id = 'pack.squash-blocks';
    expect(notice(calculateSupport(crawl, demoCriteria, demoBeam, pack()), id)?.severity).toBe('caution');
    expect(notice(calculateSupport(demoSurvey, demoCriteria, demoBeam, pack()), id)).toBeUndefined();
    const blocked = calculateSupport(crawl, demoCriteria, demoBeam, pack({ squashBlocks: blocks }));
    expect(notice(blocked, id)).toBeUndefined();
    const load = reaction(crawl, demoCriteria, demoBeam, 'D + 0.75L + 0.75S');
    expect(find(blocked.checks, 'squash.left.bearing').demand.value).toBeCloseTo(load / 2 / (1.5 * 5.5), 6);
    expect(find(blocked.checks, 'squash.left.fit').passes).toBe(true);
  });

  it('judges the post under a girder', () => {
    const girderPost = {
      species: 'DF-L',
      grade: 'No.1',
      size: '6x6',
      heightIn: 36,
      girder: { species: 'DF-L', grade: 'No.2', size: '4x10', plies: 1 },
      girderEndDistanceIn: 40,
      offPostIn: 2,
    };
    const { checks } = calculateSupport(crawl, demoCriteria, demoBeam, pack({ girderPost }));
    const load = reaction(crawl, demoCriteria, demoBeam, 'D + 0.75L + 0.75S');
    expect(find(checks, 'girder-post.left.bearing').demand.value).toBeCloseTo(load / (5.5 * 3.5), 6);
    expect(find(checks, 'girder-post.left.over').passes).toBe(true);
  });

  it.each([
    ['size', pack({ size: '2x99' })],
    ['grade', pack({ grade: 'No.9' })],
    ['plateGrade', pack({ plateGrade: 'No.9' })],
    ['squashBlocks.size', pack({ squashBlocks: { ...blocks, size: '2x99' } })],
    ['squashBlocks.on.size', pack({ squashBlocks: { ...blocks, on: { ...blocks.on, size: '2x99' } } })],
  ])('refuses %s by the name of its field', (path, support) => {
    let found = '';
    try {
      calculateSupport(crawl, demoCriteria, demoBeam, support);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      found = error.path;
    }
    expect(found).toBe(path);
  });
});
