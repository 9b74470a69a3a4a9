import { box, line, text } from '../../../report/drawings/pens.ts';
import { across, hatched, pointer, smallDrawing, upright } from './frame.ts';

/** 1 ft is 9 units: front span 12 ft, rear 14 ft, as in the demo house. */
const FOOT = 9;
const FRONT = { from: 30, to: 30 + 12 * FOOT };
const REAR = { from: FRONT.to, to: FRONT.to + 14 * FOOT };
const JOIST_TOP = 44;
const JOIST_DEPTH = (9.25 / 12) * FOOT;
const WALL_HEIGHT = 8 * FOOT;

/** Section across the wall: outer walls, joists, the bearing wall in the middle. */
function section(): string {
  const post = (x: number) =>
    box({ x: x - 2.5, y: JOIST_TOP + JOIST_DEPTH, width: 5, height: WALL_HEIGHT }, 'lumber');
  return (
    box({ x: FRONT.from, y: JOIST_TOP, width: FRONT.to - FRONT.from, height: JOIST_DEPTH }, 'lumber') +
    box({ x: REAR.from, y: JOIST_TOP, width: REAR.to - REAR.from, height: JOIST_DEPTH }, 'lumber') +
    post(FRONT.from + 2.5) +
    post(FRONT.to) +
    post(REAR.to - 2.5) +
    line(12, JOIST_TOP + JOIST_DEPTH + WALL_HEIGHT, 288, JOIST_TOP + JOIST_DEPTH + WALL_HEIGHT, { width: 2 })
  );
}

export function strip(): string {
  return smallDrawing(
    142,
    'Seen from the side: joists run from the front wall to the bearing wall, and from there to the rear wall. Each run has its own span.',
    across(FRONT.from, FRONT.to, 26, 'front span'),
    across(REAR.from, REAR.to, 26, 'rear span'),
    section(),
    text(FRONT.to + 14, 92, 'this wall'),
    pointer(FRONT.to + 12, 88, FRONT.to + 2, 88),
  );
}

export function tributary(): string {
  const half = (FRONT.from + FRONT.to) / 2;
  const other = (REAR.from + REAR.to) / 2;
  return smallDrawing(
    142,
    'The same section. Half of the front span and half of the rear span are hatched: that much floor hangs on the wall.',
    across(half, FRONT.to, 26, 'half'),
    across(REAR.from, other, 26, 'half'),
    section(),
    hatched(half, JOIST_TOP - 8, other - half, 8),
    text(150, 92, '12 ft and 14 ft:'),
    text(150, 110, '6 + 7 = 13 ft'),
  );
}

export function overWall(): string {
  const top = 52;
  return smallDrawing(
    130,
    'Left, two joists lap side by side over the wall: each ends there. Right, one joist runs over the wall without a joint.',
    text(70, 20, 'lapped', { anchor: 'middle', bold: true }),
    box({ x: 8, y: top, width: 76, height: 14 }, 'lumber'),
    box({ x: 58, y: top + 4, width: 76, height: 14 }, 'sheet'),
    box({ x: 66, y: top + 18, width: 10, height: 46 }, 'lumber'),
    text(70, 42, 'two lengths', { anchor: 'middle', tone: 'soft' }),
    text(228, 20, 'continuous', { anchor: 'middle', bold: true }),
    box({ x: 165, y: top + 4, width: 126, height: 14 }, 'lumber'),
    box({ x: 223, y: top + 18, width: 10, height: 46 }, 'lumber'),
    text(228, 42, 'one length', { anchor: 'middle', tone: 'soft' }),
    line(150, 10, 150, 122, { tone: 'soft', dash: '3 4' }),
  );
}

export function placement(): string {
  const joist = (x: number, y: number, width: number) => box({ x, y, width, height: 15 }, 'lumber');
  return smallDrawing(
    130,
    'Left, flush: the beam lies between the joists, which hang from it, and the ceiling stays flat. Right, dropped: the beam lies under the joists and shows below the ceiling.',
    text(70, 20, 'flush', { anchor: 'middle', bold: true }),
    joist(8, 44, 54),
    joist(78, 44, 54),
    box({ x: 62, y: 44, width: 16, height: 20 }, 'concrete', { width: 2 }),
    text(70, 86, 'joists hang', { anchor: 'middle', tone: 'soft' }),
    text(70, 102, 'from it', { anchor: 'middle', tone: 'soft' }),
    text(228, 20, 'dropped', { anchor: 'middle', bold: true }),
    joist(165, 44, 66),
    joist(225, 44, 66),
    box({ x: 220, y: 59, width: 16, height: 20 }, 'concrete', { width: 2 }),
    text(228, 98, 'joists lie on it', { anchor: 'middle', tone: 'soft' }),
    line(150, 10, 150, 122, { tone: 'soft', dash: '3 4' }),
  );
}

/** 1 in is 1.5 units: an 8'-1 1/8" wall, studs 1 1/2" thick drawn at three times their thickness. */
export function jack(): string {
  const stud = (x: number, top: number) => box({ x, y: top, width: 11, height: 158 - top }, 'lumber');
  return smallDrawing(
    176,
    'Seen from the front: the beam ends on two jacks, which stand on the bottom plate. Beside them a king runs past the end of the beam, from plate to plate. Jacks and king together are the jamb.',
    box({ x: 20, y: 12, width: 270, height: 8 }, 'lumber'),
    stud(60, 20),
    box({ x: 71, y: 40, width: 219, height: 28 }, 'concrete', { width: 2 }),
    stud(71, 68),
    stud(82, 68),
    box({ x: 20, y: 158, width: 73, height: 8 }, 'lumber'),
    text(180, 59, 'beam', { anchor: 'middle' }),
    text(120, 104, 'jacks: they carry it'),
    pointer(117, 100, 88, 100),
    text(120, 134, 'king: holds it upright'),
    pointer(117, 130, 66, 130),
    text(6, 100, 'jamb', { tone: 'chalk' }),
    line(40, 96, 58, 96, { tone: 'chalk' }),
  );
}

export function bearing(): string {
  const x = 60;
  return smallDrawing(
    148,
    'The end of the beam lies on three jacks of 1 1/2 inches each: 4 1/2 inches of bearing.',
    box({ x, y: 26, width: 236, height: 44 }, 'concrete', { width: 2 }),
    ...[0, 1, 2].map((one) => box({ x: x + one * 22, y: 70, width: 22, height: 40 }, 'lumber')),
    box({ x: x - 22, y: 8, width: 22, height: 102 }, 'lumber'),
    text(190, 53, 'beam', { anchor: 'middle' }),
    across(x, x + 66, 122, ''),
    text(x, 142, '3 x 1 1/2" = 4 1/2"', { tone: 'chalk' }),
  );
}

export function datum(): string {
  return smallDrawing(
    146,
    'Seen from the front: the tape starts at the face of a wall that stays, and both sides of the opening are read from there.',
    box({ x: 8, y: 30, width: 14, height: 78 }, 'existing', { width: 2 }),
    box({ x: 22, y: 40, width: 42, height: 68 }, 'existing'),
    box({ x: 220, y: 40, width: 66, height: 68 }, 'existing'),
    text(142, 82, 'opening', { anchor: 'middle', tone: 'soft' }),
    text(8, 22, 'start here'),
    across(22, 64, 136, `1'-8"`),
    line(22, 112, 220, 112, { tone: 'chalk' }),
    line(220, 107, 220, 117, { tone: 'chalk' }),
    text(150, 106, `12'-6"`, { anchor: 'middle', tone: 'chalk' }),
  );
}

export function temporaryWall(): string {
  const floor = 128;
  const wall = (x: number, dash?: string) =>
    box({ x: x - 4, y: 40, width: 8, height: floor - 40 }, dash === undefined ? 'lumber' : 'sheet', {
      ...(dash === undefined ? {} : { dash }),
    });
  return smallDrawing(
    148,
    'Seen from the side: one temporary wall on each side of the bearing wall, a few feet away, holds the joists while the wall is out.',
    box({ x: 10, y: 26, width: 280, height: 14 }, 'lumber'),
    wall(95),
    wall(150, '4 3'),
    wall(205),
    line(6, floor, 294, floor, { width: 2 }),
    across(95, 150, 92, '2–3 ft'),
    text(42, 70, 'temporary', { anchor: 'middle' }),
    text(42, 86, 'wall', { anchor: 'middle' }),
    text(258, 70, 'temporary', { anchor: 'middle' }),
    text(258, 86, 'wall', { anchor: 'middle' }),
    text(150, 144, 'the wall that comes out', { anchor: 'middle', tone: 'soft' }),
  );
}

export function weakAxis(): string {
  return smallDrawing(
    146,
    'Left, a slender stud that bows sideways along the wall. Right, the same stud held by blocking at half its height: each half is stiffer.',
    text(70, 18, 'not held', { anchor: 'middle', bold: true }),
    line(62, 26, 62, 134, { tone: 'soft', dash: '3 3' }),
    `<path d="M58 26Q88 80 58 134h9Q97 80 67 26Z" class="dw-box dw-box--lumber" fill="#ece3d0" stroke="#19252e"/>`,
    text(220, 18, 'held in the middle', { anchor: 'middle', bold: true }),
    box({ x: 180, y: 76, width: 80, height: 9 }, 'concrete'),
    box({ x: 216, y: 26, width: 9, height: 108 }, 'lumber'),
    upright(270, 26, 80, ''),
    upright(270, 80, 134, ''),
    text(262, 56, 'half', { anchor: 'end', tone: 'chalk' }),
  );
}
