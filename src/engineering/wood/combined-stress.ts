import type { MemberFactors } from './adjusted-values.ts';
import { bendingResistance, type BendingResistance } from './bending.ts';
import type { ActingColumn, ColumnResistance } from './column.ts';
import type { WoodColumnCombination, WoodColumnInput } from './column-input.ts';
import type { WoodMember } from './member.ts';

/** The numbers of NDS Eq. 15.4-1, which is Eq. 3.9-3 where the load is centred. */
export interface InteractionInput {
  readonly fc: number;
  readonly fcAdjusted: number;
  readonly fcE1: number;
  readonly fcE2: number;
  readonly fb1: number;
  readonly fb1Adjusted: number;
  readonly fb2: number;
  readonly fb2Adjusted: number;
  /** FbE; Infinity where the compressed edge is held. */
  readonly fbE: number;
  /** Bending stress of the load off its centre, fc · 6e ÷ d, about either axis. */
  readonly eccentric1: number;
  readonly eccentric2: number;
}

/** Share of the eccentric stress that its own deflection adds (NDS 15.4). */
const ECCENTRIC_GROWTH = 0.234;

/**
 * Compression with bending about either axis, load centred or not. The result of Eq. 15.4-1 (3.9-3); where
 * buckling alone would not leave a positive denominator: Infinity.
 *
 * (fc/Fc′)² + [fb1 + e1(1 + 0.234 fc/FcE1)] / [Fb1′(1 − fc/FcE1)]
 *   + [fb2 + e2(1 + 0.234 fc/FcE2 + 0.234 m²)] / [Fb2′(1 − fc/FcE2 − m²)], m = (fb1 + e1)/FbE
 *
 * Source: NDS 3.9.2 and 15.4.1, from memory; 3.9-3 agrees with the AWC examples in tests/published.
 */
export function interactionRatio(n: InteractionInput): number {
  const bending1 = n.fb1 + n.eccentric1;
  const bending2 = n.fb2 + n.eccentric2;
  const lateral = (bending1 / n.fbE) ** 2;
  let ratio = (n.fc / n.fcAdjusted) ** 2;
  if (bending1 > 0) {
    const room = 1 - n.fc / n.fcE1;
    if (room <= 0) return Infinity;
    const grown = n.fb1 + n.eccentric1 * (1 + (ECCENTRIC_GROWTH * n.fc) / n.fcE1);
    ratio += grown / (n.fb1Adjusted * room);
  }
  if (bending2 > 0) {
    const room = 1 - n.fc / n.fcE2 - lateral;
    if (room <= 0) return Infinity;
    const grown =
      n.fb2 + n.eccentric2 * (1 + (ECCENTRIC_GROWTH * n.fc) / n.fcE2 + ECCENTRIC_GROWTH * lateral);
    ratio += grown / (n.fb2Adjusted * room);
  }
  return ratio;
}

/** fc/FcE2 + (fb1/FbE)² < 1, NDS Eq. 3.9-4 (15.4-2 with the eccentric stress in fb1). */
export function lateralInteraction(n: InteractionInput): number {
  return n.fc / n.fcE2 + ((n.fb1 + n.eccentric1) / n.fbE) ** 2;
}

export interface CombinedStress {
  readonly numbers: InteractionInput;
  readonly bending: BendingResistance;
  readonly interaction: number;
  /** Eq. 3.9-4. */
  readonly lateral: number;
  /** The greater of the two. */
  readonly ratio: number;
}

/**
 * Combined stress of a column under one combination.
 *
 * Strong axis: the plies side by side. Weak axis of a built-up column: the plies flat, each by itself, and
 * Kf on FcE2 too, since nails don't make them one piece (judgement on the safe side; NDS is silent).
 */
export function combinedStress(
  input: WoodColumnInput,
  acting: ActingColumn,
  resistance: ColumnResistance,
  combination: WoodColumnCombination,
): CombinedStress {
  const { member, factors, share } = acting;
  const axialLb = combination.axialLb * share;
  const strongS = member.section.sectionModulusIn3;
  const weakS = weakSectionModulusIn3(member);
  const bending = bendingResistance({
    member,
    factors,
    loadDuration: combination.loadDuration,
    face: 'bottom',
    unbracedIn: input.edgeUnbracedIn ?? input.weakUnbracedIn ?? input.heightIn,
    loadCase: input.edgeLoadCase ?? 'any',
    volumeLengthIn: input.heightIn,
  });
  const numbers: InteractionInput = {
    fc: axialLb / member.section.areaIn2,
    fcAdjusted: resistance.adjustedPsi,
    fcE1: resistance.strong.criticalPsi,
    fcE2: resistance.weak.criticalPsi * resistance.weak.fasteningFactor,
    fb1: ((combination.strongMomentLbIn ?? 0) * share) / strongS,
    fb1Adjusted: bending.adjustedPsi,
    fb2: ((combination.weakMomentLbIn ?? 0) * share) / weakS,
    fb2Adjusted: weakBendingPsi(member, factors, bending, combination.loadDuration),
    fbE: bending.stability.criticalPsi,
    eccentric1: (axialLb * (input.eccentricity?.strongIn ?? 0)) / strongS,
    eccentric2: (axialLb * (input.eccentricity?.weakIn ?? 0)) / weakS,
  };
  const interaction = interactionRatio(numbers);
  const lateral = lateralInteraction(numbers);
  return { numbers, bending, interaction, lateral, ratio: Math.max(interaction, lateral) };
}

/** Plies flat beside one another: n · d · t² ÷ 6; one piece: d · b² ÷ 6. */
export function weakSectionModulusIn3(member: WoodMember): number {
  return (member.plies * member.depthIn * member.plyThicknessIn ** 2) / 6;
}

/** Fb2′: no CL (flat), Cfu for sawn lumber, Fby for glulam; Cr stands as in Fb1′. */
function weakBendingPsi(
  member: WoodMember,
  factors: MemberFactors,
  bending: BendingResistance,
  loadDuration: number,
): number {
  // Size factor: the wide face is what Table 4A reads it by, flat or on edge.
  return (
    member.material.fbWeakPsi *
    loadDuration *
    bending.serviceProduct *
    factors.size.fb *
    factors.repetitive *
    factors.flatUse
  );
}
