import { Refusal } from '../trace/index.ts';
import type { BeamLine } from './beam-line.ts';

/** What is in the beam at one place. */
export interface Section {
  readonly shearLb: number;
  readonly momentLbIn: number;
  readonly slopeRad: number;
  readonly deflectionIn: number;
}

/**
 * A stretch of beam under a straight-line load, told by its load and by what is in the beam at its left
 * end; shear, moment, slope and deflection follow as polynomials of degree 2 to 5. Every field is linear
 * in the loads, so that load cases are combined field by field.
 */
export interface Piece extends Section {
  readonly fromIn: number;
  readonly lengthIn: number;
  /** Load at the left end. */
  readonly loadLbPerIn: number;
  /** Load at the right end less that at the left end. */
  readonly loadChangeLbPerIn: number;
}

/** What a support does to the beam. */
export interface Reaction {
  readonly atIn: number;
  /** Up positive; negative where the beam has to be held down. */
  readonly forceLb: number;
  /** Clockwise positive; 0 at a pin. */
  readonly momentLbIn: number;
}

/** One load case or combination, solved. */
export interface BeamAnalysis {
  readonly line: BeamLine;
  readonly pieces: readonly Piece[];
  /** In the order of the model's supports. */
  readonly reactions: readonly Reaction[];
}

/** The section at `part` (0 to 1) of a piece. */
export function sectionAt(piece: Piece, part: number, ei: number): Section {
  const { lengthIn: h, loadLbPerIn: w, loadChangeLbPerIn: dw, shearLb: v, momentLbIn: m } = piece;
  const s = part;
  return {
    shearLb: v - h * s * (w + (dw * s) / 2),
    momentLbIn: m + h * s * (v - h * s * (w / 2 + (dw * s) / 6)),
    slopeRad: piece.slopeRad - ((h * s) / ei) * (m + h * s * (v / 2 - h * s * (w / 6 + (dw * s) / 24))),
    deflectionIn:
      piece.deflectionIn +
      h *
        s *
        (piece.slopeRad - ((h * s) / ei) * (m / 2 + h * s * (v / 6 - h * s * (w / 24 + (dw * s) / 120)))),
  };
}

/** Refuses a result that overflowed: loads or lengths beyond what numbers hold. */
export function refuseOverflow(analysis: BeamAnalysis): void {
  let sum = 0;
  for (const piece of analysis.pieces)
    sum += 0 * (piece.shearLb + piece.momentLbIn + piece.slopeRad + piece.deflectionIn);
  for (const reaction of analysis.reactions) sum += 0 * (reaction.forceLb + reaction.momentLbIn);
  if (sum !== 0) {
    throw new Refusal('loads', 'loads: too large, or the beam too soft, to compute a finite result.');
  }
}
