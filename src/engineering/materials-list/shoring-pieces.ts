import type { Shoring } from '../proposal/design.ts';
import { positive } from '../trace/index.ts';
import { DRESSED_2X_IN } from '../layout/index.ts';

/** Temporary walls reach past both ends of the beam. Common practice. */
export const PAST_BEAM_IN = 12;
/** Two more studs at each wall: one beside either end. Common practice. */
export const END_STUDS = 2;

export interface ShoringPieces {
  readonly studsIn: readonly number[];
  /** Plates and rows of bracing, in lengths of at most `LONGEST_PLATE_IN`. */
  readonly longIn: readonly number[];
}

const LONGEST_PLATE_IN = 192;

/** One temporary wall as it stands. */
export interface TemporaryWall {
  readonly lengthIn: number;
  readonly studIn: number;
  /** Those at the ends among them. */
  readonly studs: number;
  /** Between plate and plate, evenly. */
  readonly bracingRows: number;
}

export function temporaryWall(shoring: Shoring, beamLengthIn: number, wallHeightIn: number): TemporaryWall {
  const lengthIn = positive(beamLengthIn, 'beamLengthIn') + 2 * PAST_BEAM_IN;
  const studIn = wallHeightIn - (shoring.topPlates + 1) * DRESSED_2X_IN;
  return {
    lengthIn,
    studIn,
    studs: Math.floor(lengthIn / shoring.studSpacingIn + 1e-9) + 1 + END_STUDS,
    bracingRows: shoring.midHeightBracingIn === 0 ? 0 : Math.ceil(studIn / shoring.midHeightBracingIn) - 1,
  };
}

/** Studs, plates and bracing rows of every temporary wall, cut lengths, for all sides and storeys shored. */
export function shoringPieces(shoring: Shoring, beamLengthIn: number, wallHeightIn: number): ShoringPieces {
  const { lengthIn, studIn, studs, bracingRows } = temporaryWall(shoring, beamLengthIn, wallHeightIn);
  const walls = (shoring.sides === 'both' ? 2 : 1) * shoring.storeysShored;
  // Two diagonals a wall: along it, and square to it.
  const diagonalIn = Math.min(LONGEST_PLATE_IN, Math.hypot(studIn, studIn));
  const long: number[] = [];
  for (let wall = 0; wall < walls; wall += 1) {
    for (let row = 0; row < shoring.topPlates + 1 + bracingRows; row += 1) long.push(...parts(lengthIn));
    long.push(diagonalIn, diagonalIn);
  }
  return { studsIn: Array.from({ length: walls * studs }, () => studIn), longIn: long };
}

/** A run in equal parts that stock can give. */
function parts(lengthIn: number): number[] {
  const count = Math.ceil(lengthIn / LONGEST_PLATE_IN);
  return Array.from({ length: count }, () => lengthIn / count);
}
