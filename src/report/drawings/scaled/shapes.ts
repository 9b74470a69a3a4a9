import { onPaper, type Layer, type Outline, type Point, type Stroke } from './figure.ts';
import type { DrawingScale } from './scales.ts';

type More = Pick<Outline, 'hatching' | 'hidden'>;

export function stroke(layer: Layer, x1: number, y1: number, x2: number, y2: number): Stroke {
  return { form: 'stroke', layer, from: { x: x1, y: y1 }, to: { x: x2, y: y2 } };
}

export function rectangle(
  layer: Layer,
  piece: string,
  at: Point & { readonly width: number; readonly height: number },
  more: More = {},
): Outline {
  return { form: 'outline', layer, piece, ...at, ...more };
}

/** A piece whose middle is that of the wall. */
export function centred(
  layer: Layer,
  piece: string,
  width: number,
  y: number,
  height: number,
  more: More = {},
): Outline {
  return rectangle(layer, piece, { x: -width / 2, y, width, height }, more);
}

const HEAD_IN = 0.06;

/** Something that presses, up or down. */
export function arrow(scale: DrawingScale, layer: Layer, x: number, tailY: number, tipY: number): Stroke[] {
  const head = onPaper(scale, HEAD_IN);
  const back = tipY > tailY ? -head : head;
  return [
    stroke(layer, x, tailY, x, tipY),
    stroke(layer, x, tipY, x - head * 0.6, tipY + back),
    stroke(layer, x, tipY, x + head * 0.6, tipY + back),
  ];
}

const ZIG_IN = 0.05;

/** The line across a piece that goes on beyond here. */
export function broken(scale: DrawingScale, layer: Layer, from: Point, to: Point): Stroke[] {
  const zig = onPaper(scale, ZIG_IN);
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  if (length === 0) return [];
  const [ux, uy] = [dx / length, dy / length];
  const at = (along: number, aside: number): Point => ({
    x: from.x + ux * along - uy * aside,
    y: from.y + uy * along + ux * aside,
  });
  const middle = length / 2;
  const points = [
    at(-zig, 0),
    at(middle - zig, 0),
    at(middle - zig / 2, zig),
    at(middle + zig / 2, -zig),
    at(middle + zig, 0),
    at(length + zig, 0),
  ];
  return points.slice(1).map((end, index) => {
    const start = points[index] ?? end;
    return stroke(layer, start.x, start.y, end.x, end.y);
  });
}
