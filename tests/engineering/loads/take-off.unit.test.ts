import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { takeOffLoads, type Load, type LoadKind } from '../../../src/engineering/loads/index.ts';
import type { Criteria } from '../../../src/engineering/proposal/criteria.ts';
import type { Brace, Strip, Survey } from '../../../src/engineering/proposal/survey.ts';
import { criteria, floor, survey } from './cinder-ferry.ts';
import { evaluateFormula } from './evaluate-formula.ts';
import { refusalOf } from './refusal-of.ts';

const whole = { joistsAtBeam: 'as surveyed' } as const;
const cut = { joistsAtBeam: 'cut' } as const;

function plf(loads: readonly Load[], id: string, kind: LoadKind, snowCase?: string): number {
  return loads
    .filter((load) => load.source.id === id && load.kind === kind && load.snowCase === snowCase)
    .reduce((sum, load) => sum + (load.form === 'line' ? load.loadPlf : load.loadLb), 0);
}

function atStation(loads: readonly Load[], positionIn: number, kind: LoadKind): number {
  return loads
    .filter((load) => load.form === 'point' && load.positionIn === positionIn && load.kind === kind)
    .reduce((sum, load) => sum + (load.form === 'point' ? load.loadLb : 0), 0);
}

const ridgeStrip: Strip = {
  ...floor,
  id: 'rafters',
  label: 'Rafters',
  carries: 'roof',
  frontSpanIn: 240,
  rearSpanIn: 240,
  deadPsf: 15,
  livePsf: 0,
};
const ridgeRoof: Survey = {
  ...survey,
  roof: {
    riseIn12: 6,
    frontEaveToRidgeIn: 240,
    rearEaveToRidgeIn: 240,
    deadOnSlopePsf: 15,
    slippery: false,
  },
  strips: [ridgeStrip],
  braces: [],
  wallsAbove: [],
};

function surveyOf(strips: readonly Strip[], changes: Partial<Survey> = {}): Survey {
  return { ...survey, braces: [], wallsAbove: [], strips: [...strips], ...changes };
}

function withoutRoof(described: Survey): Survey {
  const bare = { ...described };
  delete bare.roof;
  return bare;
}

describe('the invented house worked by hand', () => {
  const takeOff = takeOffLoads(survey, criteria, whole);

  test('tributary 13 ft: floor D 156 and L 520 plf, ceiling D 104 and L 130 plf, stacked wall 64 plf', () => {
    expect(plf(takeOff.loads, 'floor', 'D')).toBeCloseTo(156, 9);
    expect(plf(takeOff.loads, 'floor', 'L')).toBeCloseTo(520, 9);
    expect(plf(takeOff.loads, 'ceiling', 'D')).toBeCloseTo(104, 9);
    expect(plf(takeOff.loads, 'ceiling', 'L')).toBeCloseTo(130, 9);
    expect(plf(takeOff.loads, 'upper-wall', 'D')).toBeCloseTo(64, 9);
  });

  test('each brace station, both slopes: D 937 lb, S 1,201 lb; 18.0 psf on plan, 23.1 psf of snow', () => {
    for (const station of [41, 89, 137]) {
      // 52 ft² · 15 psf · √(12² + 8²) ÷ 12 and 52 ft² · 0.7 · 1.1 · 30 psf
      expect(atStation(takeOff.loads, station, 'D')).toBeCloseTo((52 * 15 * Math.sqrt(208)) / 12, 9);
      expect(Math.round(atStation(takeOff.loads, station, 'D'))).toBe(937);
      expect(atStation(takeOff.loads, station, 'S')).toBeCloseTo(52 * 23.1, 9);
      expect(Math.round(atStation(takeOff.loads, station, 'S'))).toBe(1201);
      // Lr: 20 psf · R2 0.8 at 8 in 12
      expect(atStation(takeOff.loads, station, 'Lr')).toBeCloseTo(52 * 16, 9);
    }
  });

  test('a roof of 8 in 12 needs no unbalanced snow, and the take-off says so once', () => {
    expect(takeOff.loads.every((load) => load.snowCase === undefined || load.snowCase === 'balanced')).toBe(
      true,
    );
    expect(takeOff.notices.filter((notice) => notice.id === 'snow.unbalanced-not-required')).toHaveLength(1);
  });

  test('the brace is steeper than 45°, shorter than 8 ft, 4 ft from the next: no caution', () => {
    expect(takeOff.notices.filter((notice) => notice.severity === 'caution')).toEqual([]);
  });

  test('the push at the foot is V ÷ tan α, the force along the brace V ÷ sin α', () => {
    const front = takeOff.braces[0]!;
    const vertical = (26 * 15 * Math.sqrt(208)) / 12 + 26 * 23.1;
    expect(front.serviceVerticalLb).toBeCloseTo(vertical, 9);
    expect(front.serviceHorizontalLb).toBeCloseTo(vertical / Math.tan((53 * Math.PI) / 180), 9);
    expect(Math.hypot(front.serviceVerticalLb, front.serviceHorizontalLb)).toBeCloseTo(
      front.serviceAxialLb,
      9,
    );
  });

  test('what each side brings to a hanger: 12 ft side 6 ft, 14 ft side 7 ft of load', () => {
    const strip = takeOff.strips[0]!;
    expect(strip.front.plf.D + strip.front.plf.L).toBeCloseTo(6 * 52, 9);
    expect(strip.rear.plf.D + strip.rear.plf.L).toBeCloseTo(7 * 52, 9);
    // × 16 in spacing: 416 and 485 lb
    expect(((strip.front.plf.D + strip.front.plf.L) * 16) / 12).toBeCloseTo(416, 9);
    expect(((strip.rear.plf.D + strip.rear.plf.L) * 16) / 12).toBeCloseTo(485.333, 3);
  });
});

describe('joists over the wall', () => {
  const equal: Strip = { ...floor, frontSpanIn: 144, rearSpanIn: 144, overWall: 'continuous' };

  test('equal continuous spans give the wall 1.25 w l where lapped ones give w l', () => {
    const continuous = takeOffLoads(surveyOf([equal]), criteria, whole);
    const lapped = takeOffLoads(surveyOf([{ ...equal, overWall: 'lapped' }]), criteria, whole);
    expect(plf(continuous.loads, 'floor', 'L')).toBeCloseTo(1.25 * 40 * 12, 9);
    expect(plf(lapped.loads, 'floor', 'L')).toBeCloseTo(40 * 12, 9);
  });

  test('a flush beam cuts the joists: simple spans from then on; rafters stay whole', () => {
    expect(plf(takeOffLoads(surveyOf([equal]), criteria, cut).loads, 'floor', 'L')).toBeCloseTo(480, 9);
    const rafters: Strip = { ...ridgeStrip, overWall: 'continuous', roofRiseIn12: 8 };
    const roof = { ...ridgeRoof, strips: [rafters] };
    expect(takeOffLoads(roof, criteria, cut).loads).toEqual(takeOffLoads(roof, criteria, whole).loads);
  });

  test('a short back span whose end lifts is pointed out', () => {
    const unequal: Strip = { ...equal, frontSpanIn: 192, rearSpanIn: 60 };
    const notices = takeOffLoads(surveyOf([unequal]), criteria, whole).notices;
    expect(notices.map((notice) => notice.id)).toContain('floor.rear-end-lifts');
    expect(notices.map((notice) => notice.id)).not.toContain('floor.front-end-lifts');
  });

  test('one span only: half of it', () => {
    const one = takeOffLoads(surveyOf([{ ...floor, rearSpanIn: 0 }]), criteria, whole);
    expect(plf(one.loads, 'floor', 'L')).toBeCloseTo(240, 9);
    expect(one.strips[0]!.rear.plf.L).toBe(0);
  });
});

describe('roof strips', () => {
  test('simple rafters up to 20 ft: pg on the leeward side, none on the windward', () => {
    const loads = takeOffLoads(ridgeRoof, criteria, whole).loads;
    expect(plf(loads, 'rafters', 'S', 'balanced')).toBeCloseTo(23.1 * 20, 9);
    expect(plf(loads, 'rafters', 'S', 'front leeward')).toBeCloseTo(30 * 10, 9);
    expect(plf(loads, 'rafters', 'S', 'rear leeward')).toBeCloseTo(30 * 10, 9);
  });

  test('longer rafters: 0.3 ps windward; ps and a surcharge against the ridge leeward', () => {
    const long: Survey = {
      ...ridgeRoof,
      roof: { ...ridgeRoof.roof!, frontEaveToRidgeIn: 288, rearEaveToRidgeIn: 288 },
      strips: [{ ...ridgeStrip, frontSpanIn: 288, rearSpanIn: 288 }],
    };
    const loads = takeOffLoads(long, { ...criteria, groundSnowPsf: 40, snowThermalFactor: 1 }, whole).loads;
    const ps = 28;
    const hd = 0.43 * Math.cbrt(24) * 50 ** 0.25 - 1.5;
    const surcharge = (hd * 19.2) / Math.SQRT2;
    const length = (8 / 3) * hd * Math.SQRT2;
    // By moments about the eave of each rafter.
    const byHand = (ps * 24) / 2 + (surcharge * length * (24 - length / 2)) / 24 + (0.3 * ps * 24) / 2;
    expect(plf(loads, 'rafters', 'S', 'front leeward')).toBeCloseTo(byHand, 9);
    expect(plf(loads, 'rafters', 'S', 'rear leeward')).toBeCloseTo(byHand, 9);
  });

  test('what is not worked out is said: drift from a higher roof, the bracing of an outer wall', () => {
    const ids = (change: Partial<Survey>, groundSnowPsf = 30) =>
      takeOffLoads({ ...ridgeRoof, ...change }, { ...criteria, groundSnowPsf }, whole).notices.map(
        ({ id }) => id,
      );
    expect(ids({ wallIsExterior: true })).toEqual(
      expect.arrayContaining(['snow.higher-roof', 'wall.bracing']),
    );
    expect(ids({ wallIsExterior: false })).not.toContain('wall.bracing');
    expect(ids({}, 0)).not.toContain('snow.higher-roof');
  });

  test('rafters that stop short of the ridge are not the simple case of 7.6.1: the drift counts', () => {
    const short: Survey = {
      ...ridgeRoof,
      roof: { ...ridgeRoof.roof!, frontEaveToRidgeIn: 240, rearEaveToRidgeIn: 240 },
      strips: [{ ...ridgeStrip, frontSpanIn: 96, rearSpanIn: 0 }],
    };
    const loads = takeOffLoads(short, { ...criteria, groundSnowPsf: 40, snowThermalFactor: 1 }, whole).loads;
    const hd = 0.43 * Math.cbrt(20) * 50 ** 0.25 - 1.5;
    const surcharge = (hd * 19.2) / Math.SQRT2;
    const length = (8 / 3) * hd * Math.SQRT2;
    // 28 psf of ps, and the drift next to the wall, by moments about the far end: more than 40 psf all over.
    const byHand = (28 * 8) / 2 + (surcharge * length * (8 - length / 2)) / 8;
    expect(plf(loads, 'rafters', 'S', 'front leeward')).toBeCloseTo(byHand, 9);
    expect(byHand).toBeGreaterThan((40 * 8) / 2);
  });

  test('uplift is upward, 20 psf on 20 ft: -400 plf', () => {
    const loads = takeOffLoads(ridgeRoof, { ...criteria, windUpliftPsf: 20 }, whole).loads;
    expect(plf(loads, 'rafters', 'W')).toBeCloseTo(-400, 9);
  });

  test('roof live load is reduced by the area over the opening', () => {
    // 20 ft × 130 ÷ 12 ft = 216.7 ft²; R1 = 0.98333, R2 = 0.9
    const loads = takeOffLoads(ridgeRoof, criteria, whole).loads;
    expect(plf(loads, 'rafters', 'Lr')).toBeCloseTo(20 * (1.2 - 0.001 * 20 * (130 / 12)) * 0.9 * 20, 9);
  });

  test('without a described roof unbalanced snow is not silently left out', () => {
    const bare = withoutRoof({ ...ridgeRoof, strips: [{ ...ridgeStrip, roofRiseIn12: 6 }] });
    const takeOff = takeOffLoads(bare, criteria, whole);
    expect(takeOff.notices).toContainEqual(
      expect.objectContaining({ id: 'snow.unbalanced-not-run', severity: 'caution' }),
    );
  });

  test('7-22 asks for the winter wind parameter where drift has to be run', () => {
    const long: Survey = { ...ridgeRoof, roof: { ...ridgeRoof.roof!, frontEaveToRidgeIn: 300 } };
    const in22: Criteria = { ...criteria, editions: { ...criteria.editions, asce7: '7-22' } };
    expect(refusalOf(() => takeOffLoads(long, in22, whole)).path).toBe('winterWindParameter');
    expect(takeOffLoads(long, { ...in22, winterWindParameter: 0.45 }, whole).loads.length).toBeGreaterThan(0);
  });
});

describe('braces under drifted snow', () => {
  const lower: Survey = { ...survey, roof: { ...survey.roof!, riseIn12: 6 }, braces: [survey.braces[0]!] };
  const withPurlin = (purlinFromEaveIn: number): Brace => ({ ...survey.braces[0]!, purlinFromEaveIn });

  test('a purlin near the eave is outside the surcharge; unknown counts in full', () => {
    const unknown = takeOffLoads(lower, criteria, whole);
    const eave = takeOffLoads({ ...lower, braces: [withPurlin(0)] }, criteria, whole);
    const ridge = takeOffLoads({ ...lower, braces: [withPurlin(156)] }, criteria, whole);
    const frontLee = (takeOff: typeof unknown): number => takeOff.braces[0]!.snowLb['front leeward']!;
    // W = 156 in; the area of a purlin at the eave begins 78 in from the ridge, beyond the surcharge's 65 in.
    expect(frontLee(eave)).toBeCloseTo(26 * 23.1, 9);
    expect(frontLee(ridge)).toBeGreaterThan(frontLee(eave));
    expect(frontLee(unknown)).toBeGreaterThan(frontLee(ridge));
    expect(unknown.braces[0]!.snowLb['rear leeward']).toBeCloseTo(26 * 0.3 * 23.1, 9);
  });

  test('a purlin beyond the ridge is refused', () => {
    const refusal = refusalOf(() => takeOffLoads({ ...lower, braces: [withPurlin(157)] }, criteria, whole));
    expect(refusal.path).toBe('braces.0.purlinFromEaveIn');
  });

  test('a landing with snow lies as surveyed in every case of the roof', () => {
    const withLanding: Survey = {
      ...lower,
      landings: [
        {
          id: 'post',
          label: 'Post',
          evidence: 'from plans',
          positionIn: 60,
          deadLb: 500,
          liveLb: 0,
          roofLiveLb: 0,
          snowLb: 700,
          upliftLb: 100,
        },
      ],
    };
    const loads = takeOffLoads(withLanding, criteria, whole).loads;
    for (const snowCase of ['balanced', 'front leeward', 'rear leeward']) {
      expect(plf(loads, 'post', 'S', snowCase)).toBe(700);
    }
    expect(plf(loads, 'post', 'W')).toBe(-100);
    // Without a roof that has cases, once.
    const alone = takeOffLoads({ ...withLanding, braces: [] }, criteria, whole).loads;
    expect(alone.filter((load) => load.kind === 'S')).toHaveLength(1);
  });
});

describe('IRC R802.4.5 purlin braces', () => {
  const ids = (braces: readonly Brace[]): string[] =>
    takeOffLoads({ ...survey, braces: [...braces] }, criteria, whole)
      .notices.filter((notice) => notice.severity === 'caution')
      .map((notice) => notice.id);
  const [first, second] = survey.braces as [Brace, Brace];

  test.each<[string, Partial<Brace>, string[]]>([
    ['44.9° is too flat', { angleDeg: 44.9 }, ['brace-front-1.angle']],
    ['45° is not', { angleDeg: 45 }, []],
    ['8 ft 1 in is too long', { lengthIn: 97 }, ['brace-front-1.length']],
    ['8 ft is not', { lengthIn: 96 }, []],
    ['4 ft 1 in apart is too far', { positionIn: 40 }, ['brace-front-1.spacing']],
  ])('%s', (_name, change, expected) => {
    expect(ids([{ ...first, ...change }, second])).toEqual(expected);
  });

  test('braces of the other slope do not close a gap', () => {
    const rear: Brace = { ...second, id: 'r', side: 'rear' };
    expect(ids([{ ...first, positionIn: 0 }, { ...rear, positionIn: 45 }, second])).toEqual([
      'brace-front-1.spacing',
    ]);
  });
});

describe('surveys that make no sense', () => {
  test.each<[string, Survey]>([
    ['strips.0.frontSpanIn', surveyOf([{ ...floor, frontSpanIn: 0, rearSpanIn: 0 }])],
    ['strips.0.overWall', surveyOf([{ ...floor, rearSpanIn: 0, overWall: 'continuous' }])],
    ['strips.0.toIn', surveyOf([{ ...floor, fromIn: 100, toIn: 100 }])],
    ['strips.0.toIn', surveyOf([{ ...floor, toIn: 171 }])],
    ['strips.0.livePsf', surveyOf([{ ...ridgeStrip, livePsf: 20 }])],
    ['strips.1.id', surveyOf([floor, floor])],
    ['braces.0.positionIn', { ...survey, braces: [{ ...survey.braces[0]!, positionIn: 171 }] }],
    ['braces.0.angleDeg', { ...survey, braces: [{ ...survey.braces[0]!, angleDeg: 91 }] }],
    ['wallsAbove.0.toIn', { ...survey, wallsAbove: [{ ...survey.wallsAbove[0]!, toIn: 0 }] }],
    [
      'wallsAbove.0.fromIn',
      { ...survey, wallsAbove: [{ ...survey.wallsAbove[0]!, fromIn: 170, toIn: 180 }] },
    ],
  ])('%s', (path, nonsense) => {
    expect(refusalOf(() => takeOffLoads(nonsense, criteria, whole)).path).toBe(path);
  });

  test('a roof strip without a pitch anywhere', () => {
    const rest = withoutRoof(surveyOf([ridgeStrip]));
    expect(refusalOf(() => takeOffLoads(rest, criteria, whole)).path).toBe('strips.0.roofRiseIn12');
  });

  test('an assumed entry is listed for the engineer', () => {
    const notices = takeOffLoads(surveyOf([{ ...floor, evidence: 'assumed' }]), criteria, whole).notices;
    expect(notices.map((notice) => notice.id)).toEqual(['floor.assumed']);
  });
});

describe('the trace', () => {
  const many: readonly [string, Survey, Criteria][] = [
    ['house', survey, { ...criteria, windUpliftPsf: 12 }],
    ['drift', { ...survey, roof: { ...survey.roof!, riseIn12: 6 } }, criteria],
    ['drift 7-22', { ...survey, roof: { ...survey.roof!, riseIn12: 6 } }, in22()],
    ['rafters', ridgeRoof, criteria],
    [
      'continuous rafters under drift, low slope',
      {
        ...ridgeRoof,
        roof: { ...ridgeRoof.roof!, riseIn12: 2 },
        strips: [{ ...ridgeStrip, overWall: 'continuous', rearSpanIn: 200 }],
      },
      in22(),
    ],
  ];
  function in22(): Criteria {
    return { ...criteria, editions: { ...criteria.editions, asce7: '7-22' }, winterWindParameter: 0.5 };
  }

  test.each(many)('every formula, worked out from its own values, gives the result shown: %s', (_n, s, c) => {
    const takeOff = takeOffLoads(s, c, whole);
    const steps = [...takeOff.loads, ...takeOff.braces].flatMap((entry) => entry.steps);
    expect(steps.length).toBeGreaterThan(10);
    for (const step of steps) {
      expect(evaluateFormula(step), step.id).toBeCloseTo(step.result.value, 8);
    }
    for (const load of takeOff.loads) {
      const last = load.steps.at(-1)!;
      expect(last.result.value).toBe(load.form === 'line' ? load.loadPlf : load.loadLb);
    }
  });

  test('more load on the survey never means less on the wall', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 24, max: 240 }),
        fc.integer({ min: 24, max: 240 }),
        fc.constantFrom('lapped' as const, 'continuous' as const),
        (deadPsf, livePsf, frontSpanIn, rearSpanIn, overWall) => {
          const strip: Strip = { ...floor, deadPsf, livePsf, frontSpanIn, rearSpanIn, overWall };
          const heavier: Strip = { ...strip, deadPsf: deadPsf + 1, livePsf: livePsf + 1 };
          const light = takeOffLoads(surveyOf([strip]), criteria, whole).loads;
          const heavy = takeOffLoads(surveyOf([heavier]), criteria, whole).loads;
          for (const kind of ['D', 'L'] as const) {
            expect(plf(light, 'floor', kind)).toBeGreaterThanOrEqual(0);
            expect(plf(heavy, 'floor', kind)).toBeGreaterThan(plf(light, 'floor', kind));
          }
        },
      ),
    );
  });
});
