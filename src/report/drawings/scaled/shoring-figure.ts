import { DRESSED_2X_IN } from '../../../engineering/layout/index.ts';
import { besideWords, type NamedPoint } from './beside-words.ts';
import { withCaption } from './caption.ts';
import { chainAlong, upright } from './dimension-chain.ts';
import type { FigureNote } from './drawn-opening.ts';
import { boundsOf, onPaper, type Figure, type FigureMark, type Outline } from './figure.ts';
import type { DrawingScale } from './scales.ts';
import { arrow, broken, centred, rectangle, stroke } from './shapes.ts';

export type Side = 'front' | 'rear';

/** The temporary walls of the storey of the opening; along the wall from the datum. */
export interface DrawnShoring {
  readonly walls: readonly {
    readonly side: Side;
    /** What comes on it, as calculated; left out where there is no calculation. */
    readonly load?: string;
  }[];
  /** From the middle of the old wall to the middle of the temporary one. */
  readonly offsetIn: number;
  readonly oldWall: { readonly thicknessIn: number; readonly heightIn: number };
  readonly stud: { readonly thicknessIn: number; readonly widthIn: number; readonly lengthIn: number };
  readonly fromIn: number;
  readonly lengthIn: number;
  readonly studMiddlesIn: readonly number[];
  /** Of the regular studs the first, by its place among all. */
  readonly spacingIn: number;
  readonly topPlates: number;
  readonly bracingRows: number;
  /** What the walls reach past: the beam, else the opening. */
  readonly reachesPast: { readonly fromIn: number; readonly toIn: number };
  readonly slabIn?: number;
  readonly words: {
    readonly stud: string;
    /** How many, at what spacing. */
    readonly studs: string;
    readonly plates: string;
    readonly bracing: string;
    readonly sole: string;
  };
  /** Under the section: what lies on the walls, what they press with, what is not drawn. */
  readonly notes: readonly FigureNote[];
  readonly descriptions: { readonly section: string; readonly elevation: string };
}

/** How far joists and floor are shown past the temporary walls. */
const PAST_IN = 12;

/** Where the rows of bracing lie, from the floor. */
function rowsOf({ bracingRows, stud }: DrawnShoring): number[] {
  return Array.from(
    { length: bracingRows },
    (_, index) => DRESSED_2X_IN + (stud.lengthIn * (index + 1)) / (bracingRows + 1),
  );
}

/** Sole, and top plates one over the other, as they lie from the floor. */
function platesOf({ topPlates, stud }: DrawnShoring): { readonly name: string; readonly y: number }[] {
  const under = DRESSED_2X_IN + stud.lengthIn;
  return [
    { name: 'sole', y: 0 },
    ...Array.from({ length: topPlates }, (_, index) => ({
      name: 'top plate',
      y: under + index * DRESSED_2X_IN,
    })),
  ];
}

/** Across the wall: the old wall, the temporary ones at their distance, what lies on them and what they stand on. */
export function shoringSection(shoring: DrawnShoring, scale: DrawingScale): Figure {
  const { walls, offsetIn, oldWall, stud, slabIn, words } = shoring;
  const top = oldWall.heightIn;
  const reach = offsetIn + stud.widthIn / 2 + PAST_IN;
  const gap = onPaper(scale, 0.3);
  const middleOf = (side: Side) => (side === 'front' ? -offsetIn : offsetIn);
  const pieces: Outline[] = [
    ...(slabIn === undefined ? [] : [centred('EXISTING CONCRETE', 'slab', 2 * reach, -slabIn, slabIn)]),
    centred('EXISTING WALL', 'old wall', oldWall.thicknessIn, 0, top),
    ...walls.flatMap(({ side }) => crossSection(shoring, middleOf(side), side === 'front' ? -1 : 1)),
  ];
  const middles = walls.map(({ side }) => middleOf(side));
  const bottom = -(slabIn ?? 0);
  const arrowTop = top + onPaper(scale, 0.32);
  const heightIn = onPaper(scale, 0.105);
  const marks: FigureMark[] = [
    ...pieces,
    ...(slabIn === undefined
      ? []
      : [-reach, reach].flatMap((x) => broken(scale, 'EXISTING CONCRETE', { x, y: bottom }, { x, y: 0 }))),
    stroke('FLOOR', -reach, 0, reach, 0),
    stroke('JOISTS', -reach, top, reach, top),
    stroke('CENTER LINES', 0, bottom - gap / 2, 0, top + gap / 2),
    ...walls.flatMap(({ side, load }): FigureMark[] => {
      const x = middleOf(side);
      return [
        stroke('CENTER LINES', x, bottom - gap / 2, x, top),
        ...(load === undefined ? [] : arrow(scale, 'NOTES', x, arrowTop, top + onPaper(scale, 0.02))),
        ...[...(load === undefined ? [] : [load]), side].map((text, line): FigureMark => ({
          form: 'words',
          layer: 'NOTES',
          at: { x, y: arrowTop + heightIn * (0.4 + 1.35 * line) },
          anchor: 'middle',
          text,
          heightIn,
        })),
      ];
    }),
    ...heightsOf(shoring, scale, -reach - gap * 0.8),
    ...chainAlong(scale, [...middles, 0], bottom - gap / 2, bottom - gap * 1.2),
  ];
  const rear = Math.max(...middles);
  const out = rear + stud.widthIn / 2;
  const [row] = rowsOf(shoring);
  const names: NamedPoint[] = [
    { text: 'underside of the joists', x: reach, y: top },
    { text: words.plates, x: out, y: top - DRESSED_2X_IN / 2 },
    { text: words.stud, x: out, y: DRESSED_2X_IN + stud.lengthIn * 0.72 },
    ...(row === undefined
      ? [{ text: words.bracing, x: out, y: DRESSED_2X_IN + stud.lengthIn * 0.45, warns: true }]
      : [{ text: words.bracing, x: out + (rear > 0 ? stud.thicknessIn : 0), y: row }]),
    { text: 'the wall that goes', x: oldWall.thicknessIn / 2, y: top * 0.25 },
    { text: words.sole, x: out, y: DRESSED_2X_IN / 2 },
  ];
  return withCaption(
    {
      name: 'shoring-section',
      title: walls.length === 1 ? 'Temporary wall, across' : 'Temporary walls, across',
      description: shoring.descriptions.section,
      scale,
    },
    [...marks, ...besideWords(names, boundsOf(marks).right, scale)],
    shoring.notes,
  );
}

function crossSection(shoring: DrawnShoring, middle: number, out: number): Outline[] {
  const { stud } = shoring;
  const x = middle - stud.widthIn / 2;
  const face = middle + (out * stud.widthIn) / 2;
  return [
    rectangle('SHORING', 'stud', { x, y: DRESSED_2X_IN, width: stud.widthIn, height: stud.lengthIn }),
    ...platesOf(shoring).map(({ name, y }) =>
      rectangle(
        'PLATES',
        name,
        { x, y, width: stud.widthIn, height: DRESSED_2X_IN },
        { hatching: 'end grain' },
      ),
    ),
    // Flat on the studs, on the side away from the work.
    ...rowsOf(shoring).map((y) =>
      rectangle(
        'SHORING',
        'bracing',
        {
          x: out > 0 ? face : face - stud.thicknessIn,
          y: y - stud.widthIn / 2,
          width: stud.thicknessIn,
          height: stud.widthIn,
        },
        { hatching: 'end grain' },
      ),
    ),
  ];
}

/** Sole, stud and plates one over the other, and all of them. */
function heightsOf({ stud, oldWall }: DrawnShoring, scale: DrawingScale, x: number): FigureMark[] {
  const stops = [0, DRESSED_2X_IN, DRESSED_2X_IN + stud.lengthIn, oldWall.heightIn];
  const apart = onPaper(scale, 0.3);
  return [
    ...stops.slice(1).map((to, index) => upright(scale, x, stops[index] ?? to, to, x + apart * 0.7, 'left')),
    upright(scale, x - onPaper(scale, 0.6), 0, oldWall.heightIn, x - onPaper(scale, 0.5), 'left'),
  ];
}

/** Along the wall: every stud, plates, bracing, and how far the temporary wall reaches past what it stands in for. */
export function shoringElevation(shoring: DrawnShoring, scale: DrawingScale): Figure {
  const { stud, fromIn, lengthIn, studMiddlesIn, oldWall, reachesPast, words, walls, spacingIn } = shoring;
  const toIn = fromIn + lengthIn;
  const top = oldWall.heightIn;
  const gap = onPaper(scale, 0.3);
  const studs = studMiddlesIn.map((middle) =>
    rectangle('SHORING', 'stud', {
      x: middle - stud.thicknessIn / 2,
      y: DRESSED_2X_IN,
      width: stud.thicknessIn,
      height: stud.lengthIn,
    }),
  );
  const long = (layer: 'PLATES' | 'SHORING', name: string, y: number, height: number) =>
    rectangle(layer, name, { x: fromIn, y, width: lengthIn, height });
  const pieces = [
    ...studs,
    ...platesOf(shoring).map(({ name, y }) => long('PLATES', name, y, DRESSED_2X_IN)),
    ...rowsOf(shoring).map((y) => long('SHORING', 'bracing', y - stud.widthIn / 2, stud.widthIn)),
  ];
  const bays = baysShown(studMiddlesIn, spacingIn);
  const past = onPaper(scale, 0.15);
  const marks: FigureMark[] = [
    ...pieces,
    ...diagonal(shoring),
    stroke('FLOOR', fromIn - past, 0, toIn + past, 0),
    stroke('JOISTS', fromIn - past, top, toIn + past, top),
    ...[reachesPast.fromIn, reachesPast.toIn].map((x) => stroke('CENTER LINES', x, -gap, x, top + gap / 2)),
    ...chainAlong(scale, bays, top, top + gap * 0.8),
    ...chainAlong(scale, [fromIn, reachesPast.fromIn, reachesPast.toIn, toIn], 0, -gap),
    ...chainAlong(scale, [fromIn, toIn], -gap * 1.6, -gap * 2.6),
  ];
  const [row] = rowsOf(shoring);
  const names: NamedPoint[] = [
    { text: words.plates, x: toIn, y: top - DRESSED_2X_IN },
    {
      text: words.studs,
      x: Math.max(...studMiddlesIn) + stud.thicknessIn / 2,
      y: DRESSED_2X_IN + stud.lengthIn * 0.75,
    },
    ...(row === undefined ? [] : [{ text: words.bracing, x: toIn, y: row }]),
    {
      text: 'one diagonal in the wall',
      x: fromIn + Math.min(lengthIn, stud.lengthIn) * 0.28,
      y: DRESSED_2X_IN + Math.min(lengthIn, stud.lengthIn) * 0.28,
    },
    { text: words.sole, x: toIn, y: DRESSED_2X_IN / 2 },
  ];
  return withCaption(
    {
      name: 'shoring-elevation',
      title:
        walls.length === 1
          ? `Temporary wall in ${walls[0]?.side === 'rear' ? 'the rear' : 'front'}, along`
          : 'Each temporary wall, along',
      description: shoring.descriptions.elevation,
      scale,
    },
    [...marks, ...besideWords(names, boundsOf(marks).right, scale)],
    [],
  );
}

/** Two regular bays from the left, where the spacing can be read. */
function baysShown(middles: readonly number[], spacingIn: number): number[] {
  const sorted = [...middles].sort((a, b) => a - b);
  const start = sorted.find((one) => sorted.some((other) => Math.abs(other - one - spacingIn) < 0.01));
  return start === undefined
    ? []
    : sorted.filter((one) => [0, 1, 2].some((bay) => Math.abs(one - start - bay * spacingIn) < 0.01));
}

/** At 45°, from the sole up; as wide as a stud. */
function diagonal({ fromIn, lengthIn, stud }: DrawnShoring): FigureMark[] {
  const rise = Math.min(stud.lengthIn, lengthIn);
  const half = (stud.widthIn / 2) * Math.SQRT2;
  return [0, 2 * half].map((aside) =>
    stroke('SHORING', fromIn + aside, DRESSED_2X_IN, fromIn + rise, DRESSED_2X_IN + rise - aside),
  );
}
