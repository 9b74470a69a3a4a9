import { fastenerLabel, pennyNail, pneumaticNail, type Fastener } from './fastener.ts';
import { CONNECTOR_NAIL_SIZES, NAIL_SIZES, PNEUMATIC_SIZES, type PennyStyle } from './nail-sizes.ts';
import { LAG_SIZES, WOOD_SCREW_SIZES } from './screw-sizes.ts';

export interface StandardFastener {
  /** '0.162 × 3.5 in nail (16d common)'; unique in the list. */
  readonly label: string;
  readonly fastener: Fastener;
}

const PENNY_STYLES: readonly PennyStyle[] = ['common', 'box', 'sinker'];
const WOOD_SCREW_LENGTHS_IN = [1.5, 2, 2.5, 3, 3.5, 4] as const;
const LAG_LENGTHS_IN = [3, 4, 5, 6, 8] as const;
const BOLT_DIAMETERS_IN = [0.375, 0.5, 0.625, 0.75] as const;
const BOLT_LENGTHS_IN = [4, 5, 6, 7, 8, 10] as const;
const COMMON_GAUGES: readonly number[] = [8, 9, 10, 12, 14];
const LARGEST_LAG_IN = 0.75;
/** Length to the lower head (ASTM F1667 double-headed nails, from memory). */
const DUPLEX_SIZES = [
  { diameterIn: 0.131, lengthIn: 2.25 },
  { diameterIn: 0.162, lengthIn: 3 },
] as const;

/**
 * What a form offers and a truck holds: nails of NDS Table L4, gun and connector nails, wood screws, lag screws
 * and bolts. Structural screws are declared and so in no list.
 */
export function standardFasteners(): readonly StandardFastener[] {
  const fasteners: Fastener[] = [
    ...PENNY_STYLES.flatMap((style) => NAIL_SIZES[style].map((size) => pennyNail(style, size.penny))),
    ...PNEUMATIC_SIZES.map((size) => pneumaticNail(size.diameterIn, size.lengthIn)),
    ...CONNECTOR_NAIL_SIZES.map((size): Fastener => ({ kind: 'nail', style: 'connector', ...size })),
    ...DUPLEX_SIZES.map((size): Fastener => ({ kind: 'nail', style: 'duplex', ...size })),
    ...WOOD_SCREW_SIZES.filter(({ gauge }) => COMMON_GAUGES.includes(gauge)).flatMap(({ gauge }) =>
      WOOD_SCREW_LENGTHS_IN.map((lengthIn): Fastener => ({ kind: 'wood screw', gauge, lengthIn })),
    ),
    ...LAG_SIZES.filter(({ diameterIn }) => diameterIn <= LARGEST_LAG_IN).flatMap(({ diameterIn }) =>
      LAG_LENGTHS_IN.map((lengthIn): Fastener => ({ kind: 'lag screw', diameterIn, lengthIn })),
    ),
    ...BOLT_DIAMETERS_IN.flatMap((diameterIn) =>
      BOLT_LENGTHS_IN.map((lengthIn): Fastener => ({ kind: 'bolt', diameterIn, lengthIn })),
    ),
  ];
  return fasteners.map((fastener) => ({ label: fastenerLabel(fastener), fastener }));
}
