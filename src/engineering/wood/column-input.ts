import { notNegative, positive, refuseUnless } from '../trace/refusal.ts';
import type { NdsEdition } from './clauses.ts';
import { type ServiceConditions, validateConditions } from './conditions.ts';
import { validLoadDuration } from './factors.ts';
import type { WoodMember } from './member.ts';
import type { UnbracedLoadCase } from './stability.ts';

/**
 * How the plies of a column are joined. `nailed` and `bolted` mean: by the rules of NDS 15.3.3 and 15.3.4
 * (`checkBuiltUpNailing`, `checkBuiltUpBolting`). `not qualifying`: each ply stands alone.
 */
export type ColumnFastening = 'solid' | 'nailed' | 'bolted' | 'not qualifying';

export interface WoodColumnCombination {
  readonly name: string;
  readonly loadDuration: number;
  /** Compression, lb; zero or more. */
  readonly axialLb: number;
  /** Bending about the strong axis (wind on a king), lb-in, as a magnitude. */
  readonly strongMomentLbIn?: number;
  /** Bending about the weak axis, across the plies, lb-in, as a magnitude. */
  readonly weakMomentLbIn?: number;
}

export interface WoodColumnInput {
  /** Prefix of the check ids; 'column' where omitted. */
  readonly id?: string;
  readonly edition: NdsEdition;
  /** `depthIn` is d1, the wide face of a ply; `breadthIn` is d2, across all plies. */
  readonly member: WoodMember;
  readonly fastening: ColumnFastening;
  readonly conditions?: ServiceConditions;
  readonly heightIn: number;
  /**
   * Between points that hold the column against buckling in the direction of d1, in; 0: held throughout;
   * the height if omitted.
   */
  readonly strongUnbracedIn?: number;
  /** The same in the direction of d2, along the wall; the height if omitted. */
  readonly weakUnbracedIn?: number;
  /** Ke of NDS Appendix G; 1.0 (pinned ends) if omitted. */
  readonly effectiveLengthFactor?: number;
  /** Between points that hold the compressed edge in bending; the weak axis bracing if omitted. */
  readonly edgeUnbracedIn?: number;
  /** Loading between those points, NDS Table 3.3.3; 'any' where omitted. */
  readonly edgeLoadCase?: UnbracedLoadCase;
  /** le/d up to 75 while building (NDS 3.7.1.4). */
  readonly whileBuilding?: boolean;
  /** Load off the centre, in, in the direction of d1 and of d2 (NDS 15.4). */
  readonly eccentricity?: { readonly strongIn: number; readonly weakIn: number };
  readonly combinations: readonly WoodColumnCombination[];
}

const MAX_PLIES = 5;
const THINNEST_PLY_IN = 1.5;

/**
 * Refuses what can't be built or loaded, and packs outside NDS 15.3.1 that claim to act as one.
 * @throws Refusal with the path of the field.
 */
export function validateWoodColumn(input: WoodColumnInput, conditions: ServiceConditions): void {
  validateConditions(conditions);
  positive(input.heightIn, 'heightIn');
  for (const key of ['strongUnbracedIn', 'weakUnbracedIn', 'edgeUnbracedIn'] as const) {
    const value = input[key];
    if (value !== undefined) notNegative(value, key);
  }
  if (input.effectiveLengthFactor !== undefined) {
    positive(input.effectiveLengthFactor, 'effectiveLengthFactor');
  }
  if (input.eccentricity !== undefined) {
    notNegative(input.eccentricity.strongIn, 'eccentricity.strongIn');
    notNegative(input.eccentricity.weakIn, 'eccentricity.weakIn');
  }
  validateFastening(input.member, input.fastening);
  refuseUnless(
    input.member.material.reference.fcPsi > 0,
    'member',
    `${input.member.label} has no compression value Fc; its report has to give one before it can be a column.`,
  );
  refuseUnless(
    input.combinations.length > 0,
    'combinations',
    'A column is checked for one combination at least.',
  );
  input.combinations.forEach((combination, at) => {
    validLoadDuration(combination.loadDuration, `combinations.${at}.loadDuration`);
    notNegative(combination.axialLb, `combinations.${at}.axialLb`);
    notNegative(combination.strongMomentLbIn ?? 0, `combinations.${at}.strongMomentLbIn`);
    notNegative(combination.weakMomentLbIn ?? 0, `combinations.${at}.weakMomentLbIn`);
  });
}

/** NDS 15.3.1: two to five plies, each 1-1/2 in or more; one piece is solid. */
function validateFastening(member: WoodMember, fastening: ColumnFastening): void {
  if (member.plies === 1) return;
  refuseUnless(
    fastening !== 'solid',
    'fastening',
    'Several plies are not a solid post: say how they are joined.',
  );
  if (fastening === 'not qualifying') return;
  refuseUnless(
    member.plies <= MAX_PLIES,
    'member.plies',
    'A built-up column has two to five plies (NDS 15.3.1); count the rest as separate studs.',
  );
  refuseUnless(
    member.plyThicknessIn >= THINNEST_PLY_IN,
    'member.plyThicknessIn',
    'Each ply of a built-up column is 1-1/2 in or more thick (NDS 15.3.1).',
  );
}
