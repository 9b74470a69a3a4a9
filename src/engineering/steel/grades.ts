import type { Clause, Editions } from '../trace/index.ts';

/** Modulus of elasticity of structural steel, psi: AISC 360 B4 / Symbols, 29 000 ksi. */
export const STEEL_E_PSI = 29_000_000;

export interface SteelGrade {
  readonly name: string;
  readonly fyPsi: number;
  readonly fuPsi: number;
}

/** ASTM A36, plates and bars (AISC Manual Table 2-5, from memory). */
export const A36: SteelGrade = { name: 'A36', fyPsi: 36_000, fuPsi: 58_000 };
/** ASTM A992, wide-flange shapes (AISC Manual Table 2-4, from memory). */
export const A992: SteelGrade = { name: 'A992', fyPsi: 50_000, fuPsi: 65_000 };

/** Safety factors of AISC 360 used here; the section stands beside each. */
export const OMEGA = {
  /** F1(a). */
  flexure: 1.67,
  /** G2.1(a), rolled I-shapes with stocky webs. */
  shearStockyWeb: 1.5,
  /** G1. */
  shear: 1.67,
  /** J10.2. */
  webYielding: 1.5,
  /** J10.3. */
  webCrippling: 2.0,
  /** J3.10. */
  boltBearing: 2.0,
} as const;

/** Formulas below read the same in 360-16 and 360-22; the project's edition is named all the same. */
export function aisc(editions: Editions, section: string): Clause {
  return { standard: 'AISC 360', edition: editions.aisc360, section, provenance: 'from memory' };
}
