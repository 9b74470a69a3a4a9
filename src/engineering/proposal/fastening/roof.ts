import type { BraceFoot, TieLine, WoodPiece } from '../../fasteners/connections/context.ts';
import { roofLiveLoad } from '../../loads/roof-live.ts';
import type { SlopeSnow } from '../../loads/snow/roof-snow.ts';
import { deadOnPlan, snowOnSurveyRoof } from '../../loads/take-off/roof-surface.ts';
import type { BeamActions } from '../beam-actions.ts';
import type { Criteria } from '../criteria.ts';
import type { Survey } from '../survey.ts';
import { governingLoad } from './governing.ts';

/** 16 gauge, 1-1/4 in wide, one over every cut joist (common practice); the listing of the strap governs. */
const STRAP = { thicknessIn: 0.054, widthIn: 1.25 } as const;

/** The surcharge at the ridge counts over the whole slope: the thrust of a drift near the ridge is the largest. */
function wholeSlopePsf(snow: SlopeSnow): number {
  return snow.uniformPsf + (snow.surcharge?.psf ?? 0);
}

/** What the rafters ask of their ties, before anything is said of straps and joists. */
type RafterPair = Pick<TieLine, 'rafters' | 'durationFactor' | 'combination'> & {
  readonly joistSpacingIn: number;
};

/**
 * Rafters whose thrust goes into ceiling joists that a flush beam cuts (IRC R802.5.2); undefined where none do. Two
 * unequal slopes are taken as a pair over twice the longer one, which thrusts more. Ties are taken at the plate.
 */
export function tiedRafters(survey: Survey, criteria: Criteria): RafterPair | undefined {
  const strip = survey.strips.find((one) => one.carries === 'ceiling' && one.tiesRafters === true);
  const { roof } = survey;
  if (strip === undefined || roof === undefined || roof.riseIn12 === 0) return undefined;
  const longerIn = Math.max(roof.frontEaveToRidgeIn, roof.rearEaveToRidgeIn);
  const spacingIn = survey.strips.find((one) => one.carries === 'roof')?.spacingIn ?? strip.spacingIn;
  const snow = snowOnSurveyRoof(criteria, roof, roof.riseIn12, survey.braces.length === 0);
  const onPair = snow.cases.map(({ front, rear }) => (wholeSlopePsf(front) + wholeSlopePsf(rear)) / 2);
  const governing = governingLoad(criteria.editions, {
    D: deadOnPlan(roof.deadOnSlopePsf, roof.riseIn12, 'ties').psf,
    Lr: roofLiveLoad({
      asce7: criteria.editions.asce7,
      tributaryFt2: (2 * longerIn * spacingIn) / 144,
      riseIn12: roof.riseIn12,
    }).psf,
    S: Math.max(0, ...onPair),
  });
  return {
    rafters: {
      spanIn: 2 * longerIn,
      riseIn12: roof.riseIn12,
      spacingIn,
      loadPlanPsf: governing.value,
      tieHeightShare: 0,
    },
    joistSpacingIn: strip.spacingIn,
    durationFactor: governing.durationFactor,
    combination: governing.combination,
  };
}

/** A strap over every cut joist that ties rafters; undefined where none do. */
export function tieLine(survey: Survey, criteria: Criteria, joist: WoodPiece): TieLine | undefined {
  const pair = tiedRafters(survey, criteria);
  if (pair === undefined) return undefined;
  const { joistSpacingIn, ...thrust } = pair;
  return {
    ...thrust,
    joist,
    strapEveryIn: joistSpacingIn,
    strapThicknessIn: STRAP.thicknessIn,
    strapWidthIn: STRAP.widthIn,
  };
}

/** The roof braces whose feet come to stand on the beam. */
export function braceFeet(
  survey: Survey,
  criteria: Criteria,
  { takeOff, geometry }: BeamActions,
  brace: WoodPiece,
  onto: WoodPiece,
): readonly BraceFoot[] {
  return takeOff.braces.flatMap((foot) => {
    if (foot.positionIn < geometry.fromIn || foot.positionIn > geometry.toIn) return [];
    const governing = governingLoad(criteria.editions, {
      D: foot.verticalLb.D,
      Lr: foot.verticalLb.Lr,
      S: Math.max(0, ...Object.values(foot.snowLb)),
    });
    const surveyed = survey.braces.find((one) => one.id === foot.id);
    if (governing.value <= 0 || surveyed === undefined) return [];
    return [
      {
        id: foot.id,
        label: foot.label,
        brace,
        onto,
        verticalLb: governing.value,
        angleDeg: surveyed.angleDeg,
        durationFactor: governing.durationFactor,
        combination: governing.combination,
      },
    ];
  });
}
