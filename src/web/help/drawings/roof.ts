import { box, line, path, text } from '../../../report/drawings/pens.ts';
import { across, hatched, pointer, smallDrawing } from './frame.ts';

/** Roof 8 in 12 over 26 ft: 1 ft is 10 units. */
const FOOT = 10;
const EAVE = { x: 20, y: 108 };
const RIDGE = { x: EAVE.x + 13 * FOOT, y: EAVE.y - (13 * FOOT * 8) / 12 };
const OTHER_EAVE = { x: EAVE.x + 26 * FOOT, y: EAVE.y };
/** A purlin 8 ft from the front eave wall. */
const PURLIN = { x: EAVE.x + 8 * FOOT, y: EAVE.y - (8 * FOOT * 8) / 12 };
const FOOT_OF_BRACE = { x: EAVE.x + 12 * FOOT, y: EAVE.y };

function slopes(): string {
  return (
    path(`M${EAVE.x} ${EAVE.y}L${RIDGE.x} ${RIDGE.y}L${OTHER_EAVE.x} ${OTHER_EAVE.y}`, { width: 3 }) +
    line(EAVE.x, EAVE.y, OTHER_EAVE.x, OTHER_EAVE.y, { width: 3 })
  );
}

export function brace(): string {
  return smallDrawing(
    156,
    'Seen from the side: a brace runs from the purlin under the rafters down to the top of the bearing wall, at an angle of 45 degrees or more.',
    slopes(),
    line(PURLIN.x, PURLIN.y + 3, FOOT_OF_BRACE.x, FOOT_OF_BRACE.y, { width: 5 }),
    box({ x: PURLIN.x - 3, y: PURLIN.y - 1, width: 7, height: 7 }, 'lumber'),
    box({ x: FOOT_OF_BRACE.x - 4, y: EAVE.y + 2, width: 8, height: 38 }, 'lumber'),
    text(8, 38, 'purlin'),
    pointer(44, 34, PURLIN.x, PURLIN.y),
    text(152, 66, 'brace'),
    pointer(150, 62, 124, 78),
    text(154, 138, 'the wall'),
    text(84, 126, '45° or more', { anchor: 'middle', tone: 'chalk' }),
    line(118, 122, 132, 112, { tone: 'chalk' }),
  );
}

export function braceArea(): string {
  return smallDrawing(
    150,
    'Looking down on one slope: the hatched part belongs to the middle brace, half the way to the next brace on either side, and half the way from the purlin to eave and ridge.',
    box({ x: 20, y: 24, width: 240, height: 104 }, 'sheet'),
    line(20, 76, 260, 76, { width: 3 }),
    hatched(90, 50, 80, 52),
    path('M90 50h80v52h-80Z', { tone: 'chalk', width: 1.5 }),
    ...[50, 130, 210].map((x) => box({ x: x - 5, y: 71, width: 10, height: 10 }, 'concrete')),
    text(24, 18, 'ridge'),
    text(24, 144, 'eave'),
    text(256, 68, 'purlin', { anchor: 'end' }),
    text(260, 144, 'braces at the squares', { anchor: 'end', tone: 'soft' }),
  );
}

export function purlin(): string {
  return smallDrawing(
    150,
    'Seen from the side: the distance of the purlin is read level, from the eave wall, not along the rafter.',
    slopes(),
    box({ x: PURLIN.x - 3, y: PURLIN.y - 1, width: 7, height: 7 }, 'lumber'),
    line(PURLIN.x, PURLIN.y + 6, PURLIN.x, 128, { tone: 'chalk', dash: '3 3' }),
    across(EAVE.x, PURLIN.x, 136, `8'-0" level`),
    text(150, 86, 'eave to ridge,', { tone: 'soft' }),
    text(150, 102, 'read level too', { tone: 'soft' }),
  );
}

export function pitch(): string {
  return smallDrawing(
    130,
    'A roof that goes up 8 inches for each 12 inches on the level.',
    path('M60 104L216 0', { width: 3 }),
    path('M96 80h72v-48', { tone: 'chalk', width: 1.5 }),
    text(132, 98, '12', { anchor: 'middle', tone: 'chalk' }),
    text(178, 62, '8: the rise', { tone: 'chalk' }),
    line(40, 116, 260, 116, { tone: 'soft' }),
  );
}

function house(x: number): string {
  return (
    box({ x: x - 18, y: 70, width: 36, height: 24 }, 'sheet') +
    path(`M${x - 23} 70L${x} 50L${x + 23} 70Z`, { width: 1.5, fill: 'wash' })
  );
}

function tree(x: number, height: number): string {
  return (
    path(`M${x} ${94 - height}l9 ${height - 8}h-18Z`, { width: 1.25 }) + line(x, 86, x, 94, { width: 2 })
  );
}

export function exposure(): string {
  return smallDrawing(
    134,
    'Three houses. Among high trees: sheltered. With a few around: partly exposed. Alone in the open: fully exposed.',
    line(4, 94, 296, 94),
    house(50),
    ...[8, 22, 80, 94].map((x) => tree(x, 62)),
    house(152),
    tree(118, 34),
    tree(188, 30),
    house(254),
    text(50, 112, 'sheltered', { anchor: 'middle' }),
    text(50, 128, '1.2', { anchor: 'middle', tone: 'chalk', bold: true }),
    text(152, 112, 'partly', { anchor: 'middle' }),
    text(152, 128, '1.0', { anchor: 'middle', tone: 'chalk', bold: true }),
    text(254, 112, 'fully', { anchor: 'middle' }),
    text(254, 128, '0.9', { anchor: 'middle', tone: 'chalk', bold: true }),
  );
}

export function thermal(): string {
  const roof = (x: number, words: string, factor: string, insulated: number) =>
    path(`M${x - 56} 70L${x} 33L${x + 56} 70Z`, { width: 2 }) +
    hatched(x - 50, insulated, 100, 6) +
    text(x, 92, words, { anchor: 'middle' }) +
    text(x, 110, factor, { anchor: 'middle', tone: 'chalk', bold: true });
  return smallDrawing(
    122,
    'Left, insulation on the ceiling and a cold, ventilated attic: 1.1. Right, a heated house in general: 1.0.',
    roof(78, 'cold attic', '1.1', 64),
    path('M222 70m-56 0L222 33L278 70Z', { width: 2 }),
    text(222, 62, 'warm', { anchor: 'middle', tone: 'soft' }),
    text(222, 92, 'warm under the roof', { anchor: 'middle' }),
    text(222, 110, '1.0', { anchor: 'middle', tone: 'chalk', bold: true }),
  );
}
