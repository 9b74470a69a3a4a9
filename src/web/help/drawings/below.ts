import { box, line, path, text } from '../../../report/drawings/pens.ts';
import { across, pointer, smallDrawing, upright } from './frame.ts';

/** 1 in is 2 units: three 2x6 jacks on a pad 30 x 12 in. */
export function pad(): string {
  return smallDrawing(
    150,
    'Seen from the front: the pack of jacks stands on a new pad, wider than the strip that was found; the slab runs on beside it.',
    box({ x: 141, y: 8, width: 9, height: 62 }, 'lumber'),
    box({ x: 150, y: 8, width: 9, height: 62 }, 'lumber'),
    box({ x: 10, y: 70, width: 280, height: 8 }, 'concrete'),
    box({ x: 120, y: 70, width: 60, height: 24 }, 'concrete', { width: 2 }),
    line(4, 78, 118, 78, { dash: '4 3', tone: 'soft' }),
    line(182, 78, 296, 78, { dash: '4 3', tone: 'soft' }),
    text(40, 64, 'slab', { anchor: 'middle' }),
    upright(194, 70, 94, ''),
    text(204, 106, 'thickness 12"', { tone: 'chalk' }),
    across(120, 180, 120, ''),
    text(150, 138, 'along the wall 30"', { anchor: 'middle', tone: 'chalk' }),
  );
}

export function squashBlocks(): string {
  const joist = (x: number) => box({ x, y: 62, width: 10, height: 38 }, 'lumber');
  return smallDrawing(
    148,
    'Seen from the front: the pack stands on a framed floor. Between the joists, blocks as deep as the floor lead its load to the girder below.',
    box({ x: 130, y: 4, width: 14, height: 52 }, 'lumber'),
    box({ x: 144, y: 4, width: 14, height: 52 }, 'lumber'),
    box({ x: 20, y: 56, width: 260, height: 6 }, 'existing'),
    joist(60),
    joist(206),
    box({ x: 130, y: 62, width: 14, height: 38 }, 'concrete', { width: 2 }),
    box({ x: 144, y: 62, width: 14, height: 38 }, 'concrete', { width: 2 }),
    box({ x: 20, y: 100, width: 260, height: 22 }, 'lumber'),
    text(172, 30, 'pack of jacks'),
    pointer(170, 26, 156, 26),
    text(206, 142, 'girder', { anchor: 'middle' }),
    text(94, 84, 'squash', { anchor: 'middle' }),
    text(94, 98, 'blocks', { anchor: 'middle' }),
    pointer(116, 82, 132, 82),
  );
}

export function postTension(): string {
  return smallDrawing(
    124,
    'A slab cut open: a steel cable, pulled tight, runs through it from edge to edge. Cutting it lets it loose with great force.',
    box({ x: 20, y: 36, width: 260, height: 40 }, 'concrete', { width: 1.5 }),
    path('M20 56H280', { width: 4 }),
    box({ x: 14, y: 48, width: 10, height: 16 }, 'existing', { width: 2 }),
    box({ x: 276, y: 48, width: 10, height: 16 }, 'existing', { width: 2 }),
    text(150, 24, 'cable under tension', { anchor: 'middle' }),
    pointer(150, 28, 150, 55),
    text(150, 96, 'often stamped in the slab', { anchor: 'middle', tone: 'soft' }),
    text(150, 112, 'at the garage door', { anchor: 'middle', tone: 'soft' }),
  );
}

export function storeys(): string {
  const floor = (y: number) => box({ x: 30, y, width: 200, height: 8 }, 'lumber');
  return smallDrawing(
    156,
    'Seen from the side: two floors and a ceiling hang on the wall. Temporary walls stand under each of them, one above the other, down to the slab.',
    floor(14),
    floor(78),
    ...[22, 86].flatMap((y) => [
      box({ x: 126, y, width: 8, height: 56 }, 'sheet', { dash: '4 3' }),
      box({ x: 86, y, width: 7, height: 56 }, 'lumber'),
      box({ x: 167, y, width: 7, height: 56 }, 'lumber'),
    ]),
    line(20, 142, 240, 142, { width: 2 }),
    upright(246, 22, 78, '2nd'),
    upright(246, 86, 142, '1st'),
  );
}
