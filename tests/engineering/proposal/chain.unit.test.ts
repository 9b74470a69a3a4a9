import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import { actOn, prepareBeam } from '../../../src/engineering/proposal/beam-actions.ts';
import { calculateBeam } from '../../../src/engineering/proposal/beam.ts';
import type { Criteria } from '../../../src/engineering/proposal/criteria.ts';
import type { Beam, Member } from '../../../src/engineering/proposal/design.ts';
import { openingInputSchema } from '../../../src/engineering/proposal/input.ts';
import { calculateOpening } from '../../../src/engineering/proposal/opening.ts';
import { beamCatalogue, memberKey, pieceKey } from '../../../src/engineering/proposal/search/catalogue.ts';
import { searchBeams } from '../../../src/engineering/proposal/search/search-beams.ts';
import { calculateSupport } from '../../../src/engineering/proposal/support.ts';
import type { Survey } from '../../../src/engineering/proposal/survey.ts';
import { Refusal, type Quantity } from '../../../src/engineering/trace/index.ts';

const anySurvey = fc.record({
  front: fc.integer({ min: 60, max: 240 }),
  rear: fc.integer({ min: 0, max: 240 }),
  clear: fc.integer({ min: 36, max: 168 }),
  live: fc.integer({ min: 10, max: 60 }),
  dead: fc.integer({ min: 5, max: 25 }),
  overWall: fc.constantFrom('lapped' as const, 'continuous' as const),
  postAt: fc.double({ min: 0.05, max: 0.95, noNaN: true }),
  postLb: fc.integer({ min: 0, max: 6000 }),
});
type Made = typeof anySurvey extends fc.Arbitrary<infer T> ? T : never;

function surveyOf(made: Made): Survey {
  const from = 24;
  return {
    ...demoSurvey,
    wallLengthIn: made.clear + 48,
    openingFromIn: from,
    openingToIn: from + made.clear,
    braces: [],
    wallsAbove: [],
    strips: [
      {
        id: 'floor',
        label: 'Floor',
        evidence: 'measured',
        carries: 'floor',
        frontSpanIn: made.front,
        rearSpanIn: made.rear,
        overWall: made.rear === 0 ? 'lapped' : made.overWall,
        spacingIn: 16,
        deadPsf: made.dead,
        livePsf: made.live,
      },
    ],
    landings: [
      {
        id: 'post',
        label: 'Post',
        evidence: 'measured',
        positionIn: from + made.clear * made.postAt,
        deadLb: made.postLb / 3,
        liveLb: made.postLb,
        roofLiveLb: 0,
        snowLb: 0,
        upliftLb: 0,
      },
    ],
  };
}
const lvl = (depthIn: number, plies = 3): Member => ({
  kind: 'composite',
  class: 'LVL 2.0E',
  thicknessIn: 1.75,
  depthIn,
  plies,
});
const beam = (member: Member, placement: Beam['placement'] = 'flush'): Beam => ({
  placement,
  member,
  bearingLeftIn: 3,
  bearingRightIn: 3,
});
const lb = (quantity: Quantity | string | undefined) => (quantity as Quantity).value;

describe('the chain', () => {
  it('hands down every pound: the reactions carry all that is on the beam', () => {
    fc.assert(
      fc.property(anySurvey, (made) => {
        const { actions } = calculateBeam(surveyOf(made), demoCriteria, beam(lvl(11.875)));
        for (const kind of ['D', 'L'] as const) {
          const on = actions.loads
            .filter((load) => load.kind === kind)
            .reduce(
              (sum, load) =>
                sum + (load.form === 'point' ? load.loadLb : (load.loadPlf * (load.toIn - load.fromIn)) / 12),
              0,
            );
          const down = (actions.reactions.left[kind] ?? 0) + (actions.reactions.right[kind] ?? 0);
          expect(down).toBeCloseTo(on, 6);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is the same seen from the other end', () => {
    fc.assert(
      fc.property(anySurvey, (made) => {
        const survey = surveyOf(made);
        const mirrored: Survey = {
          ...survey,
          landings: survey.landings.map((one) => ({
            ...one,
            positionIn: survey.wallLengthIn - one.positionIn,
          })),
        };
        const one = calculateBeam(survey, demoCriteria, beam(lvl(14)));
        const other = calculateBeam(mirrored, demoCriteria, beam(lvl(14)));
        expect(lb(one.outputs['left reaction'])).toBeCloseTo(lb(other.outputs['right reaction']), 5);
        expect(lb(one.outputs.moment)).toBeCloseTo(lb(other.outputs.moment), 5);
      }),
      { numRuns: 40 },
    );
  });

  it('a deeper composite never sags more or bends closer to its limit, its own weight counted', () => {
    const depths = [7.25, 9.5, 11.875, 14, 16];
    fc.assert(
      fc.property(anySurvey, (made) => {
        const survey = surveyOf(made);
        const ratios = depths.map((depth) => {
          const { checks } = calculateBeam(survey, demoCriteria, beam(lvl(depth)));
          return ['beam.bending', 'beam.shear', 'beam.deflectionLive', 'beam.deflectionTotal'].map(
            (id) => checks.find((check) => check.id === id)!.ratio,
          );
        });
        ratios.slice(1).forEach((deep, index) => {
          deep.forEach((one, place) => {
            expect(one).toBeLessThanOrEqual(ratios[index]![place]! * (1 + 1e-9));
          });
        });
      }),
      { numRuns: 30 },
    );
  });

  it('forces follow the loads: k times every load, k times every moment, shear and reaction but for the own weight', () => {
    fc.assert(
      fc.property(anySurvey, fc.double({ min: 0.1, max: 8, noNaN: true }), (made, k) => {
        const survey = surveyOf(made);
        const heavier: Survey = {
          ...survey,
          strips: survey.strips.map((one) => ({
            ...one,
            deadPsf: one.deadPsf * k,
            livePsf: one.livePsf * k,
          })),
          landings: survey.landings.map((one) => ({
            ...one,
            deadLb: one.deadLb * k,
            liveLb: one.liveLb * k,
          })),
        };
        const place = { placement: 'flush', bearingLeftIn: 3, bearingRightIn: 3 } as const;
        const light = actOn(prepareBeam(survey, demoCriteria, place), 0, 12).envelope;
        const heavy = actOn(prepareBeam(heavier, demoCriteria, place), 0, 12).envelope;
        expect(heavy.momentLbIn.max.value / light.momentLbIn.max.value).toBeCloseTo(k, 9);
        expect(heavy.shearLb.max.value / light.shearLb.max.value).toBeCloseTo(k, 9);
        expect(heavy.reactions[1]!.forceLb.max.value / light.reactions[1]!.forceLb.max.value).toBeCloseTo(
          k,
          9,
        );
      }),
      { numRuns: 40 },
    );
  });

  it('of a flitch beam each check is told once, by its worst combination', () => {
    const flitch: Member = {
      kind: 'flitch',
      species: 'DF-L',
      grade: 'No.2',
      size: '2x12',
      woodPlies: 2,
      plateThicknessIn: 0.5,
      plateDepthIn: 11,
      plates: 1,
      boltDiameterIn: 0.625,
      boltSpacingIn: 16,
    };
    const { checks, outputs } = calculateBeam(demoSurvey, demoCriteria, beam(flitch));
    expect(new Set(checks.map((check) => check.id)).size).toBe(checks.length);
    // Bearing knows no load duration: the heaviest reaction governs it, whatever governs the bending.
    const bearing = checks.find((check) => check.id === 'flitch.bearing.left')!;
    expect(bearing.demand.value).toBeCloseTo(lb(outputs['left reaction']) / (2 * 1.5 * 3), 6);
  });

  it('more live load never lowers a reaction', () => {
    fc.assert(
      fc.property(anySurvey, fc.integer({ min: 1, max: 30 }), (made, more) => {
        const light = calculateBeam(surveyOf(made), demoCriteria, beam(lvl(14)));
        const heavy = calculateBeam(
          surveyOf({ ...made, live: made.live + more }),
          demoCriteria,
          beam(lvl(14)),
        );
        expect(lb(heavy.outputs['left reaction'])).toBeGreaterThanOrEqual(lb(light.outputs['left reaction']));
      }),
      { numRuns: 30 },
    );
  });

  it('the edition decides: the same ground snow is service load in 7-16 and strength load in 7-22', () => {
    const heavy: Criteria = { ...demoCriteria, groundSnowPsf: 60 };
    const newer: Criteria = {
      ...heavy,
      editions: { ...heavy.editions, asce7: '7-22' },
      winterWindParameter: 0.35,
    };
    const older = calculateBeam(demoSurvey, heavy, demoBeam);
    const later = calculateBeam(demoSurvey, newer, demoBeam);
    expect(lb(later.outputs['left reaction'])).toBeLessThan(lb(older.outputs['left reaction']) * 0.95);
  });

  it('bends the kings of an exterior wall by wind, and not those inside', () => {
    const support = { ...demoSupports[0]!, kings: 2, jacks: 2 };
    const windy = { ...demoCriteria, windWallPsf: 30 };
    const inside = calculateSupport(demoSurvey, windy, demoBeam, support);
    expect(inside.checks.some((check) => check.id.startsWith('kings'))).toBe(false);
    const outside = calculateSupport({ ...demoSurvey, wallIsExterior: true }, windy, demoBeam, support);
    const sideways = outside.checks.find((check) => check.id === 'kings.sideways')!;
    // By hand: w = 0.6 · 30 psf · (65 + 8) in ÷ 12 = 109.5 plf; 5wh⁴ ÷ 384EI with E 1.6e6 and 2 · 20.8 in⁴.
    const w = (0.6 * 30 * (65 + 8)) / 144;
    const byHand = (5 * w * 97.125 ** 4) / (384 * 1_600_000 * 2 * ((1.5 * 5.5 ** 3) / 12));
    expect(sideways.demand.value).toBeCloseTo(byHand, 9);
    const none = calculateSupport({ ...demoSurvey, wallIsExterior: true }, windy, demoBeam, {
      ...support,
      kings: 0,
    });
    expect(none.checks.find((check) => check.id === 'kings.there')?.passes).toBe(false);
  });
});

describe('refusals carry the path of the field', () => {
  const refusal = (survey: Partial<Survey>, over: Partial<Beam> = {}) => {
    try {
      calculateBeam({ ...demoSurvey, ...survey }, demoCriteria, { ...demoBeam, ...over });
    } catch (error) {
      if (error instanceof Refusal) return error.path;
      throw error;
    }
    return null;
  };
  it.each([
    ['bearingLeftIn', refusal({ openingFromIn: 1 })],
    ['bearingRightIn', refusal({ openingToIn: 169 })],
    [
      'member.size',
      refusal({}, { member: { kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x99', plies: 2 } }),
    ],
  ])('%s', (path, found) => {
    expect(found).toBe(path);
  });

  it.each([NaN, Infinity, -16, 0])('a joist spacing of %s is refused at the edge', (spacingIn) => {
    const strips = demoSurvey.strips.map((strip) => ({ ...strip, spacingIn }));
    const parsed = openingInputSchema.safeParse({
      criteria: demoCriteria,
      survey: { ...demoSurvey, strips },
      beam: demoBeam,
      supports: demoSupports,
    });
    expect(parsed.success).toBe(false);
    expect(parsed.error?.issues[0]?.path.slice(0, 2)).toEqual(['survey', 'strips']);
  });
});

describe('the catalogue search', () => {
  const input = {
    survey: demoSurvey,
    criteria: demoCriteria,
    beam: { placement: 'flush' as const, bearingLeftIn: 4.5, bearingRightIn: 4.5 },
    depthAvailableIn: 12,
  };

  it('judges at least 2,000 members and ranks by its stated rule', () => {
    const { judged, ranked, nearMisses } = searchBeams(input);
    expect(judged).toBeGreaterThanOrEqual(2000);
    expect(judged).toBe(beamCatalogue().length);
    expect(new Set(beamCatalogue().map(memberKey)).size).toBe(judged);
    expect(ranked.length).toBeGreaterThan(10);
    for (const one of ranked) expect(one).toMatchObject({ passes: true, fitsDepth: true, failing: [] });
    ranked.slice(1).forEach((one, index) => {
      expect(one.weightPlf).toBeGreaterThanOrEqual(ranked[index]!.weightPlf);
    });
    for (const miss of nearMisses) expect(miss.failing.length).toBeGreaterThan(0);
  });

  it.each(['flush', 'dropped'] as const)(
    'says of a member what the whole calculation says of it, %s',
    (placement) => {
      const searched = searchBeams({ ...input, beam: { ...input.beam, placement }, depthAvailableIn: 100 });
      const all = new Map([...searched.ranked, ...searched.nearMisses].map((one) => [one.key, one]));
      fc.assert(
        fc.property(fc.constantFrom(...beamCatalogue()), (member) => {
          const { checks } = calculateBeam(demoSurvey, demoCriteria, { ...input.beam, placement, member });
          const worst = Math.max(...checks.map((check) => check.ratio));
          const found = all.get(memberKey(member));
          if (found === undefined) expect(worst).toBeGreaterThan(1.25);
          else {
            expect(found.utilization).toBeCloseTo(worst, 9);
            expect(found.passes).toBe(checks.every((check) => check.passes));
          }
        }),
        { numRuns: 120 },
      );
    },
  );

  it('keeps what would do but for the depth, and says by how much it is too deep', () => {
    const { ranked, nearMisses } = searchBeams({ ...input, depthAvailableIn: 11 });
    const tooDeep = nearMisses.filter((one) => one.passes);
    expect(tooDeep.length).toBeGreaterThan(0);
    for (const one of tooDeep) expect(one.failing).toEqual([{ check: 'fit.depth', ratio: one.depthIn / 11 }]);
    expect(ranked.every((one) => one.depthIn <= 11)).toBe(true);
  });

  it('puts the cheaper first where prices are known', () => {
    const { ranked } = searchBeams(input);
    const last = ranked.at(-1)!;
    const piece = pieceKey(last.member);
    const priced = searchBeams({ ...input, pricePerFoot: { [piece]: 1.5 } });
    const [first] = priced.ranked;
    expect(pieceKey(first!.member)).toBe(piece);
    // A foot of the beam is a foot of each ply.
    expect(first!.pricePerFoot).toBe(1.5 * first!.plies);
  });
});

describe('the whole opening', () => {
  it('is one function, and its verdict is that of its parts', () => {
    const outcome = calculateOpening({
      criteria: demoCriteria,
      survey: demoSurvey,
      beam: demoBeam,
      supports: demoSupports,
      footings: demoFootings,
      rows: [],
    });
    const parts = [outcome.beam, ...outcome.supports, ...outcome.footings].flatMap((part) => part.checks);
    expect(outcome.passes).toBe(parts.every((check) => check.passes));
    expect(outcome.governing?.ratio).toBe(Math.max(...parts.map((check) => check.ratio)));
    expect(outcome.materials.lines.length).toBeGreaterThan(1);
  });
});
