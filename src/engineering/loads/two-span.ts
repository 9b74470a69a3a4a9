import { positive } from '../trace/refusal.ts';

/**
 * Joists over a wall. `lapped`: two simple spans that end on it. `continuous`: one length over it, so the wall
 * gets more than half of each span.
 */
export type OverWall = 'lapped' | 'continuous';

export interface TwoSpanReactions {
  readonly farFront: number;
  readonly wall: number;
  readonly farRear: number;
  /** Moment over the wall; hogging is negative. */
  readonly wallMoment: number;
}

/**
 * Reactions of one prismatic member continuous over two spans, uniform loads, unyielding supports, by the
 * three-moment equation: 2 M (l1 + l2) = −(w1 l1³ + w2 l2³) ÷ 4. Any consistent units.
 *
 * A far reaction below zero means that the end lifts unless something holds it down.
 */
export function twoSpanReactions(
  front: { readonly span: number; readonly load: number },
  rear: { readonly span: number; readonly load: number },
): TwoSpanReactions {
  const l1 = positive(front.span, 'frontSpan');
  const l2 = positive(rear.span, 'rearSpan');
  const wallMoment = -(front.load * l1 ** 3 + rear.load * l2 ** 3) / (8 * (l1 + l2));
  const farFront = (front.load * l1) / 2 + wallMoment / l1;
  const farRear = (rear.load * l2) / 2 + wallMoment / l2;
  return { farFront, farRear, wallMoment, wall: front.load * l1 + rear.load * l2 - farFront - farRear };
}

/**
 * Length of a uniformly loaded span whose whole load comes to the wall: l ÷ 2 for a simple span; for a
 * continuous one l (1 ÷ 2 + l ÷ (8 m)), m the span on the other side (three-moment equation): 5 ÷ 8 of each of
 * two equal spans. The influence line of the wall's reaction is positive over both spans, so the pattern that
 * loads the wall most is live load on both.
 */
export function wallShare(overWall: OverWall, span: number, otherSpan: number): number {
  if (span === 0) return 0;
  return overWall === 'lapped' ? span / 2 : span * (1 / 2 + span / (8 * otherSpan));
}

/** The same for a load on the part of the span next to the wall only. */
export function wallShareOfPart(overWall: OverWall, span: number, otherSpan: number, part: number): number {
  if (span === 0) return 0;
  const loaded = Math.min(part, span);
  const simple = loaded * (1 - loaded / (2 * span));
  if (overWall === 'lapped') return simple;
  return simple + (span ** 2 - (span - loaded) ** 2) ** 2 / (8 * span ** 2 * otherSpan);
}
