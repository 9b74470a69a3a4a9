import { onPaper, type Dimension, type Hatching, type Outline, type Point, type Stroke } from './figure.ts';
import type { DrawingScale } from './scales.ts';

/** Half the slanted tick at the end of a dimension, on paper. */
const TICK_IN = 0.045;
const PAST_IN = 0.06;

/** A dimension as the lines it is drawn with; its words are `dimension.words`. */
export function linesOf(dimension: Dimension, scale: DrawingScale): readonly Stroke[] {
  const { from, to, fromThing, toThing } = dimension;
  const tick = onPaper(scale, TICK_IN);
  const past = onPaper(scale, PAST_IN);
  const along = unit(from, to);
  const stroke = (start: Point, end: Point): Stroke => ({
    form: 'stroke',
    layer: 'DIMENSIONS',
    from: start,
    to: end,
  });
  const extension = (thing: Point, end: Point): Stroke[] => {
    const away = unit(thing, end);
    if (away.x === 0 && away.y === 0) return [];
    return [stroke(moved(thing, away, past / 2), moved(end, away, past))];
  };
  const slant = (at: Point) => stroke({ x: at.x - tick, y: at.y - tick }, { x: at.x + tick, y: at.y + tick });
  return [
    stroke(moved(from, along, -past), moved(to, along, past)),
    slant(from),
    slant(to),
    ...extension(fromThing, from),
    ...extension(toThing, to),
  ];
}

function unit(from: Point, to: Point): Point {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return length === 0 ? { x: 0, y: 0 } : { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
}

function moved(at: Point, direction: Point, by: number): Point {
  return { x: at.x + direction.x * by, y: at.y + direction.y * by };
}

/** Distance of hatching strokes on paper. */
const SPACING: Readonly<Record<Exclude<Hatching, 'end grain'>, number>> = {
  'layered wood': 0.06,
  steel: 0.035,
  concrete: 0.13,
};

/** Between strokes of a piece that is hatched so, in real inches. */
export function hatchSpacingIn(hatching: Exclude<Hatching, 'end grain'>, scale: DrawingScale): number {
  return onPaper(scale, SPACING[hatching]);
}

/** The strokes of a hatched piece: both diagonals for the end grain of lumber, else parallels at 45°. */
export function hatchStrokes(outline: Outline, scale: DrawingScale): readonly Stroke[] {
  const { hatching, layer, x, y, width, height } = outline;
  if (hatching === undefined) return [];
  const stroke = (from: Point, to: Point): Stroke => ({ form: 'stroke', layer, from, to });
  if (hatching === 'end grain') {
    return [
      stroke({ x, y }, { x: x + width, y: y + height }),
      stroke({ x, y: y + height }, { x: x + width, y }),
    ];
  }
  const step = hatchSpacingIn(hatching, scale) * Math.SQRT2;
  const strokes: Stroke[] = [];
  // Lines v = u + c through the box, u and v from its lower left corner.
  for (let c = -width + step / 2; c < height; c += step) {
    const fromU = Math.max(0, -c);
    const toU = Math.min(width, height - c);
    if (toU > fromU) {
      strokes.push(stroke({ x: x + fromU, y: y + fromU + c }, { x: x + toU, y: y + toU + c }));
    }
  }
  return strokes;
}
