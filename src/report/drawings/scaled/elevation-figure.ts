import { DRESSED_2X_IN, type LayoutPiece, type OpeningLayout } from '../../../engineering/layout/index.ts';
import { tape } from '../dimensions.ts';
import { wrapWords } from '../label-rows.ts';
import { textWidth } from '../pens.ts';
import { withCaption } from './caption.ts';
import { chainAlong, upright } from './dimension-chain.ts';
import type { DrawnOpening } from './drawn-opening.ts';
import {
  boundsOf,
  onPaper,
  WORDS_IN,
  type Dimension,
  type Figure,
  type FigureMark,
  type Layer,
  type Outline,
  type Stroke,
} from './figure.ts';
import type { DrawingScale } from './scales.ts';
import { stroke } from './shapes.ts';

const LAYER_OF: Readonly<Record<LayoutPiece['kind'], Layer>> = {
  jack: 'JACKS AND POSTS',
  post: 'JACKS AND POSTS',
  king: 'KINGS',
  beam: 'BEAM',
  plate: 'PLATES',
  pad: 'FOOTINGS',
};

/** Heights closer than this read alike on a tape. */
const SAME_IN = 1 / 32;

/** The opening seen from the front: what stays, what is new, where to cut, and the distances that set it out. */
export function elevationFigure(opening: DrawnOpening, scale: DrawingScale): Figure {
  const { layout } = opening;
  const { beam, wallLengthIn, wallHeightIn } = layout;
  const clear = tape(layout.opening.toIn - layout.opening.fromIn);
  const things = [...wall(layout), ...layout.pieces.map(piece), ...cutsAndLines(layout, scale)];
  const marks: FigureMark[] = [...things, ...dimensions(layout, scale), ...words(opening, scale)];
  return withCaption(
    {
      name: 'elevation',
      title: 'Elevation of the opening',
      description: `Wall ${tape(wallLengthIn)} long and ${tape(wallHeightIn)} high, opening ${clear} clear, beam ${tape(beam.lengthIn)} long, its underside ${tape(beam.undersideIn)} above the floor.`,
      scale,
    },
    marks,
    [{ text: `Distances along the wall from the datum: ${layout.datum}.` }, ...opening.notes],
  );
}

function wall({ opening, wallLengthIn, wallHeightIn }: OpeningLayout): Outline[] {
  return [
    { fromIn: 0, toIn: opening.fromIn, piece: 'wall left of the opening' },
    { fromIn: opening.toIn, toIn: wallLengthIn, piece: 'wall right of the opening' },
  ]
    .filter(({ fromIn, toIn }) => toIn > fromIn)
    .map(({ fromIn, toIn, piece: name }) => ({
      form: 'outline',
      layer: 'EXISTING WALL',
      x: fromIn,
      y: 0,
      width: toIn - fromIn,
      height: wallHeightIn,
      piece: name,
    }));
}

function piece(one: LayoutPiece): Outline {
  return {
    form: 'outline',
    layer: LAYER_OF[one.kind],
    x: one.fromIn,
    y: one.bottomIn,
    width: one.toIn - one.fromIn,
    height: one.topIn - one.bottomIn,
    piece: one.label,
    ...(one.kind === 'pad' ? { hidden: true } : {}),
  };
}

function cutsAndLines(layout: OpeningLayout, scale: DrawingScale): Stroke[] {
  const { wallHeightIn, wallLengthIn } = layout;
  const past = onPaper(scale, 0.12);
  const top = topOf(layout);
  return [
    stroke('FLOOR', -onPaper(scale, 0.2), 0, wallLengthIn + onPaper(scale, 0.2), 0),
    stroke('DATUM', 0, -past, 0, top + past),
    ...layout.marks
      .filter(({ kind }) => kind === 'cut')
      .map(({ id, atIn }) => {
        const onTop = id.startsWith('cut.top-plate');
        const plates = onTop ? 2 * DRESSED_2X_IN : DRESSED_2X_IN;
        const bottom = onTop ? wallHeightIn - plates : 0;
        return stroke('CUT LINES', atIn, bottom - past, atIn, bottom + plates + past);
      }),
  ];
}

function topOf({ beam, wallHeightIn }: OpeningLayout): number {
  return Math.max(wallHeightIn, beam.undersideIn + beam.depthIn);
}

function dimensions(layout: OpeningLayout, scale: DrawingScale): Dimension[] {
  const { beam, opening, packs, wallHeightIn, wallLengthIn } = layout;
  const lowest = Math.min(0, ...layout.pieces.map(({ bottomIn }) => bottomIn));
  const gap = onPaper(scale, 0.32);
  const packEdges = packs.flatMap(({ fromIn, toIn }) => [fromIn, toIn]);
  const pieces = chainAlong(
    scale,
    [0, ...packEdges, opening.fromIn, opening.toIn, wallLengthIn],
    lowest,
    lowest - gap,
  );
  const wholeY = boundsOf(pieces).bottom - gap * 0.9;
  const whole = chainAlong(scale, [0, wallLengthIn], wholeY + gap / 2, wholeY);
  const top = topOf(layout);
  const clearY = beam.undersideIn * 0.3;
  const [clear] = chainAlong(scale, [opening.fromIn, opening.toIn], clearY, clearY);
  return [
    ...pieces,
    ...whole,
    ...chainAlong(scale, [0, beam.fromIn, beam.toIn, wallLengthIn], top, top + gap),
    ...(clear === undefined
      ? []
      : [{ ...clear, words: { ...clear.words, text: `${clear.words.text} clear` } }]),
    upright(scale, -gap, 0, beam.undersideIn, 0, 'left'),
    ...(Math.abs(wallHeightIn - beam.undersideIn) < SAME_IN
      ? []
      : [upright(scale, -2 * gap, 0, wallHeightIn, 0, 'left')]),
    upright(
      scale,
      wallLengthIn + gap,
      beam.undersideIn,
      beam.undersideIn + beam.depthIn,
      wallLengthIn,
      'right',
    ),
  ];
}

/** Name of the beam in it where there is room, else under it; names of the packs in the open, each with a leader. */
function words(opening: DrawnOpening, scale: DrawingScale): FigureMark[] {
  const { layout, beamWords, supportWords } = opening;
  const { beam } = layout;
  const heightIn = onPaper(scale, WORDS_IN);
  const clearIn = layout.opening.toIn - layout.opening.fromIn;
  const inside = textWidth(beamWords, heightIn) + heightIn < beam.lengthIn && beam.depthIn > heightIn * 1.3;
  const beamLines = inside ? [beamWords] : wrapWords(beamWords, clearIn - heightIn, heightIn);
  const firstY = inside
    ? beam.undersideIn + beam.depthIn / 2 - heightIn * 0.35
    : beam.undersideIn - heightIn * 1.5;
  const found: FigureMark[] = beamLines.map((text, index) => ({
    form: 'words',
    layer: 'NOTES',
    at: { x: (layout.opening.fromIn + layout.opening.toIn) / 2, y: firstY - index * heightIn * 1.4 },
    anchor: 'middle',
    text,
    heightIn,
    bold: true,
  }));
  const gap = onPaper(scale, 0.22);
  const width = clearIn / 2 - 2 * gap;
  for (const pack of layout.packs) {
    const left = pack.end === 'left';
    const lines = wrapWords(supportWords[pack.end] ?? `${pack.end} pack`, width, heightIn);
    const y = beam.undersideIn * 0.72;
    const face = left ? layout.opening.fromIn : layout.opening.toIn;
    const x = left ? face + gap : face - gap;
    found.push({
      form: 'stroke',
      layer: 'NOTES',
      from: { x: (pack.fromIn + pack.toIn) / 2, y: y + heightIn * 0.35 },
      to: { x: left ? x - heightIn * 0.4 : x + heightIn * 0.4, y: y + heightIn * 0.35 },
    });
    lines.forEach((text, index) =>
      found.push({
        form: 'words',
        layer: 'NOTES',
        at: { x, y: y - index * heightIn * 1.4 },
        anchor: left ? 'start' : 'end',
        text,
        heightIn,
      }),
    );
  }
  return found;
}
