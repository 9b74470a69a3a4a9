import { tape } from '../dimensions.ts';
import { textWidth } from '../pens.ts';
import { onPaper, WORDS_IN, type Dimension, type Point, type Words } from './figure.ts';
import type { DrawingScale } from './scales.ts';

/** Two positions closer than a thirty-second are one on a tape. */
const SAME_IN = 1 / 32;
const LINE_GAP = 0.04;

function distinct(positions: readonly number[]): number[] {
  const sorted = [...positions].sort((a, b) => a - b);
  return sorted.filter((at, index) => index === 0 || at - (sorted[index - 1] ?? 0) > SAME_IN);
}

function wordsAt(
  scale: DrawingScale,
  at: Point,
  text: string,
  rest: Partial<Pick<Words, 'anchor' | 'upright'>> = {},
): Words {
  return {
    form: 'words',
    layer: 'DIMENSIONS',
    at,
    anchor: 'middle',
    text,
    heightIn: onPaper(scale, WORDS_IN),
    ...rest,
  };
}

/**
 * Dimensions in a row along the height y, from position to position. Words that are wider than their stretch go to the
 * far side of the line, where no extension lines are, each in a row of its own where it would lie on another.
 *
 * @param thingY where the extension lines begin
 */
export function chainAlong(
  scale: DrawingScale,
  positions: readonly number[],
  thingY: number,
  y: number,
): Dimension[] {
  const stops = distinct(positions);
  const heightIn = onPaper(scale, WORDS_IN);
  const ends: number[] = [];
  return stops.slice(1).map((to, index) => {
    const from = stops[index] ?? to;
    const text = tape(to - from);
    const width = textWidth(text, heightIn);
    const middle = (from + to) / 2;
    let wordsY = y + onPaper(scale, LINE_GAP);
    if (width + heightIn > to - from) {
      let row = ends.findIndex((end) => end + heightIn * 0.6 < middle - width / 2);
      if (row === -1) row = ends.length;
      ends[row] = middle + width / 2;
      wordsY = y > thingY ? y + heightIn * (1 + 1.5 * row) : y - heightIn * (1.6 + 1.5 * row);
    }
    return {
      form: 'dimension',
      from: { x: from, y },
      to: { x: to, y },
      fromThing: { x: from, y: thingY },
      toThing: { x: to, y: thingY },
      words: wordsAt(scale, { x: middle, y: wordsY }, text),
    };
  });
}

/** One dimension up and down at x, its words beside it and reading upward, or level where it is short. */
export function upright(
  scale: DrawingScale,
  x: number,
  fromY: number,
  toY: number,
  thingX: number,
  side: 'left' | 'right',
): Dimension {
  const text = tape(toY - fromY);
  const heightIn = onPaper(scale, WORDS_IN);
  const gap = onPaper(scale, LINE_GAP);
  const middle = (fromY + toY) / 2;
  const long = toY - fromY > textWidth(text, heightIn) + heightIn;
  const words = long
    ? wordsAt(scale, { x: side === 'left' ? x - gap : x + gap + heightIn, y: middle }, text, {
        upright: true,
      })
    : wordsAt(scale, { x: side === 'left' ? x - 2 * gap : x + 2 * gap, y: middle - heightIn * 0.4 }, text, {
        anchor: side === 'left' ? 'end' : 'start',
      });
  return {
    form: 'dimension',
    from: { x, y: fromY },
    to: { x, y: toY },
    fromThing: { x: thingX, y: fromY },
    toThing: { x: thingX, y: toY },
    words,
  };
}
