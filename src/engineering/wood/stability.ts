import { notNegative, positive } from '../trace/refusal.ts';

/** How a beam is loaded between the points that hold its compression edge (NDS Table 3.3.3). */
export type UnbracedLoadCase =
  | 'any'
  | 'uniform'
  | 'point at centre'
  | 'point at centre, held there'
  | 'two equal points, held there'
  | 'three equal points, held there'
  | 'four equal points, held there'
  | 'five equal points, held there'
  | 'six equal points, held there'
  | 'equal points, held there'
  | 'equal end moments'
  | 'cantilever, uniform'
  | 'cantilever, point at end';

/** le = slender · lu + 3d where lu/d is 7 or more; le = stocky · lu below. */
interface EffectiveLengthRule {
  readonly stocky: number;
  readonly slender?: number;
}

const RULES: Readonly<Record<Exclude<UnbracedLoadCase, 'any'>, EffectiveLengthRule>> = {
  uniform: { stocky: 2.06, slender: 1.63 },
  'point at centre': { stocky: 1.8, slender: 1.37 },
  'point at centre, held there': { stocky: 1.11 },
  'two equal points, held there': { stocky: 1.68 },
  'three equal points, held there': { stocky: 1.54 },
  'four equal points, held there': { stocky: 1.68 },
  'five equal points, held there': { stocky: 1.73 },
  'six equal points, held there': { stocky: 1.78 },
  'equal points, held there': { stocky: 1.84 },
  'equal end moments': { stocky: 1.84 },
  'cantilever, uniform': { stocky: 1.33, slender: 0.9 },
  'cantilever, point at end': { stocky: 1.87, slender: 1.44 },
};

const SLENDER_FROM = 7;
const VERY_SLENDER_FROM = 14.3;

/**
 * Effective length le of a bending member.
 * Source: NDS Table 3.3.3 and its footnote 1 for a load that is none of the table's ('any'). Seen, but for
 * the points at thirds to sevenths (from memory).
 *
 * @param unbracedIn lu, between points that hold the compression edge.
 */
export function effectiveLengthIn(unbracedIn: number, depthIn: number, loadCase: UnbracedLoadCase): number {
  const ratio = unbracedIn / depthIn;
  if (loadCase === 'any') {
    if (ratio < SLENDER_FROM) return 2.06 * unbracedIn;
    return ratio <= VERY_SLENDER_FROM ? 1.63 * unbracedIn + 3 * depthIn : 1.84 * unbracedIn;
  }
  const { stocky, slender } = RULES[loadCase];
  if (slender === undefined || ratio < SLENDER_FROM) return stocky * unbracedIn;
  return slender * unbracedIn + 3 * depthIn;
}

/** NDS 3.3.3.7: RB may not be more. */
export const MAX_BEAM_SLENDERNESS = 50;

/** RB = √(le · d ÷ b²), NDS Eq. 3.3-5. */
export function beamSlenderness(effectiveIn: number, depthIn: number, breadthIn: number): number {
  return Math.sqrt((effectiveIn * depthIn) / breadthIn ** 2);
}

export interface BeamStability {
  /** Held throughout, or not deeper than wide: CL = 1 and nothing to compute (NDS 3.3.3.1, 3.3.3.3). */
  readonly held: boolean;
  readonly effectiveIn: number;
  readonly slenderness: number;
  /** FbE = 1.20 · Emin′ ÷ RB². */
  readonly criticalPsi: number;
  readonly factor: number;
}

/**
 * Beam stability factor CL, NDS 3.3.3, Eq. 3.3-6:
 * CL = (1 + FbE/Fb*)/1.9 − √{[(1 + FbE/Fb*)/1.9]² − (FbE/Fb*)/0.95}.
 *
 * @param fbStarPsi Fb with every factor but Cfu, CV and CL.
 * @param eminPsi Emin′.
 * @param unbracedIn zero: the compression edge is held throughout.
 */
export function beamStability(
  fbStarPsi: number,
  eminPsi: number,
  breadthIn: number,
  depthIn: number,
  unbracedIn: number,
  loadCase: UnbracedLoadCase,
): BeamStability {
  notNegative(unbracedIn, 'unbracedIn');
  if (unbracedIn === 0 || depthIn <= breadthIn) {
    return { held: true, effectiveIn: 0, slenderness: 0, criticalPsi: Infinity, factor: 1 };
  }
  const effectiveIn = effectiveLengthIn(unbracedIn, depthIn, loadCase);
  const slenderness = beamSlenderness(effectiveIn, depthIn, breadthIn);
  const criticalPsi = (1.2 * eminPsi) / slenderness ** 2;
  return {
    held: false,
    effectiveIn,
    slenderness,
    criticalPsi,
    factor: interaction(criticalPsi / fbStarPsi, 0.95),
  };
}

/** NDS 3.7.1.4: le/d of a column, built and while building. */
export const MAX_COLUMN_SLENDERNESS = 50;
export const MAX_COLUMN_SLENDERNESS_BUILDING = 75;

/** FcE = 0.822 · Emin′ ÷ (le/d)², NDS 3.7.1.5. */
export function columnCriticalPsi(eminPsi: number, slenderness: number): number {
  positive(slenderness, 'slenderness');
  return (0.822 * eminPsi) / slenderness ** 2;
}

/**
 * Column stability factor CP, NDS Eq. 3.7-1:
 * CP = (1 + FcE/Fc*)/(2c) − √{[(1 + FcE/Fc*)/(2c)]² − (FcE/Fc*)/c}.
 *
 * @param ratio FcE ÷ Fc*.
 * @param c 0.8 sawn lumber, 0.9 glulam and composites.
 */
export function columnStabilityFactor(ratio: number, c: number): number {
  return interaction(ratio, c);
}

/** The shared form of Eq. 3.3-6 (c = 0.95) and 3.7-1: smaller root of c·C² − (1 + r)·C + r = 0. */
function interaction(ratio: number, c: number): number {
  // No buckling at all: bracing so close that FbE or FcE is beyond counting.
  if (ratio === Infinity) return 1;
  const half = (1 + ratio) / (2 * c);
  // r ÷ c over the sum of the roots' other half: no cancellation where the ratio is large.
  return ratio / c / (half + Math.sqrt(half ** 2 - ratio / c));
}
