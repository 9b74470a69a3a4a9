import { sectionAt, type BeamAnalysis, type Section } from './beam-analysis.ts';
import { layOutBeam } from './beam-line.ts';
import { refuseBadLoads, type BeamLoad } from './beam-loads.ts';
import { refuseBadBeam, type BeamModel } from './beam-model.ts';
import { isSamePlace, refuseOffBeam } from './places.ts';
import { solveCase } from './solve-case.ts';

/**
 * Solves a beam under loads and the settlements of its supports: exact polynomials, in inches and pounds.
 * Refuses (`Refusal`, with the path of the field) a beam that can't stand and loads that are not on it.
 */
export function analyseBeam(model: BeamModel, loads: readonly BeamLoad[]): BeamAnalysis {
  refuseBadBeam(model);
  refuseBadLoads(model, loads, 'loads');
  return solveCase(layOutBeam(model, loads), loads, true);
}

/**
 * The section at a place, seen from one side of it: shear jumps at supports and point loads, moment at
 * couples, slope at hinges. At the ends of the beam both sides are the inside. Refuses places off the beam.
 */
export function valueAt(analysis: BeamAnalysis, atIn: number, side: 'left' | 'right' = 'right'): Section {
  const { lengthIn, ei } = analysis.line.model;
  refuseOffBeam(atIn, lengthIn, 'atIn');
  const piece = analysis.pieces.reduce((found, next) => {
    const reached = isSamePlace(next.fromIn, atIn, lengthIn) ? side === 'right' : next.fromIn < atIn;
    return reached ? next : found;
  });
  const part = (atIn - piece.fromIn) / piece.lengthIn;
  return sectionAt(piece, Math.min(1, Math.max(0, part)), ei);
}

/** The shear at a place, lb, seen from one side of it. Refuses places off the beam. */
export function shearAt(analysis: BeamAnalysis, atIn: number, side: 'left' | 'right' = 'right'): number {
  return valueAt(analysis, atIn, side).shearLb;
}
