import { finite } from '../../engineering/trace/refusal.ts';
import { CHAIN_DEPTH, dimensionChain, type Stop } from './dimensions.ts';
import { drawPiece, drawWall, elevationScale, SHEET_WIDTH } from './elevation.ts';
import { labelRows, rowCount } from './label-rows.ts';
import { hatchDefinitions, LANE_HEIGHT, lineLoadLane, pointLoadZone } from './load-marks.ts';
import { text, verticalArrow } from './pens.ts';
import { drawingFrame, group } from './svg.ts';
import type { LoadPictureModel } from './types.ts';

const TOP = 12;
const REACTION_ROW = 16;
const NOTE_ROW = 17;

/**
 * The wall with its opening to scale, the beam on its supports, every load on its own lane above, reactions
 * and dimensions below. The height of a band follows its intensity; lengths and positions are to scale.
 */
export function drawLoadPicture(model: LoadPictureModel): string {
  for (const load of model.lineLoads) {
    finite(load.startPlf, 'lineLoads.startPlf');
    finite(load.endPlf, 'lineLoads.endPlf');
  }
  const { beam } = model;
  const pieces = beam === undefined ? model.pieces : [...model.pieces, beam];
  const scale = elevationScale(model.wallLengthIn, model.wallHeightIn, pieces);
  const { toX } = scale;
  const id = model.id.replace(/[^A-Za-z0-9_-]/g, '-');

  const points = pointLoadZone(model.pointLoads, toX, SHEET_WIDTH);
  const lanesHeight = model.lineLoads.length * LANE_HEIGHT;
  const loadsBottom = TOP + lanesHeight + points.height;
  const beamTopY = loadsBottom + 4;
  const floorY = beamTopY + (beam?.topIn ?? model.wallHeightIn) * scale.unitsPerInch;
  const lowestY = floorY - scale.lowestIn * scale.unitsPerInch;

  const reactions = labelRows(
    model.supports.map((support) => ({
      x: toX(support.atIn),
      words: support.reaction === undefined ? support.label : `${support.label}, ${support.reaction}`,
    })),
    SHEET_WIDTH,
    12,
  );
  const reactionsBottom = lowestY + 30 + rowCount(reactions) * REACTION_ROW;

  const stop = (atIn: number): Stop => ({ atIn, x: toX(atIn) });
  const openingY = reactionsBottom + 22;
  const beamY = openingY + CHAIN_DEPTH + 12;
  const legendY = (beam === undefined ? openingY + 8 : beamY + CHAIN_DEPTH) + 10;
  const height = legendY + 8 + (model.note === undefined ? 0 : NOTE_ROW);

  const highest = Math.max(
    0,
    ...model.lineLoads.flatMap((load) => [Math.abs(load.startPlf), Math.abs(load.endPlf)]),
  );

  return drawingFrame(
    { ...model, id, width: SHEET_WIDTH, height, unitsPerInch: scale.unitsPerInch },
    hatchDefinitions(id, new Set(model.lineLoads.map((load) => load.kind))),
    ...model.lineLoads.map((load, index) => lineLoadLane(id, load, TOP + index * LANE_HEIGHT, toX, highest)),
    drawWall({ lengthIn: model.wallLengthIn, heightIn: model.wallHeightIn }, model.opening, scale, floorY),
    ...pieces.map((piece) => drawPiece(piece, scale, floorY)),
    points.draw(beamTopY),
    group(
      'dw-reactions',
      ...reactions.map(
        (label) =>
          verticalArrow(label.x, lowestY + 26, lowestY + 4, { width: 2 }) +
          text(label.middle, lowestY + 40 + label.row * REACTION_ROW, label.words, {
            anchor: 'middle',
            size: 12,
          }),
      ),
    ),
    dimensionChain(
      [stop(0), stop(model.opening.fromIn), stop(model.opening.toIn), stop(model.wallLengthIn)],
      reactionsBottom + 2,
      openingY,
    ),
    ...(beam === undefined
      ? []
      : [dimensionChain([stop(beam.fromIn), stop(beam.toIn)], openingY + 8, beamY)]),
    ...(model.note === undefined
      ? []
      : [
          text(SHEET_WIDTH / 2, legendY + NOTE_ROW, model.note, { anchor: 'middle', size: 12, tone: 'soft' }),
        ]),
    text(
      SHEET_WIDTH / 2,
      legendY,
      beam === undefined
        ? `From the datum (${model.datum}).`
        : `Upper line: from the datum (${model.datum}). Lower line: beam.`,
      {
        anchor: 'middle',
        size: 12,
        tone: 'soft',
      },
    ),
  );
}
