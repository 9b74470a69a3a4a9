import { box, line, path, text, verticalArrow } from '../../../report/drawings/pens.ts';
import { coordinate } from '../../../report/drawings/svg.ts';
import { across, pointer, smallDrawing, upright } from './frame.ts';

function nailHead(x: number, y: number): string {
  return path(`M${coordinate(x - 3)} ${coordinate(y)}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0`, { fill: 'ink' });
}

/** 1 in is 6 units: 11 7/8 in deep, three rows at 12 in, stagger 6 in, edge 2 in. */
export function nailRows(): string {
  const left = 40;
  const top = 26;
  const rows = [12, 36, 60].map((y, row) =>
    [15, 87, 159].map((x) => nailHead(left + x + (row === 1 ? 36 : 0), top + y)).join(''),
  );
  return smallDrawing(
    150,
    'The face of a beam with three rows of nails. Marked: spacing in a row, distance between rows, distance of the first row from the edge and of the first nail from the end. The middle row is staggered by half the spacing.',
    box({ x: left, y: top, width: 250, height: 71 }, 'lumber'),
    ...rows,
    across(left + 87, left + 159, 18, 'spacing'),
    line(left + 87, 23, left + 87, top + 9, { tone: 'chalk', dash: '2 2' }),
    line(left + 159, 23, left + 159, top + 9, { tone: 'chalk', dash: '2 2' }),
    across(left, left + 15, 116, ''),
    text(left, 134, 'end', { tone: 'chalk' }),
    line(24, top, 24, top + 12, { tone: 'chalk', width: 2 }),
    text(2, 20, 'edge', { tone: 'chalk' }),
    line(24, top + 12, 24, top + 36, { tone: 'chalk', dash: '3 2' }),
    text(2, top + 44, 'rows', { tone: 'chalk' }),
    text(290, 134, 'middle row staggered', { anchor: 'end', tone: 'soft' }),
  );
}

export function plies(): string {
  return smallDrawing(
    124,
    'A beam seen from its end: three pieces of 1 3/4 inches side by side, 5 1/4 inches together, 11 7/8 inches deep.',
    ...[0, 1, 2].map((one) => box({ x: 110 + one * 17.5, y: 0 + 4, width: 17.5, height: 95 }, 'lumber')),
    across(110, 162.5, 116, ''),
    text(172, 120, '5 1/4" together', { tone: 'chalk' }),
    text(20, 50, 'each is a ply'),
    pointer(100, 46, 118, 46),
    upright(172, 4, 99, '11 7/8"'),
  );
}

export function grain(): string {
  const wood = (x: number) =>
    box({ x, y: 40, width: 104, height: 40 }, 'lumber') +
    [50, 60, 70].map((y) => line(x + 6, y, x + 98, y, { tone: 'soft' })).join('');
  return smallDrawing(
    124,
    'Left, the load pushes along the grain: 0 degrees. Right, it pushes across the grain: 90 degrees.',
    wood(30),
    wood(176),
    path('M4 60h18m0 0l-7 -4v8Z', { width: 2, fill: 'ink' }),
    verticalArrow(228, 8, 38, { width: 2 }),
    text(82, 104, '0°: along', { anchor: 'middle' }),
    text(228, 104, '90°: across', { anchor: 'middle' }),
  );
}

export function hangerNails(): string {
  return smallDrawing(
    146,
    'Seen from the side: a joist sits in a hanger on the face of the beam. Nails go through the hanger into the beam, and slanted through the joist into the beam.',
    box({ x: 40, y: 20, width: 48, height: 96 }, 'lumber', { width: 2 }),
    box({ x: 92, y: 34, width: 190, height: 74 }, 'lumber'),
    path('M90 40V112H132V104', { width: 3 }),
    line(76, 52, 96, 52, { width: 2.5 }),
    line(76, 70, 96, 70, { width: 2.5 }),
    line(74, 104, 112, 84, { width: 2.5, dash: '6 2' }),
    text(64, 134, 'beam', { anchor: 'middle' }),
    text(210, 76, 'joist', { anchor: 'middle' }),
    text(160, 134, 'hanger'),
    pointer(158, 130, 126, 113),
    text(128, 24, 'nails in every hole'),
    pointer(126, 20, 97, 51),
  );
}

/** To scale along the beam; the sag is drawn twenty times as large. */
export function deflection(): string {
  return smallDrawing(
    116,
    'A beam between two supports, sagging in the middle. Span divided by 360 is the most it may sag under live load.',
    line(24, 34, 276, 34, { tone: 'soft', dash: '5 4' }),
    path('M24 34Q150 78 276 34', { width: 4 }),
    path('M24 38l-9 14h18Z', { width: 1.5 }),
    path('M276 38l-9 14h18Z', { width: 1.5 }),
    across(24, 276, 22, `span 11'-2"`),
    upright(150, 34, 56, ''),
    text(150, 84, 'sag: span ÷ 360 = 3/8"', { anchor: 'middle', tone: 'chalk' }),
    text(150, 104, 'drawn twenty times too large', { anchor: 'middle', tone: 'soft' }),
  );
}

export function duration(): string {
  const bars: readonly (readonly [string, number])[] = [
    ['dead', 0.9],
    ['floor', 1.0],
    ['snow', 1.15],
    ['roof live', 1.25],
    ['wind', 1.6],
  ];
  return smallDrawing(
    148,
    'Bars to scale: dead 0.9, floor 1.0, snow 1.15, roof live 1.25, wind 1.6. The shorter a load lasts, the more the wood carries.',
    ...bars.map(([name, factor], row) => {
      const y = 12 + row * 27;
      return (
        text(76, y + 14, name, { anchor: 'end' }) +
        box({ x: 84, y, width: factor * 105, height: 18 }, row === 1 ? 'lumber' : 'sheet') +
        text(90 + factor * 105, y + 14, factor.toFixed(2), { tone: 'chalk' })
      );
    }),
  );
}

export function sharedNeutral(): string {
  return smallDrawing(
    130,
    'Two breakers feed two hot wires that come back over one neutral. With one breaker off, the neutral may still carry the current of the other.',
    box({ x: 14, y: 22, width: 40, height: 22 }, 'existing'),
    box({ x: 14, y: 58, width: 40, height: 22 }, 'existing'),
    text(34, 38, '13', { anchor: 'middle' }),
    text(34, 74, '15', { anchor: 'middle' }),
    line(54, 33, 240, 33, { width: 2.5 }),
    line(54, 69, 240, 69, { width: 2.5 }),
    path('M240 33V105H54M240 69V105', { width: 2.5, dash: '7 4' }),
    text(146, 26, 'hot', { anchor: 'middle' }),
    text(146, 62, 'hot', { anchor: 'middle' }),
    text(146, 122, 'one neutral for both', { anchor: 'middle' }),
  );
}

/** A joist 9 1/4 in deep, 1 in to 5 units, a third of a 12 ft span beside the next. */
export function holes(): string {
  return smallDrawing(
    120,
    'A joist from the side, in thirds. No notch in the middle third; a hole stays two inches from the upper and the lower edge.',
    box({ x: 20, y: 30, width: 260, height: 46 }, 'lumber'),
    line(106, 22, 106, 84, { tone: 'soft', dash: '4 3' }),
    line(193, 22, 193, 84, { tone: 'soft', dash: '4 3' }),
    path('M142 53a8 8 0 1 0 16 0a8 8 0 1 0 -16 0', { width: 2 }),
    text(63, 18, 'outer third', { anchor: 'middle', tone: 'soft' }),
    text(150, 18, 'middle', { anchor: 'middle', tone: 'soft' }),
    text(236, 18, 'outer third', { anchor: 'middle', tone: 'soft' }),
    line(150, 61, 150, 76, { tone: 'chalk', width: 2 }),
    text(150, 98, '2" to the edge, or more', { anchor: 'middle', tone: 'chalk' }),
  );
}
