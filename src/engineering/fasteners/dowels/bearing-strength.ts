import { refuseUnless } from '../../trace/index.ts';

/** Table 12.3.3 prints dowel bearing strengths to the nearest 50 psi; tabulated Z rests on those. */
const TABULATED_STEP_PSI = 50;
/** From this diameter the direction of the grain matters (NDS 12.3.3.1). */
export const GRAIN_MATTERS_FROM_IN = 0.25;

export const GRAVITY_SENTENCE =
  'The specific gravity of the wood must lie between 0.30 and 0.80 (NDS Table 12.3.3A reaches 0.31 to 0.73).';

function tabulated(exactPsi: number): number {
  return Math.round(exactPsi / TABULATED_STEP_PSI) * TABULATED_STEP_PSI;
}

function checkGravity(specificGravity: number): void {
  refuseUnless(
    Number.isFinite(specificGravity) && specificGravity >= 0.3 && specificGravity <= 0.8,
    'specificGravity',
    GRAVITY_SENTENCE,
  );
}

/** Fe, psi, for D < 1/4 in, any direction: 16,600 G^1.84 (NDS Table 12.3.3, footnote). */
export function smallDowelBearingPsi(specificGravity: number): number {
  checkGravity(specificGravity);
  return tabulated(16_600 * specificGravity ** 1.84);
}

/** Fe parallel to grain, psi, for D ≥ 1/4 in: 11,200 G (NDS Table 12.3.3, footnote). */
export function parallelBearingPsi(specificGravity: number): number {
  checkGravity(specificGravity);
  return tabulated(11_200 * specificGravity);
}

/** Fe perpendicular to grain, psi, for D ≥ 1/4 in: 6,100 G^1.45 / √D (NDS Table 12.3.3, footnote). */
export function perpendicularBearingPsi(specificGravity: number, diameterIn: number): number {
  checkGravity(specificGravity);
  return tabulated((6_100 * specificGravity ** 1.45) / Math.sqrt(diameterIn));
}

/** Hankinson's formula between the two directions (NDS 12.3.4): angle of load to grain in degrees. */
export function hankinson(parallel: number, perpendicular: number, angleDeg: number): number {
  const angle = (angleDeg * Math.PI) / 180;
  const sine2 = Math.sin(angle) ** 2;
  const cosine2 = Math.cos(angle) ** 2;
  return (parallel * perpendicular) / (parallel * sine2 + perpendicular * cosine2);
}

/**
 * Dowel bearing strength of wood, psi (NDS 12.3.3, 12.3.4).
 * @param specificGravity assigned G, NDS Table 12.3.3A
 * @param diameterIn nominal diameter
 * @param angleDeg load to grain, 0 along the grain
 */
export function woodBearingPsi(specificGravity: number, diameterIn: number, angleDeg: number): number {
  if (diameterIn < GRAIN_MATTERS_FROM_IN) return smallDowelBearingPsi(specificGravity);
  return hankinson(
    parallelBearingPsi(specificGravity),
    perpendicularBearingPsi(specificGravity, diameterIn),
    angleDeg,
  );
}

/** Steel of 1/4 in and more is taken as hot rolled A36, thinner as cold formed A653 grade 33. */
export const HOT_ROLLED_FROM_IN = 0.25;

/**
 * Dowel bearing strength of a steel member, psi (footnotes of NDS Tables 12B, 12K, 12P; Appendix I.2):
 * 1.5 Fu hot rolled (A36: 87,000), 1.375 Fu cold formed (A653 grade 33: 61,850, as printed there).
 * @param ultimatePsi Fu, where another steel is declared
 */
export function steelBearingPsi(thicknessIn: number, ultimatePsi?: number): number {
  const hotRolled = thicknessIn >= HOT_ROLLED_FROM_IN;
  if (ultimatePsi === undefined) return hotRolled ? 87_000 : 61_850;
  return (hotRolled ? 1.5 : 1.375) * ultimatePsi;
}

/** Dowel bearing strength of concrete of 2,500 psi and more, psi (NDS Tables 12E, 12I). */
export const CONCRETE_BEARING_PSI = 7_500;
