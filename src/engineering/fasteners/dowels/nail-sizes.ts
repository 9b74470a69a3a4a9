/**
 * Nail sizes of NDS Appendix L, Table L4 (ASTM F1667): length, shank and head diameter, inches.
 * Lengths and shanks are held against records NAIL-*; head diameters are from memory.
 */
export type PennyStyle = 'common' | 'box' | 'sinker';

export interface NailSize {
  readonly penny: string;
  readonly lengthIn: number;
  readonly diameterIn: number;
  readonly headDiameterIn: number;
}

function sizes(rows: readonly (readonly [string, number, number, number])[]): readonly NailSize[] {
  return rows.map(([penny, lengthIn, diameterIn, headDiameterIn]) => ({
    penny,
    lengthIn,
    diameterIn,
    headDiameterIn,
  }));
}

export const NAIL_SIZES: Readonly<Record<PennyStyle, readonly NailSize[]>> = {
  common: sizes([
    ['6d', 2, 0.113, 0.266],
    ['7d', 2.25, 0.113, 0.266],
    ['8d', 2.5, 0.131, 0.281],
    ['10d', 3, 0.148, 0.312],
    ['12d', 3.25, 0.148, 0.312],
    ['16d', 3.5, 0.162, 0.344],
    ['20d', 4, 0.192, 0.406],
    ['30d', 4.5, 0.207, 0.438],
    ['40d', 5, 0.225, 0.469],
    ['50d', 5.5, 0.244, 0.5],
    ['60d', 6, 0.263, 0.531],
  ]),
  box: sizes([
    ['6d', 2, 0.099, 0.266],
    ['7d', 2.25, 0.099, 0.266],
    ['8d', 2.5, 0.113, 0.297],
    ['10d', 3, 0.128, 0.312],
    ['12d', 3.25, 0.128, 0.312],
    ['16d', 3.5, 0.135, 0.344],
    ['20d', 4, 0.148, 0.375],
    ['30d', 4.5, 0.148, 0.375],
    ['40d', 5, 0.162, 0.406],
  ]),
  sinker: sizes([
    ['6d', 1.875, 0.092, 0.234],
    ['7d', 2.125, 0.099, 0.25],
    ['8d', 2.375, 0.113, 0.266],
    ['10d', 2.875, 0.12, 0.281],
    ['12d', 3.125, 0.135, 0.312],
    ['16d', 3.25, 0.148, 0.344],
    ['20d', 3.75, 0.177, 0.375],
    ['30d', 4.25, 0.192, 0.406],
    ['40d', 4.75, 0.207, 0.438],
    ['60d', 5.75, 0.244, 0.5],
  ]),
};

/**
 * Diameter × length pairs that framing guns commonly drive (common practice; ASTM F1667 gives the tolerance,
 * no standard the list). 3.5 × 0.162 exists, but seldom in a truck.
 */
export const PNEUMATIC_SIZES: readonly { readonly diameterIn: number; readonly lengthIn: number }[] = [
  { diameterIn: 0.113, lengthIn: 2.375 },
  { diameterIn: 0.12, lengthIn: 3 },
  { diameterIn: 0.131, lengthIn: 2.5 },
  { diameterIn: 0.131, lengthIn: 3 },
  { diameterIn: 0.131, lengthIn: 3.25 },
  { diameterIn: 0.131, lengthIn: 3.5 },
  { diameterIn: 0.148, lengthIn: 3 },
  { diameterIn: 0.148, lengthIn: 3.25 },
  { diameterIn: 0.162, lengthIn: 3.5 },
];

/** Connector nails: short, full shank; only where the connector's listing says so (common practice). */
export const CONNECTOR_NAIL_SIZES: readonly { readonly diameterIn: number; readonly lengthIn: number }[] = [
  { diameterIn: 0.131, lengthIn: 1.5 },
  { diameterIn: 0.148, lengthIn: 1.5 },
  { diameterIn: 0.162, lengthIn: 2.5 },
];

/** Undefined where Table L4 has no such size. */
export function nailSize(style: PennyStyle, penny: string): NailSize | undefined {
  return NAIL_SIZES[style].find((size) => size.penny === penny);
}
