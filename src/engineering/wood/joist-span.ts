import { notNegative, positive, refuseUnless } from '../trace/refusal.ts';
import { adjustedShearPsi, memberFactors } from './adjusted-values.ts';
import { bendingResistance } from './bending.ts';
import { type ServiceConditions, validateConditions } from './conditions.ts';
import { stiffnessLbIn2 } from './deflection.ts';
import { validLoadDuration } from './factors.ts';
import type { WoodMember } from './member.ts';

/** A joist on two supports under one uniform load, its compressed edge held throughout. */
export interface JoistSpanInput {
  readonly member: WoodMember;
  readonly conditions: ServiceConditions;
  readonly spacingIn: number;
  readonly livePsf: number;
  readonly deadPsf: number;
  /** CD of the live load. */
  readonly loadDuration: number;
  /** Span ÷ this under live load. */
  readonly liveDeflectionRatio: number;
}

export interface JoistSpan {
  readonly bendingIn: number;
  readonly shearIn: number;
  readonly deflectionIn: number;
  /** The shortest of the three. */
  readonly spanIn: number;
  readonly governedBy: 'bending' | 'shear' | 'deflection';
}

const SQUARE_INCHES_PER_SQUARE_FOOT = 144;

/**
 * The longest simple span, in, by bending (wL²/8 = Fb′S), shear (w(L/2 − d) = 2/3 · Fv′A) and deflection
 * (5wL⁴/384EI = L/n under live load): the basis of the IRC joist tables (mechanics; NDS 3.3, 3.4, 3.5).
 *
 * @throws Refusal for a live load, spacing or limit of zero or less, a negative dead load, and for glulam.
 */
export function longestJoistSpan(input: JoistSpanInput): JoistSpan {
  validateConditions(input.conditions);
  const spacingIn = positive(input.spacingIn, 'spacingIn');
  const livePsf = positive(input.livePsf, 'livePsf');
  const deadPsf = notNegative(input.deadPsf, 'deadPsf');
  const limit = positive(input.liveDeflectionRatio, 'liveDeflectionRatio');
  const loadDuration = validLoadDuration(input.loadDuration, 'loadDuration');
  const { member } = input;
  refuseUnless(
    member.material.family !== 'glulam',
    'member',
    'The volume factor of glulam needs the span; check it as a beam.',
  );
  const factors = memberFactors(member, input.conditions);
  const perSquareInch = spacingIn / SQUARE_INCHES_PER_SQUARE_FOOT;
  const totalLbPerIn = (livePsf + deadPsf) * perSquareInch;
  const { adjustedPsi } = bendingResistance({
    member,
    factors,
    loadDuration,
    face: 'bottom',
    unbracedIn: 0,
    loadCase: 'any',
    // No length effect outside glulam, which is refused above.
    volumeLengthIn: 1,
  });
  const bendingIn = Math.sqrt((8 * adjustedPsi * member.section.sectionModulusIn3) / totalLbPerIn);
  const shearLb = (2 / 3) * adjustedShearPsi(member, factors, loadDuration) * member.section.areaIn2;
  // Load within d of a support is left out: the joist bears on it from below (NDS 3.4.3.1).
  const shearIn = (2 * shearLb) / totalLbPerIn + 2 * member.depthIn;
  const stiffness = stiffnessLbIn2(member, factors);
  const deflectionIn = Math.cbrt((384 * stiffness) / (5 * livePsf * perSquareInch * limit));
  const spanIn = Math.min(bendingIn, shearIn, deflectionIn);
  const governedBy = spanIn === bendingIn ? 'bending' : spanIn === shearIn ? 'shear' : 'deflection';
  return { bendingIn, shearIn, deflectionIn, spanIn, governedBy };
}
