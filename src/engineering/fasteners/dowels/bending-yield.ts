import { positive } from '../../trace/index.ts';

/**
 * Bending yield strength Fyb of low- to medium-carbon nails and screws by diameter, psi
 * (NDS Table I1 and the footnotes of Tables 12J–12R; records FYB-*, from memory).
 */
const BY_DIAMETER: readonly (readonly [overIn: number, uptoIn: number, fybPsi: number])[] = [
  [0, 0.142, 100_000],
  [0.142, 0.177, 90_000],
  [0.177, 0.236, 80_000],
  [0.236, 0.273, 70_000],
  [0.273, 0.344, 60_000],
];

/** Fyb of bolts and of anything 3/8 in and larger, psi (NDS Table I1, ASTM A307 / SAE J429 Grade 1). */
export const BOLT_FYB_PSI = 45_000;

/** Fyb, psi, of a nail, wood screw or lag screw of this diameter, in (NDS Table I1). */
export function bendingYieldStrengthPsi(diameterIn: number): number {
  positive(diameterIn, 'diameterIn');
  const band = BY_DIAMETER.find(([overIn, uptoIn]) => diameterIn > overIn && diameterIn <= uptoIn);
  return band === undefined ? BOLT_FYB_PSI : band[2];
}

/**
 * Fyb of lag screws, psi: 70 ksi for 1/4 in, 60 ksi for 5/16 in, 45 ksi from 3/8 in
 * (footnote 2 of NDS Table 12J/12K, from memory).
 */
export function lagBendingYieldStrengthPsi(diameterIn: number): number {
  positive(diameterIn, 'diameterIn');
  if (diameterIn <= 0.25) return 70_000;
  return diameterIn <= 0.3125 ? 60_000 : BOLT_FYB_PSI;
}

/**
 * The regression behind the table, psi: Fyb = 130.4 − 213.9 D (ksi), low-carbon nails, D in inches
 * (NDS Commentary / ASTM F1575 background, record FYB-formula). For comparison; the table is used.
 */
export function bendingYieldTrendPsi(diameterIn: number): number {
  return (130.4 - 213.9 * positive(diameterIn, 'diameterIn')) * 1000;
}
