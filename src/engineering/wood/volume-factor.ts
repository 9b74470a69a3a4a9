import type { VolumeEffect } from '../materials/wood-material.ts';

/** Widest single lamination; wider glulam is laid up of pieces side by side (NDS 5.3.6). */
const WIDEST_LAMINATION_IN = 10.75;

/**
 * Volume factor CV on Fb.
 *
 * Glulam: [(21 ft ÷ L)(12 in ÷ d)(5.125 in ÷ b)]^(1/x) ≤ 1, x = 10, Southern Pine 20 (NDS 5.3.6, Eq. 5.3-1,
 * from memory; reproduces the examples in tests/published). Composites: (reference depth ÷ d)^exponent of
 * the product's report (NDS 8.3.6); above 1 for shallow members.
 *
 * @param lengthIn between points of zero moment.
 */
export function volumeFactor(
  volume: VolumeEffect | undefined,
  breadthIn: number,
  depthIn: number,
  lengthIn: number,
): number {
  if (volume === undefined) return 1;
  if (volume.kind === 'depth') return (volume.referenceDepthIn / depthIn) ** volume.exponent;
  const lengthFt = lengthIn / 12;
  const widthIn = Math.min(breadthIn, WIDEST_LAMINATION_IN);
  const product = (21 / lengthFt) * (12 / depthIn) * (5.125 / widthIn);
  return Math.min(1, product ** (1 / volume.exponentDivisor));
}
