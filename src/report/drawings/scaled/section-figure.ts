import { DRESSED_2X_IN, type Pack } from '../../../engineering/layout/index.ts';
import { sawnSize } from '../../../engineering/materials/lumber-sizes.ts';
import { refuseUnless } from '../../../engineering/trace/index.ts';
import { tape } from '../dimensions.ts';
import { beamOutlines } from './beam-outlines.ts';
import { belowPack } from './below-pack.ts';
import { withCaption } from './caption.ts';
import { chainAlong, upright } from './dimension-chain.ts';
import type { DrawnOpening } from './drawn-opening.ts';
import { boundsOf, onPaper, type Figure, type FigureMark, type Outline, type Stroke } from './figure.ts';
import { besideWords } from './beside-words.ts';
import type { DrawingScale } from './scales.ts';
import { centred, stroke } from './shapes.ts';

/**
 * A cut across the wall through one support: concrete, what carries the pack through a framed floor, plate, pack, beam,
 * joists where their hangers are proposed.
 *
 * @throws Refusal where there is no support at that end
 */
export function sectionFigure(opening: DrawnOpening, end: 'left' | 'right', scale: DrawingScale): Figure {
  const { layout } = opening;
  const pack = layout.packs.find((one) => one.end === end);
  refuseUnless(pack !== undefined, `supports.${end}`, `There is no ${end} support to cut through.`);
  const below = belowPack(opening.supports.find((one) => one.end === end));
  const pieces = [
    ...concreteUnder(opening, end, below.depthIn),
    ...below.pieces,
    centred('PLATES', 'bottom plate', layout.wallThicknessIn, 0, DRESSED_2X_IN, { hatching: 'end grain' }),
    packOutline(pack),
    ...beamOutlines(layout.beam),
    ...platesAbove(opening),
    ...joists(opening, scale),
  ];
  const widest = boundsOf(pieces.filter(({ layer }) => layer !== 'JOISTS'));
  const reach = Math.max(-widest.left, widest.right, onPaper(scale, 0.75)) + onPaper(scale, 0.12);
  const marks: FigureMark[] = [
    ...pieces,
    ...lines(opening, reach, scale),
    ...dimensions(opening, pack, pieces, reach, scale),
    ...sideWords(reach, scale),
  ];
  const { beam } = layout;
  return withCaption(
    {
      name: `section-${end}`,
      title: `Section at the ${end} support`,
      description: `Across the wall: beam ${tape(beam.widthIn)} wide and ${tape(beam.depthIn)} deep on a pack ${tape(pack.heightIn)} high.`,
      scale,
    },
    [...marks, ...besideWords(namesOf(opening, pack, pieces), boundsOf(marks).right, scale)],
    opening.notes,
  );
}

function packOutline(pack: Pack): Outline {
  const first = pack.plies[0];
  const lengthIn = first?.lengthIn ?? pack.heightIn;
  return centred('JACKS AND POSTS', first?.label ?? 'pack', pack.widthIn, DRESSED_2X_IN, lengthIn);
}

/** The new pad; else the concrete that was found; below what carries the pack through the floor. */
function concreteUnder({ footings }: DrawnOpening, end: 'left' | 'right', depthIn: number): Outline[] {
  const footing = footings.find((one) => one.end === end);
  if (footing === undefined) return [];
  const { pad, foundWidthIn, foundThicknessIn } = footing;
  if (pad !== undefined) {
    return [
      centred('FOOTINGS', 'pad', pad.widthIn, -depthIn - pad.thicknessIn, pad.thicknessIn, {
        hatching: 'concrete',
      }),
    ];
  }
  if (foundWidthIn === 0 || foundThicknessIn === 0) return [];
  return [
    centred(
      'EXISTING CONCRETE',
      'concrete found',
      foundWidthIn,
      -depthIn - foundThicknessIn,
      foundThicknessIn,
      { hatching: 'concrete' },
    ),
  ];
}

/** Over a dropped beam the top plates run through; a flush one has taken their place. */
function platesAbove({ layout: { beam, wallHeightIn, wallThicknessIn } }: DrawnOpening): Outline[] {
  if (beam.placement === 'flush') return [];
  return [2, 1].map((from) =>
    centred('PLATES', 'top plate', wallThicknessIn, wallHeightIn - from * DRESSED_2X_IN, DRESSED_2X_IN, {
      hatching: 'end grain',
    }),
  );
}

/** Joists whose hangers are proposed, cut short where the paper ends. */
function joists({ layout, hangers }: DrawnOpening, scale: DrawingScale): Outline[] {
  const cutAt = layout.joistCutFromMiddleIn;
  if (cutAt === undefined) return [];
  const length = onPaper(scale, 0.6);
  const sides = new Map(hangers.map((hanger) => [hanger.side, hanger]));
  return [...sides].map(([side, { joistSize }]) => ({
    form: 'outline',
    layer: 'JOISTS',
    piece: `${side} joist`,
    x: side === 'front' ? -cutAt - length : cutAt,
    y: layout.wallHeightIn,
    width: length,
    height: sawnSize(joistSize, 'hangers.joistSize').widthIn,
  }));
}

function topOf({ layout: { beam, wallHeightIn } }: DrawnOpening): number {
  return Math.max(wallHeightIn, beam.undersideIn + beam.depthIn);
}

function lines(opening: DrawnOpening, reach: number, scale: DrawingScale): Stroke[] {
  const { layout } = opening;
  const past = onPaper(scale, 0.14);
  const top = topOf(opening);
  const cutAt = layout.joistCutFromMiddleIn;
  return [
    stroke('FLOOR', -reach, 0, reach, 0),
    stroke('CENTER LINES', 0, -past, 0, top + past),
    ...(cutAt === undefined
      ? []
      : [-cutAt, cutAt].map((x) => stroke('CUT LINES', x, layout.wallHeightIn - past, x, top + past))),
  ];
}

function dimensions(
  opening: DrawnOpening,
  pack: Pack,
  pieces: readonly Outline[],
  reach: number,
  scale: DrawingScale,
): FigureMark[] {
  const { beam, joistCutFromMiddleIn: cutAt } = opening.layout;
  const gap = onPaper(scale, 0.3);
  const under = pieces.find(({ layer }) => layer === 'FOOTINGS' || layer === 'EXISTING CONCRETE');
  const bottom = under?.y ?? 0;
  const belowFloor = pieces.filter(({ y, height }) => y < 0 && y + height <= 0).map(({ y }) => y);
  const top = topOf(opening);
  const beamTop = beam.undersideIn + beam.depthIn;
  const heights = [
    ...belowFloor,
    bottom,
    0,
    DRESSED_2X_IN,
    DRESSED_2X_IN + pack.heightIn,
    beam.undersideIn,
    beamTop,
  ];
  const stops = [...new Set(heights)].sort((a, b) => a - b);
  const near = -reach - gap / 2;
  const outer = near - gap * 2.4;
  const width = chainAlong(scale, [-beam.widthIn / 2, beam.widthIn / 2], top, top + gap);
  const cutY = boundsOf(width).top + gap * 0.9;
  return [
    ...stops
      .slice(1)
      .map((to, index) => upright(scale, near, stops[index] ?? to, to, -reach + gap / 2, 'left')),
    upright(scale, outer, 0, beam.undersideIn, outer + gap / 2, 'left'),
    ...width,
    ...(cutAt === undefined ? [] : chainAlong(scale, [-cutAt, cutAt], cutY - gap / 2, cutY)),
    ...(under === undefined ? [] : chainAlong(scale, [under.x, under.x + under.width], bottom, bottom - gap)),
  ];
}

/** Above the line that carries the thickness of the plate to its dimension. */
function sideWords(reach: number, scale: DrawingScale): FigureMark[] {
  return (['front', 'rear'] as const).map((side) => ({
    form: 'words',
    layer: 'NOTES',
    at: { x: side === 'front' ? -reach : reach, y: DRESSED_2X_IN + onPaper(scale, 0.05) },
    anchor: side === 'front' ? 'start' : 'end',
    text: side,
    heightIn: onPaper(scale, 0.095),
  }));
}

const BELOW = new Set(['squash blocks', 'wood under the blocks', 'girder', 'post under the girder']);

/** What each piece is called, and where the leader to its name begins. */
function namesOf(opening: DrawnOpening, pack: Pack, pieces: readonly Outline[]) {
  const { layout, beamWords, supportWords, hangers, footings } = opening;
  const { beam } = layout;
  const under = pieces.find(({ layer }) => layer === 'FOOTINGS' || layer === 'EXISTING CONCRETE');
  const footing = footings.find(({ end }) => end === pack.end);
  const cutAt = layout.joistCutFromMiddleIn ?? 0;
  const shown = [...new Set(hangers.map(({ joistSize }) => joistSize))];
  const lengthIn = footing?.pad?.lengthIn;
  return [
    ...(pieces.some(({ layer }) => layer === 'JOISTS')
      ? [
          {
            text: `joists ${shown.join(', ')} in hangers, cut ${tape(cutAt)} from the middle`,
            x: cutAt + 2,
            y: layout.wallHeightIn + 5,
          },
        ]
      : []),
    { text: beamWords, x: beam.widthIn / 2, y: beam.undersideIn + beam.depthIn * 0.3 },
    {
      text: supportWords[pack.end] ?? `${pack.end} pack`,
      x: pack.widthIn / 2,
      y: DRESSED_2X_IN + pack.heightIn * 0.6,
    },
    ...pieces
      .filter((piece) => BELOW.has(piece.piece))
      .map(({ piece, x, y, width, height }) => ({ text: piece, x: x + width, y: y + height / 2 })),
    { text: 'bottom plate', x: layout.wallThicknessIn / 2, y: DRESSED_2X_IN / 2 },
    ...(under === undefined
      ? []
      : [
          {
            text:
              lengthIn === undefined
                ? `${under.piece} (${footing?.found ?? ''})`
                : `new pad, ${tape(lengthIn)} along the wall`,
            x: under.x + under.width,
            y: under.y + under.height / 2,
          },
        ]),
  ];
}
