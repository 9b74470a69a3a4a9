import { combine, extremesOf, type Governing } from '../statics/index.ts';
import type { Check, Notice } from '../trace/step.ts';
import {
  checkWoodBeam,
  memberFactors,
  ORDINARY_CONDITIONS,
  stiffnessLbIn2,
  woodMember,
  type WoodBeamInput,
  type WoodMember,
} from '../wood/index.ts';
import { analyseBeamActions, withOwnWeight, type BeamActions, type BeamCombination } from './beam-actions.ts';
import type { Criteria } from './criteria.ts';
import type { Beam } from './design.ts';
import { actWithFlitch } from './flitch-beam.ts';
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

/** Judges the member by the standard of its material. */
export function actWith(survey: Survey, criteria: Criteria, beam: Beam): ActedBeam {
  const { member } = beam;
  switch (member.kind) {
    case 'steel':
      return actWithSteel(survey, criteria, { ...beam, member });
    case 'flitch':
      return actWithFlitch(survey, criteria, { ...beam, member });
    case 'sawn':
    case 'composite':
    case 'glulam': {
      const wood = woodMember(member, criteria.editions.nds);
      const actions = analyseBeamActions(survey, criteria, beam, wood.weightPlf, wood.depthIn);
      const input = woodBeamInput(woodDemands(actions, criteria), survey, criteria, beam, wood);
      return {
        actions,
        checks: checkWoodBeam(input),
        notices: woodNotices(wood),
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

/** Numbers so small against the largest that they are rounding, not uplift. */
const NOTHING = 1e-9;

function pushDown(value: number, scale: number): number {
  return value > NOTHING * scale ? value : 0;
}

/** The part of a wood beam's input that its statics decide, whatever the member: the search makes it once a weight. */
export function woodDemands(
  actions: BeamActions,
  criteria: Criteria,
): Pick<WoodBeamInput, 'spanIn' | 'combinations' | 'bearings' | 'deflections' | 'limits'> {
  const { geometry, envelope, envelopeForShear, combinations } = actions;
  const scale = Math.max(1, Math.abs(envelope.momentLbIn.max.value), Math.abs(envelope.momentLbIn.min.value));
  return {
    spanIn: geometry.spanIn,
    combinations: envelope.byCombination.map((one, index) => {
      const near = envelopeForShear.byCombination[index] ?? one;
      return {
        name: one.combination.name,
        loadDuration: one.combination.durationFactor,
        momentLbIn: pushDown(one.momentLbIn.max.value, scale),
        momentNegativeLbIn: pushDown(-one.momentLbIn.min.value, scale),
        shearLb: largest(near.shearLb),
        shearAtSupportLb: largest(one.shearLb),
        reactionsLb: one.reactions.map(({ forceLb }) => Math.max(0, forceLb.max.value)),
      };
    }),
    bearings: [
      { id: 'left', label: 'left bearing', lengthIn: geometry.bearingLeftIn, endDistanceIn: 0 },
      { id: 'right', label: 'right bearing', lengthIn: geometry.bearingRightIn, endDistanceIn: 0 },
    ],
    deflections: deflectionDemands(actions, combinations),
    limits: deflectionLimits(criteria),
  };
}

export function woodBeamInput(
  demands: ReturnType<typeof woodDemands>,
  survey: Survey,
  criteria: Criteria,
  beam: Pick<Beam, 'unbracedIn' | 'endNotchIn' | 'wet'>,
  member: WoodMember,
): WoodBeamInput {
  return {
    ...demands,
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

function largest({ max, min }: { readonly max: Governing; readonly min: Governing }): number {
  return Math.max(max.value, -min.value, 0);
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
  actions: BeamActions,
  combinations: readonly BeamCombination[],
): WoodBeamInput['deflections'] {
  const { geometry } = actions;
  const dead = peakDeflection(actions, { D: 1 });
  const demands = new Map<string, WoodBeamInput['deflections'][number]>();
  for (const { factors, combination, name } of combinations) {
    const { W = 0, ...rest } = factors;
    if (W !== 0 || combination.factors.D !== 1) continue;
    const passing = { ...rest, D: 0 };
    const words = name.replace(/^D( \+ )?/, '');
    demands.set(words, {
      id: 'span',
      name: words === '' ? 'D alone' : words,
      spanIn: geometry.spanIn,
      shortTermEiLbIn3: peakDeflection(actions, passing),
      longTermEiLbIn3: dead,
    });
  }
  return [...demands.values()];
}

/** The largest sag of the span under some loads, as E·I·δ; the sign is that of the larger of sag and rise. */
export function peakDeflection(
  { solved, weightPlf }: Pick<BeamActions, 'solved' | 'weightPlf'>,
  factors: Readonly<Record<string, number>>,
): number {
  const { max, min } = extremesOf(combine(solved, withOwnWeight(factors, weightPlf))).deflectionIn;
  return max.value >= -min.value ? max.value : min.value;
}
