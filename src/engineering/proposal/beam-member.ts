import type { Check, Notice } from '../trace/step.ts';
import {
  bearingResistance,
  checkWoodBeam,
  memberFactors,
  ORDINARY_CONDITIONS,
  stiffnessLbIn2,
  woodMember,
  type WoodBeamInput,
  type WoodMember,
} from '../wood/index.ts';
import {
  actOn,
  peakSag,
  prepareBeam,
  withOwnWeight,
  type BeamActions,
  type PassingSag,
  type PreparedBeam,
} from './beam-actions.ts';
import { forcesOf, type CombinationForces } from './beam-forces.ts';
import type { BeamGeometry } from './beam-geometry.ts';
import type { Criteria } from './criteria.ts';
import type { Beam } from './design.ts';
import { actWithFlitch } from './flitch-beam.ts';
import { landingsOnTop, LEAST_FOOT_IN } from './landings-on-top.ts';
import { actWithSteel } from './steel-beam.ts';
import type { Survey } from './survey.ts';

/** The beam under its loads, judged. */
export interface ActedBeam {
  readonly actions: BeamActions;
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
  readonly weightPlf: number;
  /** E′·I without creep, lb-in²: what E·I·δ of the statics is divided by. */
  readonly rigidityLbIn2: number;
}

/**
 * Judges the member by the standard of its material.
 *
 * @param prepared the opening's loads and statics, where they are known already
 */
export function actWith(
  survey: Survey,
  criteria: Criteria,
  beam: Beam,
  prepared: PreparedBeam = prepareBeam(survey, criteria, beam),
): ActedBeam {
  const { member } = beam;
  switch (member.kind) {
    case 'steel':
      return actWithSteel(survey, criteria, { ...beam, member }, prepared);
    case 'flitch':
      return actWithFlitch(survey, criteria, { ...beam, member }, prepared);
    case 'sawn':
    case 'composite':
    case 'glulam': {
      const wood = woodMember(member, criteria.editions.nds);
      const actions = actOn(prepared, wood.weightPlf, wood.depthIn);
      const demands = woodDemands(actions.geometry, forcesOf(actions), deflectionDemands(actions), criteria);
      const input = woodBeamInput(demands, survey, criteria, beam, wood);
      return {
        actions,
        checks: checkWoodBeam(input),
        notices: [...woodNotices(wood), ...footNotices(wood, actions, input, criteria)],
        weightPlf: wood.weightPlf,
        rigidityLbIn2: stiffnessLbIn2(wood, memberFactors(wood, input.conditions ?? ORDINARY_CONDITIONS)),
      };
    }
  }
}

function woodNotices({ material }: WoodMember): Notice[] {
  return material.note === undefined
    ? []
    : [{ id: 'member.note', severity: 'note', text: material.note, clause: material.clause }];
}

/**
 * Posts and braces press the top of the beam across its grain (NDS 3.10.2). How long their feet are the survey does
 * not say: what each needs is said where one stud's thickness would crush the beam. Cb is not counted on.
 */
function footNotices(
  { material, breadthIn }: WoodMember,
  actions: BeamActions,
  { conditions = ORDINARY_CONDITIONS }: WoodBeamInput,
  criteria: Criteria,
): Notice[] {
  const { adjustedPsi } = bearingResistance(material, conditions, LEAST_FOOT_IN, 0);
  return landingsOnTop(actions).flatMap(({ label, loadLb, governing }, index): Notice[] => {
    const neededIn = loadLb / (adjustedPsi * breadthIn);
    if (neededIn <= LEAST_FOOT_IN) return [];
    // Up to the next eighth, never down.
    const shownIn = Math.ceil(neededIn * 8) / 8;
    return [
      {
        id: `beam.foot.${index + 1}`,
        severity: 'caution',
        text: `${label} presses the beam with ${Math.round(loadLb)} lb (${governing}): over the beam’s full breadth of ${breadthIn} in its foot must be at least ${shownIn} in long along the beam, or the beam crushes there. The same goes for plates and blocks between them, by their own value across the grain.`,
        clause: {
          standard: 'NDS',
          edition: criteria.editions.nds,
          section: '3.10.2',
          provenance: 'from memory',
        },
      },
    ];
  });
}

/** Numbers so small against the largest that they are rounding, not uplift. */
const NOTHING = 1e-9;

function pushDown(value: number, scale: number): number {
  return value > NOTHING * scale ? value : 0;
}

type Demands = Pick<WoodBeamInput, 'spanIn' | 'combinations' | 'bearings' | 'deflections' | 'limits'>;

/** The part of a wood beam's input that its statics decide, whatever the member: the search makes it once a weight. */
export function woodDemands(
  geometry: BeamGeometry,
  forces: readonly CombinationForces[],
  deflections: WoodBeamInput['deflections'],
  criteria: Criteria,
): Demands {
  const scale = Math.max(1, ...forces.map((one) => Math.max(one.momentMaxLbIn, -one.momentMinLbIn)));
  return {
    spanIn: geometry.spanIn,
    combinations: forces.map((one) => ({
      name: one.name,
      loadDuration: one.durationFactor,
      momentLbIn: pushDown(one.momentMaxLbIn, scale),
      momentNegativeLbIn: pushDown(-one.momentMinLbIn, scale),
      shearLb: one.shearNearLb,
      shearAtSupportLb: one.shearLb,
      reactionsLb: one.reactionsLb.map((forceLb) => Math.max(0, forceLb)),
    })),
    bearings: [
      { id: 'left', label: 'left bearing', lengthIn: geometry.bearingLeftIn, endDistanceIn: 0 },
      { id: 'right', label: 'right bearing', lengthIn: geometry.bearingRightIn, endDistanceIn: 0 },
    ],
    deflections,
    limits: deflectionLimits(criteria),
  };
}

export function woodBeamInput(
  demands: Demands,
  survey: Survey,
  criteria: Criteria,
  beam: Pick<Beam, 'unbracedIn' | 'endNotchIn' | 'wet'>,
  member: WoodMember,
): WoodBeamInput {
  // A beam wider than the studs under it bears on their depth alone.
  const bearings =
    member.breadthIn <= survey.wallThicknessIn
      ? demands.bearings
      : demands.bearings.map((bearing) => ({ ...bearing, widthIn: survey.wallThicknessIn }));
  return {
    ...demands,
    bearings,
    edition: criteria.editions.nds,
    member,
    bracing: {
      topIn: beam.unbracedIn ?? joistSpacing(survey, demands.spanIn),
      // Under uplift the bottom edge is pressed, and nothing is counted on to hold it between the supports.
      bottomIn: demands.spanIn,
    },
    ...(beam.endNotchIn === undefined || beam.endNotchIn === 0
      ? {}
      : { notch: { location: 'end', edge: 'tension', depthIn: beam.endNotchIn, reachIn: 0 } as const }),
    ...(beam.wet === true
      ? { conditions: { wet: true, temperatureF: 75, incised: false, repetitive: false, seasoned: false } }
      : {}),
  };
}

/** Joists that land on or hang from the beam hold its upper edge; without any, nothing does. */
export function joistSpacing(survey: Survey, spanIn: number): number {
  const spacings = survey.strips.filter((strip) => strip.carries !== 'roof').map((strip) => strip.spacingIn);
  return spacings.length === 0 ? spanIn : Math.min(spanIn, ...spacings);
}

export function deflectionLimits(criteria: Criteria): WoodBeamInput['limits'] {
  const { liveDeflectionRatio, totalDeflectionRatio, absoluteDeflectionIn } = criteria;
  return {
    liveRatio: liveDeflectionRatio,
    totalRatio: totalDeflectionRatio,
    ...(absoluteDeflectionIn === undefined ? {} : { absoluteIn: absoluteDeflectionIn }),
  };
}

/**
 * One demand for each combination of loads that come and go, wind apart: E·I·δ of these, and of the dead load.
 * The two peaks are added even where they lie at slightly different places, which errs on the safe side.
 */
export function deflectionDemands(
  actions: Pick<BeamActions, 'geometry' | 'passing' | 'solved' | 'weightPlf'>,
): WoodBeamInput['deflections'] {
  return sagDemands(actions.geometry.spanIn, actions.passing, deadSag(actions));
}

export function sagDemands(
  spanIn: number,
  passing: readonly PassingSag[],
  deadEiLbIn3: number,
): WoodBeamInput['deflections'] {
  return passing.map(({ name, eiLbIn3 }) => ({
    id: 'span',
    name,
    spanIn,
    shortTermEiLbIn3: eiLbIn3,
    longTermEiLbIn3: deadEiLbIn3,
  }));
}

/** The sag under the dead load with the member's own weight, as E·I·δ. */
export function deadSag({ solved, weightPlf }: Pick<BeamActions, 'solved' | 'weightPlf'>): number {
  return peakSag(solved, withOwnWeight({ D: 1 }, weightPlf));
}
