import { textWidth, TEXT_SIZE } from './pens.ts';

export interface WantedLabel {
  /** Where the middle of the words would like to be. */
  readonly x: number;
  readonly words: string;
}

export interface PlacedLabel extends WantedLabel {
  /** Middle of the words, moved inside the sheet where need be. */
  readonly middle: number;
  /** 0 is the row nearest to the thing that is labelled. */
  readonly row: number;
}

const GAP = 10;

/**
 * Labels in as few rows as it takes that none lies on another: each, from left to right, in the first row
 * with room. The result keeps the order of the input.
 */
export function labelRows(
  labels: readonly WantedLabel[],
  width: number,
  size: number = TEXT_SIZE,
): PlacedLabel[] {
  const rowEnds: number[] = [];
  const placed = labels.map((label, index) => ({ label, index })).sort((a, b) => a.label.x - b.label.x);
  const result: PlacedLabel[] = [];
  for (const { label, index } of placed) {
    const half = textWidth(label.words, size) / 2;
    const middle = Math.max(half + 2, Math.min(width - half - 2, label.x));
    let row = rowEnds.findIndex((end) => end + GAP <= middle - half);
    if (row === -1) row = rowEnds.length;
    rowEnds[row] = middle + half;
    result[index] = { ...label, middle, row };
  }
  return result;
}

/** How many rows the labels take. */
export function rowCount(placed: readonly PlacedLabel[]): number {
  return placed.reduce((most, label) => Math.max(most, label.row + 1), 0);
}

/**
 * Moves positions apart to at least `gap`, in order, as little as possible to the right and then back from the
 * right-hand limit. Used for upright labels over marks that lie close together.
 */
export function spreadApart(wanted: readonly number[], gap: number, limit: number): number[] {
  const result = [...wanted];
  for (let index = 1; index < result.length; index += 1) {
    result[index] = Math.max(result[index] ?? 0, (result[index - 1] ?? 0) + gap);
  }
  let right = limit;
  for (let index = result.length - 1; index >= 0; index -= 1) {
    result[index] = Math.min(result[index] ?? 0, right);
    right = (result[index] ?? 0) - gap;
  }
  return result;
}

/** A word that no line has room for, in pieces that fit; nothing of an empty one. */
function pieces(word: string, width: number, size: number): string[] {
  const letters = Array.from(word);
  const most = Math.max(1, Math.floor(width / textWidth('x', size)));
  const parts: string[] = [];
  for (let at = 0; at < letters.length; at += most) parts.push(letters.slice(at, at + most).join(''));
  return parts;
}

/** Words broken into lines that fit the width; a word longer than a line goes on in the next. */
export function wrapWords(words: string, width: number, size: number = TEXT_SIZE): string[] {
  const lines: string[] = [];
  let current = '';
  for (const word of words.split(/\s+/u).flatMap((part) => pieces(part, width, size))) {
    const longer = current === '' ? word : `${current} ${word}`;
    if (current !== '' && textWidth(longer, size) > width) {
      lines.push(current);
      current = word;
    } else current = longer;
  }
  return current === '' ? lines : [...lines, current];
}
