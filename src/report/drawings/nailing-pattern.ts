import { positive, refuseUnless } from '../../engineering/trace/refusal.ts';
import { CHAIN_DEPTH, dimensionChain, uprightDimension } from './dimensions.ts';
import { SHEET_WIDTH } from './elevation.ts';
import { box, line, path, text } from './pens.ts';
import { coordinate, drawingFrame, element, group } from './svg.ts';
import type { DrawnNail, NailingPatternModel, NailSection } from './types.ts';

const LEFT = 92;
const RIGHT = 40;
const FACE_TALLEST = 220;
const SECTION_TALLEST = 90;

/** From the front: a full dot. From the back: an open square. Told apart without colour. */
function nailHead(x: number, y: number, side: DrawnNail['side']): string {
  return side === 'front'
    ? element('circle', { cx: x, cy: y, r: 4, class: 'dw-dot', fill: '#19252e', 'data-nail': 'front' })
    : element('rect', {
        x: x - 4,
        y: y - 4,
        width: 8,
        height: 8,
        class: 'dw-open',
        fill: '#fafaf6',
        stroke: '#97390f',
        'stroke-width': 1.75,
        'data-nail': 'back',
      });
}

function checkNails(model: NailingPatternModel): void {
  positive(model.face.lengthIn, 'face.lengthIn');
  positive(model.face.depthIn, 'face.depthIn');
  for (const nail of model.nails) {
    refuseUnless(
      nail.alongIn >= 0 &&
        nail.alongIn <= model.face.lengthIn &&
        nail.downIn >= 0 &&
        nail.downIn <= model.face.depthIn,
      'nails',
      'A nail lies outside the face it is driven into.',
    );
  }
}

/** Distinct values, ascending; two that differ by less than a 1/64 in are one. */
function distinct(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.filter((value, index) => index === 0 || value - (sorted[index - 1] ?? 0) > 1 / 64);
}

function drawSection(section: NailSection, left: number, top: number): { markup: string; height: number } {
  const totalIn = section.plies.reduce((sum, ply) => sum + positive(ply.thicknessIn, 'plies.thicknessIn'), 0);
  positive(section.fastenerLengthIn, 'section.fastenerLengthIn');
  positive(section.fastenerDiameterIn, 'section.fastenerDiameterIn');
  const perInch = Math.min(40, 300 / Math.max(totalIn, section.fastenerLengthIn));
  const height = SECTION_TALLEST;
  const parts: string[] = [];
  let x = left;
  section.plies.forEach((ply, index) => {
    const width = ply.thicknessIn * perInch;
    parts.push(box({ x, y: top, width, height }, 'lumber', { name: 'ply' }));
    parts.push(text(x + width / 2, top + 18, `${index + 1}`, { anchor: 'middle', size: 12, bold: true }));
    x += width;
  });
  const nailY = top + height / 2 + 8;
  const tip = left + section.fastenerLengthIn * perInch;
  const thick = Math.max(2, section.fastenerDiameterIn * perInch);
  const point = Math.min(thick * 1.5, section.fastenerLengthIn * perInch * 0.5);
  parts.push(
    path(
      `M${coordinate(left)} ${coordinate(nailY - thick / 2)}H${coordinate(tip - point)}L${coordinate(tip)} ${coordinate(nailY)}L${coordinate(tip - point)} ${coordinate(nailY + thick / 2)}H${coordinate(left)}Z`,
      { fill: 'ink', width: 0.5 },
    ),
    line(left, nailY - thick - 4, left, nailY + thick + 4, { width: 3 }),
  );
  const chainY = top + height + 26;
  const heldFrom = tip - section.penetrationIn * perInch;
  parts.push(
    dimensionChain(
      [
        { x: heldFrom, atIn: section.fastenerLengthIn - section.penetrationIn },
        { x: tip, atIn: section.fastenerLengthIn },
      ],
      top + height + 4,
      chainY,
    ),
    line(tip, nailY, tip, top + height + 4, { width: 0.5, tone: 'soft', dash: '3 3' }),
  );
  const wordsX = Math.max(x, tip) + 24;
  const words = [
    'Section, from the front (left) to the back',
    section.fastenerLabel,
    ...section.plies.map((ply, index) => `${index + 1}  ${ply.label}`),
    'Dimension: depth in the holding ply',
  ];
  words.forEach((entry, index) =>
    parts.push(text(wordsX, top + 12 + index * 17, entry, { size: 12, bold: index === 0 })),
  );
  return {
    markup: group('dw-section', ...parts),
    height: Math.max(height + 26 + CHAIN_DEPTH, words.length * 17 + 20),
  };
}

/**
 * The face of a nailed joint to scale with every nail, its spacings and edge distances, and a cut that shows
 * how deep one nail goes. Nails from the front and from the back have different shapes.
 */
export function drawNailingPattern(model: NailingPatternModel): string {
  checkNails(model);
  const { face } = model;
  const unitsPerInch = Math.min((SHEET_WIDTH - LEFT - RIGHT) / face.lengthIn, FACE_TALLEST / face.depthIn);
  const top = 34;
  const width = face.lengthIn * unitsPerInch;
  const depth = face.depthIn * unitsPerInch;
  const toX = (alongIn: number) => LEFT + alongIn * unitsPerInch;
  const toY = (downIn: number) => top + downIn * unitsPerInch;

  const rows = distinct(model.nails.map((nail) => nail.downIn));
  const along = distinct(model.nails.map((nail) => nail.alongIn));
  const stops = [0, ...along, ...(model.continues ? [] : [face.lengthIn])].map((atIn) => ({
    atIn,
    x: toX(atIn),
  }));
  const chainY = top + depth + 26;

  // Edge distances and row spacings, one below the other at the left.
  const levels = [0, ...rows, face.depthIn];
  const upright = levels.slice(1).map((level, index) => {
    const from = levels[index] ?? 0;
    return level - from > 1 / 64
      ? uprightDimension(LEFT - 18, toY(from), toY(level), level - from, 'left')
      : '';
  });

  const end = toX(face.lengthIn);
  const torn = model.continues
    ? path(
        `M${coordinate(end)} ${coordinate(top - 6)}V${coordinate(top + depth * 0.4)}l-6 4 12 8 -6 4V${coordinate(top + depth + 6)}`,
        { width: 1 },
      )
    : '';

  const hasBack = model.nails.some((nail) => nail.side === 'back');
  const legendY = chainY + CHAIN_DEPTH + 14;
  const legend = group(
    'dw-legend',
    nailHead(LEFT + 6, legendY - 4, 'front'),
    text(LEFT + 18, legendY, 'driven from the front', { size: 12 }),
    ...(hasBack
      ? [
          nailHead(LEFT + 186, legendY - 4, 'back'),
          text(LEFT + 198, legendY, 'driven from the back', { size: 12 }),
        ]
      : []),
    ...(model.continues
      ? [
          text(SHEET_WIDTH - RIGHT, legendY, 'pattern repeats to the right', {
            anchor: 'end',
            size: 12,
            tone: 'soft',
          }),
        ]
      : []),
  );
  const section = drawSection(model.section, LEFT, legendY + 22);
  return drawingFrame(
    { ...model, width: SHEET_WIDTH, height: legendY + 22 + section.height + 6, unitsPerInch },
    text(LEFT, 18, face.label, { bold: true }),
    box({ x: LEFT, y: top, width, height: depth }, 'lumber', { name: 'face', width: 1.5 }),
    torn,
    group('dw-nails', ...model.nails.map((nail) => nailHead(toX(nail.alongIn), toY(nail.downIn), nail.side))),
    ...upright,
    dimensionChain(stops, top + depth + 4, chainY),
    legend,
    section.markup,
  );
}
