import { formatFeetInches } from '../../engineering/units/index.ts';
import { line, text, textWidth } from './pens.ts';

const SIZE = 12;

/** Feet and inches to the sixteenth, as they are read off a tape. */
export function tape(inches: number): string {
  return formatFeetInches(inches, { to: 16 });
}

/** The slanted tick at the end of a dimension. */
function tick(x: number, y: number): string {
  return line(x - 4, y + 4, x + 4, y - 4, { width: 1.75 });
}

export interface Stop {
  /** In the drawing. */
  readonly x: number;
  /** In the wall. */
  readonly atIn: number;
}

/** Height a chain takes below its line. */
export const CHAIN_DEPTH = 34;

/**
 * A chain of dimensions along y through the stops, with extension lines from `fromY`. A label that is wider
 * than its segment goes below the line, so that it lies on no neighbour.
 */
export function dimensionChain(stops: readonly Stop[], fromY: number, y: number): string {
  const parts: string[] = [];
  const sorted = [...stops]
    .sort((a, b) => a.x - b.x)
    .filter((s, i, all) => i === 0 || s.x - (all[i - 1]?.x ?? 0) > 0.01);
  const first = sorted[0];
  const last = sorted.at(-1);
  if (first === undefined || last === undefined || first === last) return '';
  parts.push(line(first.x - 6, y, last.x + 6, y, { width: 0.75 }));
  let belowEnd = -Infinity;
  sorted.forEach((stop, index) => {
    parts.push(line(stop.x, fromY, stop.x, y + 6, { width: 0.5, tone: 'soft' }), tick(stop.x, y));
    const next = sorted[index + 1];
    if (next === undefined) return;
    const words = tape(next.atIn - stop.atIn);
    const width = textWidth(words, SIZE);
    const middle = (stop.x + next.x) / 2;
    if (width + 10 <= next.x - stop.x) {
      parts.push(text(middle, y - 5, words, { anchor: 'middle', size: SIZE }));
      return;
    }
    const deeper = middle - width / 2 < belowEnd + 4 ? 28 : 15;
    belowEnd = middle + width / 2;
    parts.push(text(middle, y + deeper, words, { anchor: 'middle', size: SIZE }));
  });
  return parts.join('');
}

/** One dimension up and down at x between two heights, its label to the right (or left). */
export function uprightDimension(
  x: number,
  topY: number,
  bottomY: number,
  inches: number,
  side: 'left' | 'right' = 'right',
): string {
  const middle = (topY + bottomY) / 2 + 4;
  const away = side === 'right' ? 8 : -8;
  return (
    line(x, topY - 5, x, bottomY + 5, { width: 0.75 }) +
    tick(x, topY) +
    tick(x, bottomY) +
    text(x + away, middle, tape(inches), { anchor: side === 'right' ? 'start' : 'end', size: SIZE })
  );
}
