import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  braceStations,
  cautions,
  checkShoring,
  joistsMeetStuds,
  plateMomentLbIn,
  reachNotices,
  standingDurationFactor,
  storeysToShore,
  workSequence,
  type ShoringInput,
  type ShoringResult,
} from '../../../src/engineering/shoring/index.ts';
import { takeOffLoads } from '../../../src/engineering/loads/index.ts';
import { braces, criteria, roof, shoring, survey } from './shoring-fixtures.ts';

const plan = (change: Partial<ShoringInput> = {}): ShoringResult =>
  checkShoring({
    survey: survey(),
    criteria,
    shoring: shoring(),
    joistsCut: true,
    newPads: false,
    ...change,
  });
const find = (result: ShoringResult, id: string) => result.checks.find((check) => check.id === id)!;

describe('loads on temporary walls', () => {
  it('12 + 40 psf on 12 ft, 24 in off the wall: 52 · 86.4 ÷ 12 = 374.4 plf', () => {
    const [front, rear] = plan().walls;
    expect(front!.side).toBe('front');
    expect(front!.heaviest.loadPlf).toBeCloseTo((52 * 86.4) / 12, 6);
    expect(rear!.heaviest.loadPlf).toBeCloseTo((52 * 98) / 12, 6);
    expect(front!.studLoadLb).toBeCloseTo((52 * 86.4) / 9, 6);
  });

  it('a wall that stands on the old wall comes to the joist ends: 64 plf · ½ · 144/120', () => {
    const above = survey({
      storeysAbove: 1,
      wallsAbove: [
        {
          id: 'w',
          label: 'Wall above',
          evidence: 'measured',
          fromIn: 0,
          toIn: 170,
          heightIn: 96,
          deadPsf: 8,
        },
      ],
    });
    const [front] = plan({ survey: above, shoring: shoring({ storeysShored: 2 }) }).walls;
    expect(front!.heaviest.loadPlf).toBeCloseTo(374.4 + 64 * 0.5 * 1.2, 6);
  });

  it('counts the worse of before and after the cut', () => {
    const [strip] = survey().strips;
    const running = survey({ strips: [{ ...strip!, overWall: 'continuous' }] });
    const whole = plan({ survey: running, joistsCut: false }).walls[0]!.heaviest.loadPlf;
    const cut = plan({ survey: running, joistsCut: true }).walls[0]!.heaviest.loadPlf;
    expect(cut).toBe(Math.max(whole, (52 * 86.4) / 12));
  });

  it('takes the duration that the shoring stands: 7 days 1.25, two months 1.15, longer its own', () => {
    expect([standingDurationFactor(7), standingDurationFactor(60), standingDurationFactor(90)]).toEqual([
      1.25, 1.15, 0.9,
    ]);
    expect(plan({ daysStanding: 7 }).walls[0]!.heaviest.loadDuration).toBe(1.25);
    expect(plan({ daysStanding: 120 }).walls[0]!.heaviest.loadDuration).toBe(1);
    expect(() => plan({ daysStanding: 0 })).toThrow(
      expect.objectContaining({ path: 'daysStanding' }) as Error,
    );
  });
});

describe('the stud wall', () => {
  it('passes as usually built and fails unbraced studs by le/d over 75 where they are tall', () => {
    expect(plan().checks.filter((check) => !check.passes)).toEqual([]);
    const tall = plan({ survey: survey({ wallHeightIn: 121 }), shoring: shoring({ midHeightBracingIn: 0 }) });
    const slender = find(tall, 'shoring.front.stud.slenderness');
    expect(slender.capacity.value).toBe(75);
    expect(slender.demand.value).toBeCloseTo((121 - 4.5) / 1.5, 9);
    expect(slender.passes).toBe(false);
  });

  it('bends the plates only where joists miss the studs', () => {
    expect(joistsMeetStuds(16, 16)).toBe(true);
    expect(joistsMeetStuds(32, 16)).toBe(true);
    expect(joistsMeetStuds(16, 24)).toBe(false);
    expect(find(plan(), 'shoring.front.plate.aligned').passes).toBe(true);
    const missed = plan({ shoring: shoring({ studSpacingIn: 24 }) });
    const bending = find(missed, 'shoring.front.plate.bending');
    const joist = (374.4 * 16) / 12;
    // Two flat 2x4: S = 2·3.5·1.5²/6; Fb′ = 900·1.15·1.5·1.1.
    expect(bending.demand.value).toBeCloseTo((joist * 24) / 4 / ((2 * 3.5 * 2.25) / 6), 6);
    expect(bending.capacity.value).toBeCloseTo(900 * 1.15 * 1.5 * 1.1, 6);
  });

  it('sums the joists of a bay: P 100 at 12 in in a 48 in bay, one in the middle: 1200 + 2·… = 2400', () => {
    // Mid 100·48/4 = 1200; a pair at ±12: 100·(24 − 12) = 1200; the pair at ±24 stands on the studs.
    expect(plateMomentLbIn(100, 12, 48)).toBe(2400);
    expect(plateMomentLbIn(100, 24, 24)).toBe(600);
  });

  it('asks more of every stud the wider they stand', () => {
    fc.assert(
      fc.property(fc.integer({ min: 8, max: 40 }), (spacing) => {
        const ratio = (studSpacingIn: number) =>
          find(plan({ shoring: shoring({ studSpacingIn }) }), 'shoring.rear.stud.axial').ratio;
        return ratio(spacing + 1) > ratio(spacing);
      }),
      { numRuns: 30 },
    );
  });

  it('puts the line load on the soil through the slab', () => {
    const check = find(plan({ slabThicknessIn: 4.25 }), 'shoring.front.sole.soil');
    expect(check.demand.value).toBeCloseTo((374.4 * 12) / (3.5 + 8.5), 6);
  });
});

describe('reach', () => {
  it('every storey: the one above that hangs on the wall and the framed floor below', () => {
    expect(storeysToShore({ storeysAbove: 1, below: 'slab' })).toBe(2);
    expect(storeysToShore({ storeysAbove: 1, below: 'crawlspace' })).toBe(3);
    const result = plan({ survey: survey({ storeysAbove: 1 }) });
    expect(find(result, 'shoring.storeys').passes).toBe(false);
    expect(find(result, 'shoring.storeys').sentence).toContain('above that hang on the wall');
  });

  it('lapped joists with one temporary wall: fails, and says where they would fall', () => {
    const result = plan({ shoring: shoring({ sides: 'front' }) });
    const sides = find(result, 'shoring.sides');
    expect(sides.passes).toBe(false);
    expect(sides.sentence).toContain('rear side');
    expect(result.walls).toEqual([]);
  });

  it('joists that run on may be shored on one side, until a flush beam cuts them', () => {
    const [strip] = survey().strips;
    const running = survey({ strips: [{ ...strip!, overWall: 'continuous' }] });
    const one = shoring({ sides: 'front' });
    expect(find(plan({ survey: running, shoring: one, joistsCut: false }), 'shoring.sides').passes).toBe(
      true,
    );
    expect(find(plan({ survey: running, shoring: one, joistsCut: true }), 'shoring.sides').passes).toBe(
      false,
    );
  });

  it('a post gets a shore for the heaviest of floor and roof together: 1000 + 0.75 (2000 + 1800) lb', () => {
    const landing = {
      id: 'post',
      label: 'Post',
      evidence: 'measured' as const,
      positionIn: 80,
      deadLb: 1000,
      liveLb: 2000,
      roofLiveLb: 1200,
      snowLb: 1800,
      upliftLb: 0,
    };
    const text = (change: Partial<typeof landing>) =>
      reachNotices(survey({ landings: [{ ...landing, ...change }] }), shoring()).find(
        ({ id }) => id === 'shoring.landing.post',
      )!.text;
    expect(text({})).toContain('about 3850 lb');
    expect(text({ snowLb: 0, roofLiveLb: 300 })).toContain('about 3000 lb');
  });

  it('contradicting floors fail', () => {
    const result = plan({ survey: survey({ below: 'basement' }), shoring: shoring({ storeysShored: 2 }) });
    expect(find(result, 'shoring.sole').passes).toBe(false);
    const right = plan({
      survey: survey({ below: 'basement' }),
      shoring: shoring({ storeysShored: 2, soleOn: 'joists along' }),
    });
    expect(right.checks.some((check) => check.id === 'shoring.sole')).toBe(false);
    expect(right.notices.map((notice) => notice.id)).toEqual(
      expect.arrayContaining(['shoring.sole-along', 'shoring.front.below', 'shoring.rear.below']),
    );
  });
});

describe('roof braces', () => {
  const braced = survey({ roof, braces });

  it('gathers feet that stand together into stations', () => {
    const takeOff = takeOffLoads(braced, criteria, { joistsAtBeam: 'as surveyed' });
    const stations = braceStations(takeOff);
    expect(stations.map((station) => station.labels.length)).toEqual([2, 1]);
    const total = takeOff.braces.reduce((sum, brace) => sum + brace.serviceVerticalLb, 0);
    expect(stations.reduce((sum, station) => sum + station.verticalLb, 0)).toBeCloseTo(total, 9);
  });

  it('left on the wall: fails; re-landed: the strongback is a simple span of twice the offset', () => {
    expect(find(plan({ survey: braced }), 'shoring.braces').passes).toBe(false);
    const result = plan({ survey: braced, shoring: shoring({ bracesRelanded: true }) });
    expect(find(result, 'shoring.braces').passes).toBe(true);
    const worst = Math.max(...result.stations.map((station) => station.verticalLb));
    const bending = find(result, 'shoring.strongback.bending');
    // Two 2x10: S = 2·1.5·9.25²/6.
    expect(bending.demand.value).toBeCloseTo((worst * 48) / 4 / ((3 * 9.25 ** 2) / 6), 6);
    expect(find(result, 'shoring.strongback.studs').demand.value).toBeCloseTo(worst / 2, 9);
    expect(result.sequence.map((step) => step.id)).toContain('strongbacks');
  });
});

describe('the order of work', () => {
  const all = workSequence({
    survey: survey({ roof, braces, storeysAbove: 1, below: 'basement' }),
    shoring: shoring(),
    newPads: true,
  });

  it.each([
    ['everything', all],
    ['the least', workSequence({ survey: survey(), shoring: shoring(), newPads: false })],
  ])('%s: every prerequisite stands earlier in the list, none is missing', (_, steps) => {
    const done = new Set<string>();
    for (const step of steps) {
      for (const need of step.needs) expect(done, `${step.id} needs ${need}`).toContain(need);
      done.add(step.id);
    }
  });

  it('nothing is demolished before the shoring is accepted, nothing let down before the framing is', () => {
    const before = (id: string): Set<string> => {
      const step = all.find((entry) => entry.id === id)!;
      return new Set(step.needs.flatMap((need) => [need, ...before(need)]));
    };
    const opening = before('open');
    for (const id of [
      'accept',
      'shore',
      'shore-above',
      'shore-below',
      'strongbacks',
      'utilities',
      'hazards',
    ]) {
      expect(opening).toContain(id);
    }
    expect(all.find((step) => step.id === 'accept')!.holdPoint!.acceptedBy).toBe('engineer');
    expect(before('release')).toContain('transfer');
    expect(before('release')).toContain('footings-accepted');
  });

  it('points only at cautions that exist, and every caution is used', () => {
    const known = new Set(cautions.map((caution) => caution.id));
    const used = new Set(all.flatMap((step) => step.cautions));
    expect([...used].filter((id) => !known.has(id))).toEqual([]);
    expect([...known].filter((id) => !used.has(id))).toEqual([]);
  });
});

it('refuses a survey on which nothing bears', () => {
  expect(() => plan({ survey: survey({ strips: [] }) })).toThrow(
    expect.objectContaining({ path: 'survey.strips' }) as Error,
  );
});
