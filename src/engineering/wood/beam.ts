import { adjustedShearPsi, memberFactors, type MemberFactors } from './adjusted-values.ts';
import {
  type WoodBeamBearing,
  type WoodBeamCombination,
  type WoodBeamInput,
  validateWoodBeam,
} from './beam-input.ts';
import { bearingResistance } from './bearing.ts';
import {
  type BendingCase,
  type BendingResistance,
  bendingResistance,
  bendingStressPsi,
  type TensionFace,
} from './bending.ts';
import { ORDINARY_CONDITIONS, type ServiceConditions } from './conditions.ts';
import {
  creepFactor,
  type DeflectionDemand,
  stiffnessLbIn2,
  totalDeflectionIn,
  transientDeflectionIn,
} from './deflection.ts';
import { deepestEndNotchIn, type Notch, notchedShearLb, shearStressPsi } from './shear.ts';
import { MAX_BEAM_SLENDERNESS } from './stability.ts';

/**
 * One thing a beam can fail by, in numbers alone: its worst combination, demand, capacity and ratio. The
 * catalogue search reads these; the calculation sheet (`checkWoodBeam`) writes its steps from the same ones.
 */
interface Outcome {
  /** 'beam.bending', 'beam.bearing.left' … */
  readonly id: string;
  readonly demand: number;
  readonly capacity: number;
  readonly ratio: number;
}

export type LimitState =
  | (Outcome & {
      readonly kind: 'bending';
      readonly combination: WoodBeamCombination;
      readonly momentLbIn: number;
      readonly bending: BendingCase;
      readonly resistance: BendingResistance;
    })
  | (Outcome & { readonly kind: 'slenderness'; readonly face: TensionFace })
  | (Outcome & { readonly kind: 'shear'; readonly combination: WoodBeamCombination })
  | (Outcome & { readonly kind: 'notch depth'; readonly notch: Notch })
  | (Outcome & {
      readonly kind: 'notch shear';
      readonly notch: Notch;
      readonly combination: WoodBeamCombination;
      readonly adjustedPsi: number;
    })
  | (Outcome & {
      readonly kind: 'bearing';
      readonly bearing: WoodBeamBearing;
      readonly combination: WoodBeamCombination;
      readonly reactionLb: number;
      readonly widthIn: number;
    })
  | (Outcome & {
      readonly kind: 'live deflection' | 'total deflection' | 'absolute deflection';
      readonly deflection: DeflectionDemand;
      readonly creep: number;
    });

export interface WoodBeamNumbers {
  readonly conditions: ServiceConditions;
  readonly factors: MemberFactors;
  readonly states: readonly LimitState[];
}

/** demand ÷ capacity as `makeCheck` takes it: Infinity for a demand on no capacity. */
export function utilization(demand: number, capacity: number): number {
  if (capacity > 0) return Math.max(0, demand) / capacity;
  return demand > 0 ? Infinity : 0;
}

/**
 * Every limit state of a wood beam with its worst combination, by ratio, since CD differs.
 * @throws Refusal for input that can't be, wet composites, incised glulam, a notch in the span.
 */
export function evaluateWoodBeam(input: WoodBeamInput): WoodBeamNumbers {
  const conditions = input.conditions ?? ORDINARY_CONDITIONS;
  validateWoodBeam(input, conditions);
  const factors = memberFactors(input.member, conditions);
  const prefix = input.id ?? 'beam';
  return {
    conditions,
    factors,
    states: [
      ...bendingStates(prefix, input, factors),
      shearState(prefix, input, factors),
      ...notchStates(prefix, input, factors),
      ...input.bearings.map((bearing, at) => bearingState(prefix, input, conditions, bearing, at)),
      ...deflectionStates(prefix, input, conditions, factors),
    ],
  };
}

/** The element with the highest ratio, the first of equals. */
function worst<T extends Outcome>(states: readonly [T, ...T[]]): T {
  return states.reduce((most, state) => (state.ratio > most.ratio ? state : most));
}

function perCombination<T extends Outcome>(
  input: WoodBeamInput,
  evaluate: (combination: WoodBeamCombination) => T,
): T {
  const [first, ...rest] = input.combinations.map(evaluate);
  // validateWoodBeam refuses an empty list.
  if (first === undefined) throw new RangeError('no combination');
  return worst([first, ...rest]);
}

function bendingStates(prefix: string, input: WoodBeamInput, factors: MemberFactors): LimitState[] {
  const bottom = bendingState(`${prefix}.bending`, input, factors, 'bottom', input.bracing.topIn);
  const states: LimitState[] = [bottom, ...slendernessStates(`${prefix}.slenderness`, bottom, 'bottom')];
  if (input.combinations.some((combination) => (combination.momentNegativeLbIn ?? 0) > 0)) {
    const unbracedIn = input.bracing.bottomIn ?? 0;
    const top = bendingState(`${prefix}.bendingNegative`, input, factors, 'top', unbracedIn);
    states.push(top, ...slendernessStates(`${prefix}.slendernessNegative`, top, 'top'));
  }
  return states;
}

type BendingState = Extract<LimitState, { kind: 'bending' }>;

function bendingState(
  id: string,
  input: WoodBeamInput,
  factors: MemberFactors,
  face: TensionFace,
  unbracedIn: number,
): BendingState {
  return perCombination(input, (combination) => {
    const bending: BendingCase = {
      member: input.member,
      factors,
      loadDuration: combination.loadDuration,
      face,
      unbracedIn,
      loadCase: input.bracing.loadCase ?? 'any',
      volumeLengthIn: input.volumeLengthIn ?? input.spanIn,
    };
    const momentLbIn = face === 'bottom' ? combination.momentLbIn : (combination.momentNegativeLbIn ?? 0);
    const resistance = bendingResistance(bending);
    const demand = bendingStressPsi(momentLbIn, input.member);
    return {
      kind: 'bending',
      id,
      combination,
      momentLbIn,
      bending,
      resistance,
      demand,
      capacity: resistance.adjustedPsi,
      ratio: utilization(demand, resistance.adjustedPsi),
    };
  });
}

/** RB ≤ 50 (NDS 3.3.3.7), where there is a slenderness at all. */
function slendernessStates(id: string, bending: BendingState, face: TensionFace): LimitState[] {
  const { stability } = bending.resistance;
  if (stability.held) return [];
  const demand = stability.slenderness;
  const capacity = MAX_BEAM_SLENDERNESS;
  return [{ kind: 'slenderness', id, face, demand, capacity, ratio: utilization(demand, capacity) }];
}

function shearState(prefix: string, input: WoodBeamInput, factors: MemberFactors): LimitState {
  return perCombination(input, (combination) => {
    const demand = shearStressPsi(combination.shearLb, input.member);
    const capacity = adjustedShearPsi(input.member, factors, combination.loadDuration);
    return {
      kind: 'shear',
      id: `${prefix}.shear`,
      combination,
      demand,
      capacity,
      ratio: utilization(demand, capacity),
    };
  });
}

function notchStates(prefix: string, input: WoodBeamInput, factors: MemberFactors): LimitState[] {
  const { notch, member } = input;
  if (notch === undefined) return [];
  const deepest = deepestEndNotchIn(member, notch.edge);
  const depth: LimitState = {
    kind: 'notch depth',
    id: `${prefix}.notchDepth`,
    notch,
    demand: notch.depthIn,
    capacity: deepest,
    ratio: utilization(notch.depthIn, deepest),
  };
  const shear = perCombination(input, (combination) => {
    const demand = combination.shearAtSupportLb ?? combination.shearLb;
    const adjustedPsi = adjustedShearPsi(member, factors, combination.loadDuration);
    const capacity = notchedShearLb(member, adjustedPsi, notch);
    return {
      kind: 'notch shear' as const,
      id: `${prefix}.notchShear`,
      notch,
      combination,
      adjustedPsi,
      demand,
      capacity,
      ratio: utilization(demand, capacity),
    };
  });
  return [depth, shear];
}

function bearingState(
  prefix: string,
  input: WoodBeamInput,
  conditions: ServiceConditions,
  bearing: WoodBeamBearing,
  at: number,
): LimitState {
  const widthIn = bearing.widthIn ?? input.member.breadthIn;
  const { adjustedPsi } = bearingResistance(
    input.member.material,
    conditions,
    bearing.lengthIn,
    bearing.endDistanceIn,
  );
  return perCombination(input, (combination) => {
    const reactionLb = combination.reactionsLb[at] ?? 0;
    const demand = reactionLb / (bearing.lengthIn * widthIn);
    return {
      kind: 'bearing' as const,
      id: `${prefix}.bearing.${bearing.id}`,
      bearing,
      combination,
      reactionLb,
      widthIn,
      demand,
      capacity: adjustedPsi,
      ratio: utilization(demand, adjustedPsi),
    };
  });
}

function deflectionStates(
  prefix: string,
  input: WoodBeamInput,
  conditions: ServiceConditions,
  factors: MemberFactors,
): LimitState[] {
  const stiffness = stiffnessLbIn2(input.member, factors);
  const creep = creepFactor(input.member, conditions);
  const { liveRatio, totalRatio, absoluteIn } = input.limits;
  const kinds = [
    { kind: 'live deflection', id: `${prefix}.deflectionLive`, ratio: liveRatio, absolute: undefined },
    { kind: 'total deflection', id: `${prefix}.deflectionTotal`, ratio: totalRatio, absolute: undefined },
    ...(absoluteIn === undefined
      ? []
      : ([
          { kind: 'absolute deflection', id: `${prefix}.deflectionAbsolute`, ratio: 1, absolute: absoluteIn },
        ] as const)),
  ] as const;
  return kinds.flatMap(({ kind, id, ratio, absolute }) => {
    const states = input.deflections.map((deflection) => {
      const demand =
        kind === 'live deflection'
          ? transientDeflectionIn(deflection, stiffness)
          : totalDeflectionIn(deflection, stiffness, creep);
      const capacity = absolute ?? deflection.spanIn / ratio;
      return { kind, id, deflection, creep, demand, capacity, ratio: utilization(demand, capacity) };
    });
    const [first, ...rest] = states;
    return first === undefined ? [] : [worst([first, ...rest])];
  });
}

/** What the catalogue search needs of a candidate. */
export interface WoodBeamVerdict {
  readonly passes: boolean;
  /** The highest ratio of all limit states. */
  readonly ratio: number;
  /** Id of the limit state with that ratio; the same id as its Check. */
  readonly governedBy: string;
  readonly states: readonly LimitState[];
}

/** The slack of `makeCheck`: "exactly full" is not "over". */
const RATIO_SLACK = 1e-9;

/** The fast path: numbers alone, no steps. Agrees with `checkWoodBeam` by construction (and by test). */
export function judgeWoodBeam(input: WoodBeamInput): WoodBeamVerdict {
  const { states } = evaluateWoodBeam(input);
  let ratio = -1;
  let governedBy = '';
  for (const state of states) {
    if (state.ratio > ratio) {
      ratio = state.ratio;
      governedBy = state.id;
    }
  }
  return { passes: ratio <= 1 + RATIO_SLACK, ratio, governedBy, states };
}
