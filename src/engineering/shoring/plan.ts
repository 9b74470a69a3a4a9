import type { Criteria } from '../proposal/criteria.ts';
import type { Shoring } from '../proposal/design.ts';
import type { Survey } from '../proposal/survey.ts';
import { takeOffLoads } from '../loads/index.ts';
import { Refusal, type Check, type Notice } from '../trace/index.ts';
import { woodMember } from '../wood/index.ts';
import { cautions, type Caution } from './cautions.ts';
import { standingDurationFactor, temporaryWallLoads, type TemporaryWallLoad } from './line-loads.ts';
import { reachChecks, reachNotices, storeysToShore } from './reach.ts';
import { checkSoleOnSlab, loadBelowNotice, USUAL_SLAB_IN } from './sole.ts';
import { workSequence, type WorkStep } from './sequence.ts';
import {
  braceStations,
  checkStrongback,
  strongbackNotices,
  type BraceStation,
  type Strongback,
} from './strongback.ts';
import { checkStudWall } from './stud-wall.ts';

export interface ShoringInput {
  readonly survey: Survey;
  readonly criteria: Criteria;
  readonly shoring: Shoring;
  /** A flush beam cuts the floor and ceiling joists over the wall. */
  readonly joistsCut: boolean;
  /** New pads are poured under the packs. */
  readonly newPads: boolean;
  /** Days the shoring carries; omitted: 60, so that CD is 1.15. */
  readonly daysStanding?: number;
  /** Measured, where the sole stands on a slab; omitted: 3 1/2 in. */
  readonly slabThicknessIn?: number;
  /** Omitted: two 2x10 of the studs' species, No.2. */
  readonly strongback?: Strongback;
}

export interface ShoringResult {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
  readonly walls: readonly (TemporaryWallLoad & { readonly studLoadLb: number })[];
  readonly stations: readonly BraceStation[];
  readonly storeysNeeded: number;
  readonly sequence: readonly WorkStep[];
  readonly cautions: readonly Caution[];
}

const USUAL_DAYS = 60;

/**
 * The shoring plan of one opening: what comes on each temporary wall by statics, the stud wall, strongbacks for roof
 * braces, whether it reaches every side and storey, and the order of work.
 * Where a side that must be shored is left out the loads can not be worked out: that check fails and stands alone.
 * Refuses what load take-off, statics and wood refuse.
 */
export function checkShoring(input: ShoringInput): ShoringResult {
  const { survey, criteria, shoring, joistsCut } = input;
  const { editions } = criteria;
  const days = input.daysStanding ?? USUAL_DAYS;
  const takeOff = takeOffLoads(survey, criteria, { joistsAtBeam: 'as surveyed' });
  const reach = reachChecks(survey, shoring, joistsCut);
  const stations = braceStations(takeOff);
  const always = {
    stations,
    storeysNeeded: storeysToShore(survey),
    sequence: workSequence({ survey, shoring, newPads: input.newPads }),
    cautions,
  };
  const notices = [...reachNotices(survey, shoring), ...strongbackNotices(stations)];
  if (reach.some((check) => check.id === 'shoring.sides' && !check.passes)) {
    return { checks: reach, notices, walls: [], ...always };
  }

  const loads = temporaryWallLoads({
    takeOff,
    sides: shoring.sides,
    offsetIn: shoring.offsetIn,
    joistsCut,
    editions,
    daysStanding: days,
  });
  const stud = woodMember(
    { kind: 'sawn', species: shoring.species, grade: shoring.grade, size: shoring.studSize, plies: 1 },
    editions.nds,
    'shoring',
  );
  const walls = loads.flatMap((load) =>
    checkStudWall({
      load,
      species: shoring.species,
      grade: shoring.grade,
      studSize: shoring.studSize,
      studSpacingIn: shoring.studSpacingIn,
      heightIn: survey.wallHeightIn,
      midHeightBracingIn: shoring.midHeightBracingIn,
      topPlates: shoring.topPlates,
      joistSpacingIn: joistSpacing(survey),
      editions,
    }),
  );
  const onSlab = shoring.soleOn === 'slab';
  const soles = onSlab
    ? loads.map((load) =>
        checkSoleOnSlab({
          load,
          soleWidthIn: stud.depthIn,
          slabThicknessIn: input.slabThicknessIn ?? USUAL_SLAB_IN,
          soilBearingPsf: criteria.soilBearingPsf,
          editions,
        }),
      )
    : [];
  const strongbacks =
    shoring.bracesRelanded && shoring.sides === 'both'
      ? checkStrongback({
          strongback: input.strongback ?? { species: shoring.species, grade: 'No.2', size: '2x10', plies: 2 },
          stations,
          offsetIn: shoring.offsetIn,
          loadDuration: Math.max(1.15, standingDurationFactor(days)),
          stud,
          studHeightIn: survey.wallHeightIn - (shoring.topPlates + 1) * stud.plyThicknessIn,
          midHeightBracingIn: shoring.midHeightBracingIn,
          editions,
        })
      : [];
  return {
    checks: [...reach, ...walls, ...soles, ...strongbacks],
    notices: [...notices, ...(onSlab ? [] : loads.map(loadBelowNotice))],
    walls: loads.map((load) => ({
      ...load,
      studLoadLb: (load.heaviest.loadPlf * shoring.studSpacingIn) / 12,
    })),
    ...always,
  };
}

/** The joists that come down on the temporary walls: floors and ceilings, the widest spaced; else the rafters. */
function joistSpacing(survey: Survey): number {
  const carried = survey.strips.filter((strip) => strip.carries !== 'roof');
  const spacings = (carried.length > 0 ? carried : survey.strips).map((strip) => strip.spacingIn);
  if (spacings.length === 0) {
    throw new Refusal('survey.strips', 'Nothing bears on the wall in the survey: there is nothing to shore.');
  }
  return Math.max(...spacings);
}
