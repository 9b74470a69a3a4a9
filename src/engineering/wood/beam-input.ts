import { finite, notNegative, positive, refuseUnless } from '../trace/refusal.ts';
import type { NdsEdition } from './clauses.ts';
import { type ServiceConditions, validateConditions } from './conditions.ts';
import type { DeflectionDemand } from './deflection.ts';
import { validLoadDuration } from './factors.ts';
import type { WoodMember } from './member.ts';
import { type Notch, validateNotch } from './shear.ts';
import type { UnbracedLoadCase } from './stability.ts';

/** The action effects of one load combination, all along the beam. */
export interface WoodBeamCombination {
  /** 'D + L'. */
  readonly name: string;
  /** CD of the shortest load in the combination (NDS 2.3.2). */
  readonly loadDuration: number;
  /** Largest moment that stretches the bottom, lb-in; zero or more. */
  readonly momentLbIn: number;
  /** Largest moment that stretches the top (over inner supports, overhangs, uplift), as a magnitude. */
  readonly momentNegativeLbIn?: number;
  /**
   * Largest shear as a magnitude. Loads within d of a support may be left out where the beam sits on the
   * support and is loaded from the opposite side (NDS 3.4.3.1); whoever did the statics decides.
   */
  readonly shearLb: number;
  /** Largest shear at a support with nothing left out, for a notched end; `shearLb` where omitted. */
  readonly shearAtSupportLb?: number;
  /** Downward reactions on the bearings, in their order; uplift as zero. */
  readonly reactionsLb: readonly number[];
}

export interface WoodBeamBearing {
  /** 'left', 'right', 'inner-1': becomes part of the check's id. */
  readonly id: string;
  readonly label: string;
  /** Along the beam. */
  readonly lengthIn: number;
  /** Across the beam; its whole breadth where omitted. */
  readonly widthIn?: number;
  /** From the bearing to the nearer end of the beam; 0 at an end. */
  readonly endDistanceIn: number;
}

export interface WoodBeamBracing {
  /** Between points that hold the top edge, in; 0: held throughout. */
  readonly topIn: number;
  /** Between points that hold the bottom edge, in; needed where the top is stretched anywhere. */
  readonly bottomIn?: number;
  /** Loading between those points, NDS Table 3.3.3; 'any' where omitted. */
  readonly loadCase?: UnbracedLoadCase;
}

export interface DeflectionLimits {
  /** Span ÷ this under loads that come and go (IRC Table R301.7). */
  readonly liveRatio: number;
  /** Span ÷ this with creep. */
  readonly totalRatio: number;
  readonly absoluteIn?: number;
}

export interface WoodBeamInput {
  /** Prefix of the check ids; 'beam' where omitted. */
  readonly id?: string;
  readonly edition: NdsEdition;
  readonly member: WoodMember;
  readonly conditions?: ServiceConditions;
  /** The longest span, in. */
  readonly spanIn: number;
  /** Between points of zero moment, for CV of glulam; the span where omitted. */
  readonly volumeLengthIn?: number;
  readonly combinations: readonly WoodBeamCombination[];
  readonly bearings: readonly WoodBeamBearing[];
  readonly deflections: readonly DeflectionDemand[];
  readonly limits: DeflectionLimits;
  readonly bracing: WoodBeamBracing;
  readonly notch?: Notch;
}

/**
 * Refuses what can't be built or loaded.
 * @throws Refusal with the path of the field.
 */
export function validateWoodBeam(input: WoodBeamInput, conditions: ServiceConditions): void {
  validateConditions(conditions);
  positive(input.spanIn, 'spanIn');
  if (input.volumeLengthIn !== undefined) positive(input.volumeLengthIn, 'volumeLengthIn');
  notNegative(input.bracing.topIn, 'bracing.topIn');
  if (input.bracing.bottomIn !== undefined) notNegative(input.bracing.bottomIn, 'bracing.bottomIn');
  positive(input.limits.liveRatio, 'limits.liveRatio');
  positive(input.limits.totalRatio, 'limits.totalRatio');
  if (input.limits.absoluteIn !== undefined) positive(input.limits.absoluteIn, 'limits.absoluteIn');
  refuseUnless(
    input.combinations.length > 0,
    'combinations',
    'A beam is checked for one combination at least.',
  );
  input.combinations.forEach((combination, at) => {
    validateCombination(combination, input, `combinations.${at}`);
  });
  input.bearings.forEach((bearing, at) => {
    positive(bearing.lengthIn, `bearings.${at}.lengthIn`);
    if (bearing.widthIn !== undefined) positive(bearing.widthIn, `bearings.${at}.widthIn`);
    notNegative(bearing.endDistanceIn, `bearings.${at}.endDistanceIn`);
  });
  input.deflections.forEach((demand, at) => {
    positive(demand.spanIn, `deflections.${at}.spanIn`);
    finite(demand.shortTermEiLbIn3, `deflections.${at}.shortTermEiLbIn3`);
    finite(demand.longTermEiLbIn3, `deflections.${at}.longTermEiLbIn3`);
  });
  if (input.notch !== undefined) validateNotch(input.notch, input.member);
}

function validateCombination(combination: WoodBeamCombination, input: WoodBeamInput, path: string): void {
  validLoadDuration(combination.loadDuration, `${path}.loadDuration`);
  notNegative(combination.momentLbIn, `${path}.momentLbIn`);
  const negative = notNegative(combination.momentNegativeLbIn ?? 0, `${path}.momentNegativeLbIn`);
  refuseUnless(
    negative === 0 || input.bracing.bottomIn !== undefined,
    'bracing.bottomIn',
    'The top is stretched somewhere: say how far apart the bottom edge is held.',
  );
  notNegative(combination.shearLb, `${path}.shearLb`);
  notNegative(combination.shearAtSupportLb ?? 0, `${path}.shearAtSupportLb`);
  refuseUnless(
    combination.reactionsLb.length === input.bearings.length,
    `${path}.reactionsLb`,
    'There is one reaction for each bearing.',
  );
  combination.reactionsLb.forEach((reaction, at) => notNegative(reaction, `${path}.reactionsLb.${at}`));
}
