/**
 * Screws of NDS Appendix L: L2 hex lag screws (ANSI/ASME B18.2.1), L3 wood screws (B18.6.1), inches.
 * From memory, except that lag 1/2 × 4 (tip 5/16, thread 2-1/2) is confirmed by record WE-AWC-E2.3.
 */
export interface LagSize {
  readonly diameterIn: number;
  /** Root diameter; also the shank of a reduced-body lag screw, the kind usually sold. */
  readonly rootDiameterIn: number;
  /** Length of the tapered tip E. */
  readonly tipIn: number;
}

export const LAG_SIZES: readonly LagSize[] = [
  { diameterIn: 0.25, rootDiameterIn: 0.173, tipIn: 5 / 32 },
  { diameterIn: 0.3125, rootDiameterIn: 0.227, tipIn: 3 / 16 },
  { diameterIn: 0.375, rootDiameterIn: 0.265, tipIn: 7 / 32 },
  { diameterIn: 0.4375, rootDiameterIn: 0.328, tipIn: 9 / 32 },
  { diameterIn: 0.5, rootDiameterIn: 0.371, tipIn: 5 / 16 },
  { diameterIn: 0.625, rootDiameterIn: 0.471, tipIn: 13 / 32 },
  { diameterIn: 0.75, rootDiameterIn: 0.579, tipIn: 0.5 },
  { diameterIn: 0.875, rootDiameterIn: 0.683, tipIn: 19 / 32 },
  { diameterIn: 1, rootDiameterIn: 0.78, tipIn: 11 / 16 },
];

/** Thread length T, tip included, by lag length (Table L2). */
const LAG_THREADS: readonly (readonly [lengthIn: number, threadIn: number])[] = [
  [1, 0.75],
  [1.5, 1.25],
  [2, 1.5],
  [2.5, 1.75],
  [3, 2],
  [4, 2.5],
  [5, 3],
  [6, 3.5],
  [7, 4],
  [8, 4.5],
  [9, 5],
  [10, 5.25],
  [11, 5.5],
  [12, 6],
];

export function lagSize(diameterIn: number): LagSize | undefined {
  return LAG_SIZES.find((size) => size.diameterIn === diameterIn);
}

/** Thread with its tip, inches, of the longest tabulated lag that is no longer than this one. */
export function lagThreadIn(lengthIn: number): number {
  let threadIn = Math.min(lengthIn, 0.75);
  for (const [tabulatedIn, tabulatedThreadIn] of LAG_THREADS) {
    if (tabulatedIn <= lengthIn) threadIn = tabulatedThreadIn;
  }
  return threadIn;
}

export interface WoodScrewSize {
  readonly gauge: number;
  readonly diameterIn: number;
  readonly rootDiameterIn: number;
}

export const WOOD_SCREW_SIZES: readonly WoodScrewSize[] = [
  { gauge: 6, diameterIn: 0.138, rootDiameterIn: 0.113 },
  { gauge: 7, diameterIn: 0.151, rootDiameterIn: 0.122 },
  { gauge: 8, diameterIn: 0.164, rootDiameterIn: 0.131 },
  { gauge: 9, diameterIn: 0.177, rootDiameterIn: 0.142 },
  { gauge: 10, diameterIn: 0.19, rootDiameterIn: 0.152 },
  { gauge: 12, diameterIn: 0.216, rootDiameterIn: 0.171 },
  { gauge: 14, diameterIn: 0.242, rootDiameterIn: 0.196 },
  { gauge: 16, diameterIn: 0.268, rootDiameterIn: 0.209 },
  { gauge: 18, diameterIn: 0.294, rootDiameterIn: 0.232 },
  { gauge: 20, diameterIn: 0.32, rootDiameterIn: 0.255 },
  { gauge: 24, diameterIn: 0.372, rootDiameterIn: 0.298 },
];

export function woodScrewSize(gauge: number): WoodScrewSize | undefined {
  return WOOD_SCREW_SIZES.find((size) => size.gauge === gauge);
}
