import { compressionStarPsi, memberFactors, type MemberFactors, serviceFactor } from './adjusted-values.ts';
import { utilization } from './beam.ts';
import {
  type ColumnFastening,
  validateWoodColumn,
  type WoodColumnCombination,
  type WoodColumnInput,
} from './column-input.ts';
import { type CombinedStress, combinedStress } from './combined-stress.ts';
import { ORDINARY_CONDITIONS, type ServiceConditions } from './conditions.ts';
import { onePly, type WoodMember } from './member.ts';
import {
  columnCriticalPsi,
  columnStabilityFactor,
  MAX_COLUMN_SLENDERNESS,
  MAX_COLUMN_SLENDERNESS_BUILDING,
} from './stability.ts';

/** Buckling in the direction of d1 (about the strong axis of a ply) or of d2 (across the plies). */
export type ColumnAxis = 'strong' | 'weak';

export interface AxisStability {
  readonly axis: ColumnAxis;
  readonly effectiveIn: number;
  readonly sideIn: number;
  readonly slenderness: number;
  readonly eminPsi: number;
  /** FcE. */
  readonly criticalPsi: number;
  /** Kf of NDS 15.3.2: 1 but across the plies of a built-up column. */
  readonly fasteningFactor: number;
  readonly factor: number;
}

export interface ColumnResistance {
  readonly starPsi: number;
  /** c of Eq. 3.7-1. */
  readonly c: number;
  readonly strong: AxisStability;
  readonly weak: AxisStability;
  /** One ply across its thickness, where the plies by themselves do better than the pack (15.3.2.2). */
  readonly singlePly?: AxisStability;
  readonly governing: AxisStability;
  readonly adjustedPsi: number;
}

/** A column as it is calculated: the pack, or one of its plies with its share of the load. */
export interface ActingColumn {
  readonly member: WoodMember;
  readonly fastening: ColumnFastening;
  readonly factors: MemberFactors;
  /** Part of the load that this member carries: 1, or 1 ÷ plies. */
  readonly share: number;
}

/**
 * Kf on CP where le2/d2 (across the plies) decides: 0.6 nailed, 0.75 bolted (NDS 15.3.2.4, seen).
 * About the strong axis, and in one piece: 1.
 */
export function fasteningFactor(fastening: ColumnFastening, axis: ColumnAxis, plies: number): number {
  if (axis === 'strong' || plies === 1) return 1;
  switch (fastening) {
    case 'nailed':
      return 0.6;
    case 'bolted':
      return 0.75;
    case 'solid':
    case 'not qualifying':
      return 1;
  }
}

/** c of Eq. 3.7-1: sawn 0.8, glulam and composites 0.9 (NDS 3.7.1.5, seen). */
export function stabilityShape(member: WoodMember): number {
  const { family } = member.material;
  return family === 'glulam' || family === 'composite' ? 0.9 : 0.8;
}

/** What stands: the pack as one, or each ply alone where the fastening does not qualify. */
export function actingColumn(input: WoodColumnInput): ActingColumn {
  const conditions = input.conditions ?? ORDINARY_CONDITIONS;
  const alone = input.fastening === 'not qualifying';
  const member = alone ? onePly(input.member) : input.member;
  return {
    member,
    fastening: input.fastening,
    factors: memberFactors(member, conditions),
    share: alone ? 1 / input.member.plies : 1,
  };
}

/**
 * Fc′ = Fc* · CP with CP the lesser of both axes, NDS 3.7.1 and 15.3.2; of a built-up column not less than
 * that of its plies standing alone (15.3.2.2, from memory).
 */
export function columnResistance(
  input: WoodColumnInput,
  acting: ActingColumn,
  loadDuration: number,
): ColumnResistance {
  const { member, factors } = acting;
  const starPsi = compressionStarPsi(member, factors, loadDuration);
  const c = stabilityShape(member);
  const stiffness = serviceFactor(factors, 'e');
  const ke = input.effectiveLengthFactor ?? 1;
  const along = (
    axis: ColumnAxis,
    unbracedIn: number,
    sideIn: number,
    eminPsi: number,
    plies: number,
  ): AxisStability => {
    const effectiveIn = ke * unbracedIn;
    const slenderness = effectiveIn / sideIn;
    const common = { axis, effectiveIn, sideIn, slenderness, eminPsi };
    // Held throughout: it can't buckle that way, and Kf has nothing to reduce.
    if (slenderness === 0) return { ...common, criticalPsi: Infinity, fasteningFactor: 1, factor: 1 };
    const criticalPsi = columnCriticalPsi(eminPsi, slenderness);
    const kf = fasteningFactor(acting.fastening, axis, plies);
    return {
      ...common,
      criticalPsi,
      fasteningFactor: kf,
      factor: kf * columnStabilityFactor(criticalPsi / starPsi, c),
    };
  };
  const { reference, eminWeakPsi } = member.material;
  const weakUnbracedIn = input.weakUnbracedIn ?? input.heightIn;
  const strong = along(
    'strong',
    input.strongUnbracedIn ?? input.heightIn,
    member.depthIn,
    reference.eminPsi * stiffness,
    member.plies,
  );
  const weak = along('weak', weakUnbracedIn, member.breadthIn, eminWeakPsi * stiffness, member.plies);
  const pack = { starPsi, c, strong, weak };
  const governing = lesser(strong, weak);
  if (member.plies > 1) {
    const ply = along('weak', weakUnbracedIn, member.plyThicknessIn, eminWeakPsi * stiffness, 1);
    const alone = lesser(strong, ply);
    // A ply too slender to count (le/d over 50) is far weaker than 0.6 of the pack, and never gets here.
    if (alone.factor > governing.factor) {
      return { ...pack, singlePly: ply, governing: alone, adjustedPsi: starPsi * alone.factor };
    }
  }
  return { ...pack, governing, adjustedPsi: starPsi * governing.factor };
}

/** The axis that buckles first; across the plies where both are alike. */
function lesser(strong: AxisStability, weak: AxisStability): AxisStability {
  return strong.factor < weak.factor ? strong : weak;
}

/**
 * The axial load a column carries at a load duration, lb: Fc′ · A, plies alone summed. Slenderness over the
 * limit of NDS 3.7.1.4 carries nothing that the standard recognizes: `checkWoodColumn` fails it.
 * @throws Refusal as `validateWoodColumn`.
 */
export function woodColumnCapacityLb(
  input: Omit<WoodColumnInput, 'combinations'>,
  loadDuration: number,
): number {
  const whole: WoodColumnInput = { ...input, combinations: [{ name: '', loadDuration, axialLb: 0 }] };
  validateWoodColumn(whole, input.conditions ?? ORDINARY_CONDITIONS);
  const acting = actingColumn(whole);
  const { adjustedPsi } = columnResistance(whole, acting, loadDuration);
  return (adjustedPsi * acting.member.section.areaIn2) / acting.share;
}

interface Outcome {
  readonly id: string;
  readonly demand: number;
  readonly capacity: number;
  readonly ratio: number;
}

export type ColumnState =
  | (Outcome & { readonly kind: 'slenderness'; readonly axis: AxisStability })
  | (Outcome & {
      readonly kind: 'axial';
      readonly combination: WoodColumnCombination;
      readonly resistance: ColumnResistance;
    })
  | (Outcome & {
      readonly kind: 'combined';
      readonly combination: WoodColumnCombination;
      readonly resistance: ColumnResistance;
      readonly stress: CombinedStress;
    });

export interface WoodColumnNumbers {
  readonly conditions: ServiceConditions;
  readonly acting: ActingColumn;
  readonly states: readonly ColumnState[];
}

/**
 * Slenderness, axial compression and, where anything bends the column, combined stress, each with its
 * worst combination.
 * @throws Refusal as `validateWoodColumn`.
 */
export function evaluateWoodColumn(input: WoodColumnInput): WoodColumnNumbers {
  const conditions = input.conditions ?? ORDINARY_CONDITIONS;
  validateWoodColumn(input, conditions);
  const prefix = input.id ?? 'column';
  const acting = actingColumn(input);
  const axial = axialState(`${prefix}.axial`, input, acting);
  const states: ColumnState[] = [slendernessState(`${prefix}.slenderness`, input, axial.resistance), axial];
  if (isBent(input)) states.push(combinedState(`${prefix}.combined`, input, acting));
  return { conditions, acting, states };
}

function isBent(input: WoodColumnInput): boolean {
  const { eccentricity } = input;
  if (eccentricity !== undefined && eccentricity.strongIn + eccentricity.weakIn > 0) return true;
  return input.combinations.some((c) => (c.strongMomentLbIn ?? 0) > 0 || (c.weakMomentLbIn ?? 0) > 0);
}

function slendernessState(id: string, input: WoodColumnInput, resistance: ColumnResistance): ColumnState {
  const { strong, weak } = resistance;
  const axis = strong.slenderness > weak.slenderness ? strong : weak;
  const capacity = input.whileBuilding === true ? MAX_COLUMN_SLENDERNESS_BUILDING : MAX_COLUMN_SLENDERNESS;
  return {
    kind: 'slenderness',
    id,
    axis,
    demand: axis.slenderness,
    capacity,
    ratio: utilization(axis.slenderness, capacity),
  };
}

type AxialState = Extract<ColumnState, { kind: 'axial' }>;
type CombinedState = Extract<ColumnState, { kind: 'combined' }>;

function worstOf<T extends Outcome>(
  input: WoodColumnInput,
  evaluate: (combination: WoodColumnCombination) => T,
): T {
  const [first, ...rest] = input.combinations.map(evaluate);
  // validateWoodColumn refuses an empty list.
  if (first === undefined) throw new RangeError('no combination');
  return rest.reduce((most, state) => (state.ratio > most.ratio ? state : most), first);
}

function axialState(id: string, input: WoodColumnInput, acting: ActingColumn): AxialState {
  return worstOf(input, (combination) => {
    const resistance = columnResistance(input, acting, combination.loadDuration);
    const demand = (combination.axialLb * acting.share) / acting.member.section.areaIn2;
    const capacity = resistance.adjustedPsi;
    const ratio = utilization(demand, capacity);
    return { kind: 'axial', id, combination, resistance, demand, capacity, ratio };
  });
}

function combinedState(id: string, input: WoodColumnInput, acting: ActingColumn): CombinedState {
  return worstOf(input, (combination) => {
    const resistance = columnResistance(input, acting, combination.loadDuration);
    const stress = combinedStress(input, acting, resistance, combination);
    return {
      kind: 'combined',
      id,
      combination,
      resistance,
      stress,
      demand: stress.ratio,
      capacity: 1,
      ratio: stress.ratio,
    };
  });
}
