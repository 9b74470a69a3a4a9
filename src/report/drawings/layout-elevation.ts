import { finite } from '../../engineering/trace/refusal.ts';
import { tape } from './dimensions.ts';
import { drawPiece, drawWall, elevationScale, SHEET_WIDTH } from './elevation.ts';
import { spreadApart } from './label-rows.ts';
import { line, path, text, textWidth, type LineStyle } from './pens.ts';
import { coordinate, drawingFrame, group } from './svg.ts';
import type { LayoutElevationModel, LayoutMark, MarkKind } from './types.ts';

const LABEL_GAP = 17;
const JOG = 26;
/** `textWidth` is generous, which across is right and downward leaves a hole. */
const UPRIGHT = 0.94;

const PEN: Readonly<Record<MarkKind, LineStyle>> = {
  edge: { width: 0.75 },
  centre: { width: 0.75, dash: '12 3 3 3' },
  cut: { width: 1.75, dash: '8 5', tone: 'crayon' },
};

function markWords(mark: LayoutMark): string {
  return `${mark.kind === 'cut' ? 'cut: ' : ''}${mark.label}  ${tape(mark.atIn)}`;
}

/**
 * The wall with every mark to make, each with its running distance from the datum (one tape pulled once, so
 * that errors don't add up). Labels stand upright and are moved apart where marks lie close.
 */
export function drawLayoutElevation(model: LayoutElevationModel): string {
  for (const mark of model.marks) finite(mark.atIn, 'marks.atIn');
  const scale = elevationScale(model.wallLengthIn, model.wallHeightIn, model.pieces);
  const marks = [...model.marks].sort((a, b) => a.atIn - b.atIn);
  const longest = Math.max(0, ...marks.map((mark) => textWidth(markWords(mark), 12) * UPRIGHT));

  const top = 16;
  const floorY = top + scale.highestIn * scale.unitsPerInch;
  const lowestY = floorY - scale.lowestIn * scale.unitsPerInch;
  const baseY = lowestY + 16;
  const labelTop = baseY + JOG + 10;
  const height = labelTop + longest + 34;
  const wallTopY = scale.toY(model.wallHeightIn, floorY);
  const datumX = scale.toX(0);

  const places = spreadApart(
    marks.map((mark) => scale.toX(mark.atIn)),
    LABEL_GAP,
    SHEET_WIDTH - 10,
  );
  const drawnMarks = marks.map((mark, index) => {
    const x = scale.toX(mark.atIn);
    const labelX = places[index] ?? x;
    const pen = PEN[mark.kind];
    const leader = `M${coordinate(x)} ${coordinate(baseY)}L${coordinate(labelX)} ${coordinate(baseY + JOG)}v8`;
    return group(
      `dw-mark dw-mark--${mark.kind}`,
      line(x, mark.kind === 'cut' ? wallTopY - 10 : floorY - 14, x, floorY, pen),
      // Passes over what lies below the floor, so that pads keep their names.
      line(x, lowestY + 3, x, baseY, pen),
      path(leader, { width: 0.6, tone: 'soft' }),
      text(labelX + 4, labelTop + 2, markWords(mark), { size: 12, turn: -90, anchor: 'end' }),
    );
  });

  return drawingFrame(
    { ...model, width: SHEET_WIDTH, height, unitsPerInch: scale.unitsPerInch },
    drawWall({ lengthIn: model.wallLengthIn, heightIn: model.wallHeightIn }, model.opening, scale, floorY),
    ...model.pieces.map((piece) => drawPiece(piece, scale, floorY)),
    line(datumX, wallTopY - 10, datumX, baseY + 6, { width: 2.5 }),
    path(`M${coordinate(datumX)} ${coordinate(baseY)}l-9 -5v10Z`, { fill: 'ink' }),
    line(datumX, baseY, scale.toX(model.wallLengthIn), baseY, { width: 1 }),
    ...drawnMarks,
    text(10, height - 10, `All distances from the datum: ${model.datum}.`, { size: 12, tone: 'soft' }),
  );
}
