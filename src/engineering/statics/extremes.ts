import { refuseUnless } from '../trace/index.ts';
import type { BeamAnalysis, Piece } from './beam-analysis.ts';
import { isSamePlace } from './places.ts';
import { evaluate, rootsBetween, type Polynomial } from './polynomial.ts';

/** The highest or lowest value of a quantity and where it is; the leftmost place where several are equal. */
export interface Extreme {
  readonly value: number;
  readonly atIn: number;
}

export interface Range {
  readonly max: Extreme;
  readonly min: Extreme;
}

/** Named like the fields of `Section`, in their units. */
export interface Extremes {
  readonly shearLb: Range;
  readonly momentLbIn: Range;
  readonly slopeRad: Range;
  readonly deflectionIn: Range;
}

/** The four polynomials of a piece in s = 0 to 1, and where each of them turns or ends. */
export interface PieceCurves {
  readonly shear: Polynomial;
  readonly moment: Polynomial;
  readonly slope: Polynomial;
  readonly deflection: Polynomial;
  readonly shearStops: readonly number[];
  readonly momentStops: readonly number[];
  readonly slopeStops: readonly number[];
  readonly deflectionStops: readonly number[];
}

/**
 * Each quantity is the integral of the one before it (load, shear, moment, slope, deflection), so the places
 * where one turns are the roots of the one before; these are also the stops between which it is monotone and
 * its own roots can be bracketed.
 */
export function curvesOf(piece: Piece, ei: number, fromPart = 0, toPart = 1): PieceCurves {
  const { lengthIn: h, loadLbPerIn: w, loadChangeLbPerIn: dw, shearLb: v, momentLbIn: m } = piece;
  const c = h / ei;
  const { shear, moment, shearStops, momentStops } = forceCurvesOf(piece, fromPart, toPart);
  const slope = [piece.slopeRad, -c * m, (-c * h * v) / 2, (c * h * h * w) / 6, (c * h * h * dw) / 24];
  const deflection = [
    piece.deflectionIn,
    h * piece.slopeRad,
    (-c * h * m) / 2,
    (-c * h * h * v) / 6,
    (c * h * h * h * w) / 24,
    (c * h * h * h * dw) / 120,
  ];
  const slopeStops = rootsBetween(moment, momentStops);
  const deflectionStops = rootsBetween(slope, slopeStops);
  return { shear, moment, slope, deflection, shearStops, momentStops, slopeStops, deflectionStops };
}

/** Shear and moment alone, which do not ask for the beam's stiffness. */
function forceCurvesOf(
  { lengthIn: h, loadLbPerIn: w, loadChangeLbPerIn: dw, shearLb: v, momentLbIn: m }: Piece,
  fromPart: number,
  toPart: number,
): Pick<PieceCurves, 'shear' | 'moment' | 'shearStops' | 'momentStops'> {
  const shear = [v, -h * w, (-h * dw) / 2];
  const moment = [m, h * v, (-h * h * w) / 2, (-h * h * dw) / 6];
  const shearStops = rootsBetween([w, dw], [fromPart, toPart]);
  const momentStops = rootsBetween(shear, shearStops);
  return { shear, moment, shearStops, momentStops };
}

/** Equal within rounding: the later place does not win. */
export const SAME_VALUE = 1e-12;

class Tally implements Range {
  max: Extreme = { value: -Infinity, atIn: 0 };
  min: Extreme = { value: Infinity, atIn: 0 };

  take(polynomial: Polynomial, stops: readonly number[], { fromIn, lengthIn }: Piece): void {
    for (const stop of stops) {
      const value = evaluate(polynomial, stop);
      const margin = Math.abs(value) * SAME_VALUE;
      if (value - margin > this.max.value) this.max = { value, atIn: fromIn + stop * lengthIn };
      if (value + margin < this.min.value) this.min = { value, atIn: fromIn + stop * lengthIn };
    }
  }
}

/**
 * Largest and smallest shear, moment, slope and deflection between two places (the whole beam if omitted),
 * from the roots of the polynomials, not from samples. At a jump inside the stretch both sides count, at its
 * ends only the inner side: between two supports, the shear beyond them does not. Refuses an empty stretch.
 */
export function extremesOf(
  analysis: BeamAnalysis,
  fromIn = 0,
  toIn = analysis.line.model.lengthIn,
): Extremes {
  const { lengthIn, ei } = analysis.line.model;
  const from = Math.max(0, fromIn);
  const to = Math.min(lengthIn, toIn);
  refuseUnless(
    to > from && !isSamePlace(from, to, lengthIn),
    'toIn',
    'toIn must lie right of fromIn on the beam.',
  );
  const shearLb = new Tally();
  const momentLbIn = new Tally();
  const slopeRad = new Tally();
  const deflectionIn = new Tally();
  for (const piece of analysis.pieces) {
    const fromPart = Math.max(0, (from - piece.fromIn) / piece.lengthIn);
    const toPart = Math.min(1, (to - piece.fromIn) / piece.lengthIn);
    const reachIn = (toPart - fromPart) * piece.lengthIn;
    if (reachIn <= 0 || isSamePlace(reachIn, 0, lengthIn)) continue;
    const curves = curvesOf(piece, ei, fromPart, toPart);
    shearLb.take(curves.shear, curves.shearStops, piece);
    momentLbIn.take(curves.moment, curves.momentStops, piece);
    slopeRad.take(curves.slope, curves.slopeStops, piece);
    deflectionIn.take(curves.deflection, curves.deflectionStops, piece);
  }
  return { shearLb, momentLbIn, slopeRad, deflectionIn };
}

/** Shear and moment of `extremesOf` over the whole beam, at a fraction of the work: for many members on one span. */
export function forceExtremesOf(analysis: BeamAnalysis): Pick<Extremes, 'shearLb' | 'momentLbIn'> {
  const shearLb = new Tally();
  const momentLbIn = new Tally();
  for (const piece of analysis.pieces) {
    const curves = forceCurvesOf(piece, 0, 1);
    shearLb.take(curves.shear, curves.shearStops, piece);
    momentLbIn.take(curves.moment, curves.momentStops, piece);
  }
  return { shearLb, momentLbIn };
}
