import { refuseUnless, type Clause } from '../trace/index.ts';

/**
 * Thickness of lumber as it lies in a nailed pack. Dressed 2x is 1 1/2 in, yet a five-ply pack often measures about
 * 7 3/4 in, not 7 1/2. Common practice, no source: measure the pack on site and enter that.
 */
export const USUAL_PACK_PLY_IN = 7.75 / 5;
export const DRESSED_2X_IN = 1.5;

export const MEASURED: Clause = {
  standard: 'Practice',
  edition: '',
  section: 'lumber as measured',
  provenance: 'common practice',
};

/** Marks are made to the sixteenth. */
export function toSixteenth(inches: number): number {
  return Math.round(inches * 16) / 16;
}

/** A measured ply thickness: between planed and swollen 2x, so that a slip of the keys is noticed. */
export function measuredPly(thicknessIn: number | undefined, path: string): number {
  if (thicknessIn === undefined) return USUAL_PACK_PLY_IN;
  refuseUnless(
    Number.isFinite(thicknessIn) && thicknessIn >= 1.375 && thicknessIn <= 1.75,
    path,
    'A 2x ply measures between 1 3/8 and 1 3/4 in.',
  );
  return thicknessIn;
}
