import type { Drawn } from './overlay.ts';

/** A square of the grid over a drawing: columns A to J from the left, rows 1 to 10 from the top. */
export const SQUARE = /^[A-J]([1-9]|10)$/;

/** A mark in the middle of a square of the first page; none for what is no square. */
export function markIn(square: string): Drawn[] {
  if (!SQUARE.test(square)) return [];
  const leftPercent = (square.charCodeAt(0) - 'A'.charCodeAt(0)) * 10 + 5;
  const topPercent = Number(square.slice(1)) * 10 - 5;
  return [{ ordinal: '×', note: { shape: 'pin', page: 1, leftPercent, topPercent, words: square } }];
}
