import { positive, refuseUnless } from '../../engineering/trace/refusal.ts';
import { CHAIN_DEPTH, dimensionChain, tape, uprightDimension } from './dimensions.ts';
import { SHEET_WIDTH } from './elevation.ts';
import { wrapWords } from './label-rows.ts';
import { drawSection, flagSign } from './nail-section.ts';
import { box, MATERIAL_OF, path, text, TEXT_SIZE } from './pens.ts';
import { coordinate, drawingFrame, element, group } from './svg.ts';
import type { DrawnFastener, NailingPatternModel } from './types.ts';

const LEFT = 96;
const RIGHT = 40;
const FACE_TALLEST = 220;
const LINE = 17;
/** Two positions closer than a sixty-fourth are one. */
const SAME_IN = 1 / 64;

/** From the near side: a full dot. From the far side: an open square. Flagged: a ring around it. */
function nailHead(x: number, y: number, from: DrawnFastener['from'], flagged: boolean): string {
  const ring = flagged
    ? element('circle', {
        cx: x,
        cy: y,
        r: 8,
        class: 'dw-line dw-line--crayon',
        fill: 'none',
        stroke: '#97390f',
        'stroke-width': 1.25,
      })
    : '';
  const head =
    from === 'near side'
      ? element('circle', { cx: x, cy: y, r: 4, class: 'dw-dot', fill: '#19252e', 'data-nail': 'near' })
      : element('rect', {
          x: x - 4,
          y: y - 4,
          width: 8,
          height: 8,
          class: 'dw-open',
          fill: '#fafaf6',
          stroke: '#19252e',
          'stroke-width': 1.75,
          'data-nail': 'far',
        });
  return ring + head;
}

function distinct(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.filter((value, index) => index === 0 || value - (sorted[index - 1] ?? 0) > SAME_IN);
}

interface Placement {
  readonly toX: (alongIn: number) => number;
  readonly toY: (upIn: number) => number;
}

/** Spacings below the face, edge distances at its left, from the dimensions the model names. */
function drawDimensions(model: NailingPatternModel, at: Placement, bottom: number, chainY: number): string {
  const along: number[] = [];
  const upright: [number, number][] = [];
  for (const one of model.face.dimensions) {
    if (Math.abs(one.toXIn - one.fromXIn) > SAME_IN) along.push(one.fromXIn, one.toXIn);
    else upright.push([Math.min(one.fromYIn, one.toYIn), Math.max(one.fromYIn, one.toYIn)]);
  }
  return (
    dimensionChain(
      distinct(along).map((atIn) => ({ atIn, x: at.toX(atIn) })),
      bottom + 4,
      chainY,
    ) +
    upright
      .filter(([from, to]) => to - from > SAME_IN)
      .map(([from, to]) => uprightDimension(LEFT - 18, at.toY(to), at.toY(from), to - from, 'left'))
      .join('')
  );
}

/** Which side each fastener is driven from: in one line, or one below the other where the sheet is narrow. */
function legend(model: NailingPatternModel, y: number): { readonly markup: string; readonly height: number } {
  const sheetWidth = model.sheetWidth ?? SHEET_WIDTH;
  const narrow = sheetWidth < SHEET_WIDTH;
  const far = model.face.fasteners.some((fastener) => fastener.from === 'far side');
  const farX = narrow ? LEFT : LEFT + 180;
  const farY = narrow ? y + LINE : y;
  const last = narrow && far ? farY : y;
  const goesOn = model.face.cutAtIn !== undefined;
  const goesOnY = narrow ? last + LINE : y;
  return {
    height: (narrow && goesOn ? goesOnY : last) - y,
    markup: group(
      'dw-legend',
      nailHead(LEFT + 6, y - 4, 'near side', false),
      text(LEFT + 18, y, 'driven from this side', { size: 12 }),
      far ? nailHead(farX + 6, farY - 4, 'far side', false) : '',
      far ? text(farX + 18, farY, 'driven from the far side', { size: 12 }) : '',
      goesOn
        ? text(narrow ? LEFT : sheetWidth - RIGHT, goesOnY, 'goes on to the right', {
            anchor: narrow ? 'start' : 'end',
            size: 12,
            tone: 'soft',
          })
        : '',
    ),
  };
}

function flagList(
  model: NailingPatternModel,
  top: number,
): { readonly markup: string; readonly height: number } {
  const parts: string[] = [];
  let y = top + 14;
  for (const flag of model.violations) {
    parts.push(flagSign(LEFT + 8, y - 4, flag.number));
    const words = flag.kind === 'advice' ? `${flag.sentence} (advice)` : flag.sentence;
    for (const one of wrapWords(words, (model.sheetWidth ?? SHEET_WIDTH) - RIGHT - LEFT - 28, 12)) {
      parts.push(text(LEFT + 26, y, one, { size: 12 }));
      y += LINE;
    }
    y += 4;
  }
  return { markup: group('dw-flags', ...parts), height: y - top };
}

/**
 * The face of a nailed joint to scale with every fastener, its spacings and edge distances; a cut that shows
 * how deep the points go; and what is wrong as numbered flags. Sides and flags differ by shape, not by colour.
 */
export function drawNailingPattern(model: NailingPatternModel): string {
  const { face } = model;
  const sheetWidth = model.sheetWidth ?? SHEET_WIDTH;
  positive(face.widthIn, 'face.widthIn');
  positive(face.heightIn, 'face.heightIn');
  refuseUnless(face.fasteners.length <= 2000, 'face.fasteners', 'Too many fasteners for one drawing.');

  // A pattern that leaves its piece is drawn where it lies, so the sheet grows with it.
  const ups = face.fasteners.map((fastener) => fastener.yIn);
  const lowestIn = Math.min(0, ...ups);
  const highestIn = Math.max(face.heightIn, ...ups);
  const unitsPerInch = Math.min(
    (sheetWidth - LEFT - RIGHT) / face.widthIn,
    FACE_TALLEST / (highestIn - lowestIn),
  );
  const names = wrapWords(
    `Face: ${face.members.map((member) => member.name).join(', ')}`,
    sheetWidth - LEFT - 8,
    TEXT_SIZE,
  );
  const top = 38 + (names.length - 1) * LINE;
  const bottom = top + (highestIn - lowestIn) * unitsPerInch;
  const at: Placement = {
    toX: (alongIn) => LEFT + alongIn * unitsPerInch,
    toY: (upIn) => top + (highestIn - upIn) * unitsPerInch,
  };
  const rightX = at.toX(face.widthIn);
  const middleY = (at.toY(face.heightIn) + at.toY(0)) / 2;
  const torn =
    face.cutAtIn === undefined
      ? ''
      : path(
          `M${coordinate(rightX)} ${coordinate(top - 6)}V${coordinate(middleY - 8)}l-6 4 12 8 -6 4V${coordinate(bottom + 6)}`,
        );

  const chainY = bottom + 26;
  const named = wrapWords(
    face.dimensions
      .map((one) => `${one.label} ${tape(Math.hypot(one.toXIn - one.fromXIn, one.toYIn - one.fromYIn))}`)
      .join(', '),
    sheetWidth - LEFT - 8,
    12,
  );
  const legendY = chainY + CHAIN_DEPTH + 14;
  const sides = legend(model, legendY);
  const namedY = legendY + sides.height + LINE;
  const sectionTop = namedY + Math.max(0, named.length - 1) * LINE + 44;
  const section = drawSection(model, LEFT, sectionTop);
  const flags = flagList(model, sectionTop + section.height);
  const height = sectionTop + section.height + (model.violations.length === 0 ? 0 : flags.height) + 8;

  return drawingFrame(
    { ...model, width: sheetWidth, height, unitsPerInch },
    ...names.map((one, index) => text(LEFT, 18 + index * LINE, one, { bold: true })),
    ...face.members.map((member) =>
      box(
        {
          x: at.toX(member.xIn),
          y: at.toY(member.yIn + member.heightIn),
          width: member.widthIn * unitsPerInch,
          height: member.heightIn * unitsPerInch,
        },
        MATERIAL_OF[member.material],
        { width: 1.5, name: 'face' },
      ),
    ),
    torn,
    group(
      'dw-nails',
      ...face.fasteners.map((one) =>
        nailHead(at.toX(one.xIn), at.toY(one.yIn), one.from, one.violations.length > 0),
      ),
    ),
    ...model.violations
      .filter((flag) => flag.view === 'face')
      .map((flag, index) => flagSign(at.toX(flag.xIn) + 16 + index * 18, at.toY(flag.yIn) - 14, flag.number)),
    drawDimensions(model, at, bottom, chainY),
    sides.markup,
    ...named.map((one, index) => text(LEFT, namedY + index * LINE, one, { size: 12, tone: 'soft' })),
    section.markup,
    model.violations.length === 0 ? '' : flags.markup,
  );
}
