import type { DowelProperties, Fastener } from './fastener.ts';

export type Method = 'face' | 'end' | 'toe';

/** Toe-nails are driven at about 30° to the piece, started a third of their length from its end (NDS 12.1.6.3). */
export const TOE_NAIL_ANGLE_DEG = 30;
export const TOE_NAIL_START_FRACTION = 1 / 3;

/** Least and full penetration into the holding member, multiples of D. */
export interface PenetrationRule {
  readonly least: number;
  readonly full: number;
  /** Lag screws count without their tip, nails and wood screws with it. */
  readonly tipCounts: boolean;
  readonly section: string;
}

/**
 * Nails 6 D and 10 D (NDS 12.1.6.4, Tables 12N–12R footnote), wood screws 6 D and 10 D (12.1.5.6, 12L),
 * lag screws 4 D and 8 D (12.1.4.6, 12J). Bolts pass through: no rule.
 */
export function penetrationRule(fastener: Fastener): PenetrationRule | undefined {
  switch (fastener.kind) {
    case 'nail':
      return { least: 6, full: 10, tipCounts: true, section: '12.1.6.4, Table 12N footnote' };
    case 'wood screw':
    case 'structural screw':
      return { least: 6, full: 10, tipCounts: true, section: '12.1.5.6, Table 12L footnote' };
    case 'lag screw':
      return { least: 4, full: 8, tipCounts: false, section: '12.1.4.6, Table 12J footnote' };
    case 'bolt':
      return undefined;
  }
}

export interface Penetration {
  /** Bearing length in the piece under the head, ls, in. */
  readonly sideLengthIn: number;
  /** Bearing length in the piece that holds the point, lm, in; half the tapered tip left out. */
  readonly mainLengthIn: number;
  /** Penetration p by which the rule of 6 D / 10 D goes, in; zero where the point never arrives. */
  readonly penetrationIn: number;
  /** Along the shank in the holding piece: what withdrawal works on, in. */
  readonly alongShankIn: number;
  /** How far the point comes out behind, in. */
  readonly protrudesIn: number;
}

/**
 * Where the fastener ends up.
 * @param aheadIn everything between the head and the holding piece that is not the side member (sheathing, other plies)
 */
export function penetration(
  dowel: DowelProperties,
  rule: PenetrationRule | undefined,
  method: Method,
  sideThicknessIn: number,
  mainThicknessIn: number,
  aheadIn: number,
): Penetration {
  if (rule === undefined) {
    return {
      sideLengthIn: sideThicknessIn,
      mainLengthIn: mainThicknessIn,
      penetrationIn: mainThicknessIn,
      alongShankIn: mainThicknessIn,
      protrudesIn: Math.max(0, dowel.lengthIn - aheadIn - sideThicknessIn - mainThicknessIn),
    };
  }
  const { lengthIn, tipIn } = dowel;
  const tipLost = rule.tipCounts ? 0 : tipIn;
  if (method === 'toe') {
    const cosine = Math.cos((TOE_NAIL_ANGLE_DEG * Math.PI) / 180);
    const startIn = TOE_NAIL_START_FRACTION * lengthIn;
    // Projected on the member's axis: p = L cos 30° − L/3 (NDS Commentary C12.1.6.3, Fig. 12A).
    const reachIn = Math.max(0, lengthIn * cosine - startIn);
    const intoIn = Math.min(mainThicknessIn, reachIn);
    return {
      sideLengthIn: Math.min(startIn, sideThicknessIn),
      mainLengthIn: Math.max(0, Math.min(mainThicknessIn, reachIn - (tipIn / 2) * cosine)),
      penetrationIn: Math.max(0, intoIn - tipLost),
      alongShankIn: Math.min(mainThicknessIn / cosine, Math.max(0, lengthIn - startIn / cosine)),
      protrudesIn: Math.max(0, reachIn - mainThicknessIn),
    };
  }
  const reachIn = Math.max(0, lengthIn - aheadIn - sideThicknessIn);
  const intoIn = Math.min(mainThicknessIn, reachIn);
  return {
    sideLengthIn: sideThicknessIn,
    mainLengthIn: Math.max(0, Math.min(mainThicknessIn, reachIn - tipIn / 2)),
    penetrationIn: Math.max(0, Math.min(intoIn, reachIn - tipLost)),
    alongShankIn: intoIn,
    protrudesIn: Math.max(0, reachIn - mainThicknessIn),
  };
}
