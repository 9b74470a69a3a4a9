import { positive } from '../../engineering/trace/refusal.ts';
import { CHAIN_DEPTH, dimensionChain } from './dimensions.ts';
import { SHEET_WIDTH } from './elevation.ts';
import { wrapWords } from './label-rows.ts';
import { box, line, MATERIAL_OF, path, text } from './pens.ts';
import { coordinate, group } from './svg.ts';
import type { DrawnShank, NailingPatternModel } from './types.ts';

const WIDEST = 300;
const TALLEST = 130;
/** A nail in a cut is drawn at its own thickness, but never as less than a line that prints. */
const THINNEST = 2;
const LINE = 17;

/** The number of a flag in a triangle, as a revision is flagged on a sheet. */
export function flagSign(x: number, y: number, number: number): string {
  return (
    path(`M${coordinate(x)} ${coordinate(y - 11)}l10 17h-20Z`, { tone: 'crayon', width: 1.5 }) +
    text(x, y + 4, `${number}`, { anchor: 'middle', size: 11, bold: true, tone: 'crayon' })
  );
}

interface Place {
  readonly toX: (xIn: number) => number;
  readonly toY: (yIn: number) => number;
  readonly unitsPerInch: number;
}

function drawShank(shank: DrawnShank, at: Place): string {
  const lengthIn = Math.hypot(shank.tipXIn - shank.headXIn, shank.tipYIn - shank.headYIn);
  positive(lengthIn, 'section.shanks');
  const half = Math.max(THINNEST, shank.diameterIn * at.unitsPerInch) / 2;
  const x = at.toX(shank.headXIn);
  const y = at.toY(shank.headYIn);
  const tipX = at.toX(shank.tipXIn);
  const tipY = at.toY(shank.tipYIn);
  const length = lengthIn * at.unitsPerInch;
  const along = { x: (tipX - x) / length, y: (tipY - y) / length };
  const point = Math.min(half * 3, length / 2);
  const corner = (distance: number, aside: number) =>
    `${coordinate(x + along.x * distance - along.y * aside)} ${coordinate(y + along.y * distance + along.x * aside)}`;
  return group(
    'dw-shank',
    path(
      `M${corner(0, half)}L${corner(length - point, half)}L${corner(length, 0)}L${corner(length - point, -half)}L${corner(0, -half)}Z`,
      {
        fill: shank.protrudesIn > 0 ? 'crayon' : 'ink',
        tone: shank.protrudesIn > 0 ? 'crayon' : 'ink',
        width: 0.5,
      },
    ),
    path(`M${corner(0, half + 4)}L${corner(0, -half - 4)}`, { width: 3 }),
  );
}

/** The cut through the joint to its own scale: the pieces by number, every shank, depth of the first point. */
export function drawSection(
  model: NailingPatternModel,
  left: number,
  top: number,
): { readonly markup: string; readonly height: number } {
  const { section } = model;
  positive(section.widthIn, 'section.widthIn');
  positive(section.heightIn, 'section.heightIn');
  const ends = section.shanks.flatMap((shank) => [shank.headXIn, shank.tipXIn]);
  const fromIn = Math.min(0, ...ends);
  const toIn = Math.max(section.widthIn, ...ends);
  const sheetWidth = model.sheetWidth ?? SHEET_WIDTH;
  const widest = Math.min(WIDEST, (sheetWidth - left) * 0.46);
  const unitsPerInch = Math.min(widest / (toIn - fromIn), TALLEST / section.heightIn);
  const bottom = top + section.heightIn * unitsPerInch;
  const at: Place = {
    unitsPerInch,
    toX: (xIn) => left + (xIn - fromIn) * unitsPerInch,
    toY: (yIn) => bottom - yIn * unitsPerInch,
  };
  const pieces = section.members.map((member, index) => {
    const x = at.toX(member.xIn);
    const width = member.widthIn * unitsPerInch;
    return (
      box(
        { x, y: at.toY(member.yIn + member.heightIn), width, height: member.heightIn * unitsPerInch },
        MATERIAL_OF[member.material],
        { name: 'ply' },
      ) + text(x + width / 2, bottom + 15, `${index + 1}`, { anchor: 'middle', size: 12, bold: true })
    );
  });

  const first = section.shanks[0];
  const chainY = bottom + 46;
  const depth =
    first === undefined || first.penetrationIn <= 0
      ? ''
      : dimensionChain(
          [first.tipXIn - first.protrudesIn - first.penetrationIn, first.tipXIn - first.protrudesIn].map(
            (xIn) => ({ atIn: xIn, x: at.toX(xIn) }),
          ),
          bottom + 22,
          chainY,
        );
  const flags = model.violations
    .filter((flag) => flag.view === 'section')
    .map((flag, index) => flagSign(at.toX(flag.xIn) + 14 + index * 20, at.toY(flag.yIn) - 16, flag.number));

  const wordsX = at.toX(toIn) + 32;
  const room = sheetWidth - wordsX - 12;
  const words = [
    ...wrapWords(model.fastener, room, 12),
    ...section.members.flatMap((member, index) => wrapWords(`${index + 1}  ${member.name}`, room, 12)),
    ...(depth === '' ? [] : wrapWords('Dimension: depth of the point', room, 12)),
  ];
  return {
    markup: group(
      'dw-section',
      text(left, top - 12, 'Section', { bold: true }),
      ...pieces,
      ...section.shanks.map((shank) => drawShank(shank, at)),
      first === undefined
        ? ''
        : line(at.toX(first.tipXIn), at.toY(first.tipYIn), at.toX(first.tipXIn), bottom + 22, {
            width: 0.5,
            tone: 'soft',
            dash: '3 3',
          }),
      depth,
      ...flags,
      ...words.map((one, index) => text(wordsX, top + 10 + index * LINE, one, { size: 12 })),
    ),
    height: Math.max(chainY + CHAIN_DEPTH - top, words.length * LINE + 20),
  };
}
