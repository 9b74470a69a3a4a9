import { refuseUnless } from '../trace/index.ts';
import { sectionAt, type BeamAnalysis, type Section } from './beam-analysis.ts';
import { curvesOf } from './extremes.ts';

/** One point of the diagrams. */
export interface Sample extends Section {
  readonly atIn: number;
}

/**
 * Points for drawing shear, moment, slope and deflection, from left to right: both ends of every piece (so a
 * jump is two points at one place), every place where a quantity turns or is zero, and `evenly` equal
 * divisions of the beam. All values are exact, and the peaks of the curve are among them.
 */
export function samplesOf(analysis: BeamAnalysis, evenly: number): readonly Sample[] {
  refuseUnless(
    Number.isInteger(evenly) && evenly >= 1,
    'evenly',
    'evenly must be a whole number of 1 or more.',
  );
  const { ei, lengthIn } = analysis.line.model;
  const spacingIn = lengthIn / evenly;
  return analysis.pieces.flatMap((piece) => {
    const curves = curvesOf(piece, ei);
    const parts = new Set([
      ...curves.shearStops,
      ...curves.momentStops,
      ...curves.slopeStops,
      ...curves.deflectionStops,
    ]);
    const firstDivision = Math.ceil(piece.fromIn / spacingIn);
    for (let division = firstDivision; ; division++) {
      const part = (division * spacingIn - piece.fromIn) / piece.lengthIn;
      if (part >= 1) break;
      parts.add(Math.max(0, part));
    }
    return [...parts]
      .sort((a, b) => a - b)
      .map((part): Sample => ({ atIn: piece.fromIn + part * piece.lengthIn, ...sectionAt(piece, part, ei) }));
  });
}
