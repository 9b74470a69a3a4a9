import { positive } from '../trace/index.ts';

/** Of plain steel, lb/in³ (490 pcf). */
const STEEL_LB_PER_IN3 = 490 / 1728;

/**
 * Nails in a pound, by the volume of their shank; heads and points about make up for each other. Within a few percent of
 * the counts that federal specification FF-N-105 prints for common nails (from memory: 16d 49, 10d 69, 8d 106).
 */
export function nailsPerPound(diameterIn: number, lengthIn: number): number {
  const volumeIn3 = (Math.PI / 4) * positive(diameterIn, 'diameterIn') ** 2 * positive(lengthIn, 'lengthIn');
  return 1 / (volumeIn3 * STEEL_LB_PER_IN3);
}

/** Nails are sold in boxes of 1, 5, 25 and 50 lb. Common practice. */
const BOXES_LB = [50, 25, 5, 1] as const;

/** The boxes that hold at least so many pounds, largest first: '1 box of 5 lb and 2 boxes of 1 lb'. */
export function boxWords(pounds: number): string {
  let left = Math.ceil(positive(pounds, 'pounds') - 1e-9);
  const words: string[] = [];
  for (const box of BOXES_LB) {
    const count = Math.floor(left / box);
    if (count > 0) words.push(`${count} ${count === 1 ? 'box' : 'boxes'} of ${box} lb`);
    left -= count * box;
  }
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}
