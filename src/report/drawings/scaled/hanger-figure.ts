import type { OpeningLayout } from '../../../engineering/layout/index.ts';
import { wideFlange } from '../../../engineering/steel/index.ts';
import { tape } from '../dimensions.ts';
import { beamOutlines } from './beam-outlines.ts';
import { besideWords, type NamedPoint } from './beside-words.ts';
import { withCaption } from './caption.ts';
import { chainAlong, upright } from './dimension-chain.ts';
import { boundsOf, onPaper, type Figure, type FigureMark, type Outline } from './figure.ts';
import type { DrawingScale } from './scales.ts';
import { arrow, broken, rectangle, stroke } from './shapes.ts';

/** One joist of a line in its hanger. The stirrup is drawn plain and dashed: its shape is the listing's. */
export interface DrawnHanger {
  readonly side: 'front' | 'rear';
  readonly beam: Pick<OpeningLayout['beam'], 'pieces' | 'widthIn' | 'depthIn'>;
  readonly beamWords: string;
  readonly joist: { readonly thicknessIn: number; readonly depthIn: number; readonly words: string };
  /** Between the cut end of the joist and the beam. */
  readonly gapIn: number;
  readonly spacingIn: number;
  /** Least bearing of the joist, in. */
  readonly seatIn: number;
  /** Of the hanger's plate, as the calculation takes it. */
  readonly plateIn: number;
  readonly nails: {
    readonly count: number;
    readonly diameterIn: number;
    readonly lengthIn: number;
    readonly words: string;
  };
  /** What one joist end brings and the listing takes, as calculated. */
  readonly load?: { readonly words: string; readonly warns: boolean };
  readonly descriptions: { readonly side: string; readonly front: string };
}

const JOIST_SHOWN_IN = 12;
/** Legs and flanges of the plain stirrup; the listing gives the real ones. */
const LEG = 2 / 3;
const FLANGE_IN = 1.25;
const FACE_SHOWN_IN = 4;
const DASHED = { hidden: true } as const;

/** Across the wall: the beam cut, the joist from the side with its top level with the beam's, the seat below it. */
export function hangerSide(hanger: DrawnHanger, scale: DrawingScale): Figure {
  const { beam, joist, gapIn, side, plateIn, nails, seatIn } = hanger;
  const out = side === 'front' ? -1 : 1;
  const face = beam.widthIn / 2;
  /** From `near` to `far` inches off the beam's middle, on the side of the joists. */
  const offBeam = (near: number, far: number) => ({
    x: out > 0 ? near : -far,
    width: far - near,
  });
  const top = beam.depthIn;
  const under = top - joist.depthIn;
  const legIn = joist.depthIn * LEG;
  const nailY = under + legIn * 0.6;
  const joistEnd = face + gapIn + JOIST_SHOWN_IN;
  const cut = beamOutlines({ ...beam, undersideIn: 0 });
  const woodOnSteel = nailer(hanger, out);
  const pieces: Outline[] = [
    ...cut,
    ...woodOnSteel,
    rectangle('JOISTS', 'joist', {
      ...offBeam(face + gapIn, joistEnd),
      y: under,
      height: joist.depthIn,
    }),
    rectangle(
      'HANGERS',
      'leg of the hanger',
      { ...offBeam(face + gapIn, face + gapIn + seatIn), y: under, height: legIn },
      DASHED,
    ),
    rectangle('HANGERS', 'hanger on the beam', { ...offBeam(face, face + plateIn), y: under, height: legIn }),
    rectangle('HANGERS', 'seat', {
      ...offBeam(face, face + gapIn + seatIn),
      y: under - plateIn,
      height: plateIn,
    }),
    rectangle('HANGERS', 'nail', {
      ...offBeam(face + plateIn - nails.lengthIn, face + plateIn),
      y: nailY - nails.diameterIn / 2,
      height: nails.diameterIn,
    }),
  ];
  const bounds = boundsOf(pieces);
  const gap = onPaper(scale, 0.3);
  const arrowX = out * (face + gapIn + seatIn / 2);
  const marks: FigureMark[] = [
    ...pieces,
    ...broken(scale, 'JOISTS', { x: out * joistEnd, y: under }, { x: out * joistEnd, y: top }),
    stroke('CENTER LINES', 0, bounds.bottom - gap / 2, 0, top + gap / 2),
    ...arrow(scale, 'NOTES', arrowX, top + onPaper(scale, 0.3), top + onPaper(scale, 0.03)),
    ...depths(hanger, scale, bounds.left - gap, bounds.left),
    ...chainAlong(
      scale,
      [out * (face + gapIn), out * (face + gapIn + seatIn)],
      under - plateIn,
      Math.min(0, under) - gap,
    ),
  ];
  const right = (from: number, to: number) => (out > 0 ? to : -from);
  const names: NamedPoint[] = [
    {
      text: `joist ${joist.words}, its top level with the beam’s`,
      x: out * (face + gapIn + JOIST_SHOWN_IN * 0.4),
      y: top - joist.depthIn * 0.12,
    },
    ...(woodOnSteel.length === 0
      ? [{ text: hanger.beamWords, x: face * 0.6, y: top * 0.75 }]
      : [
          { text: hanger.beamWords, x: face * 0.6, y: top * 0.98 },
          { text: 'wood nailer; its bolts are a row of their own', x: out * face * 0.6, y: top * 0.7 },
        ]),
    {
      text: `one of ${nails.words}, as long as drawn`,
      x: right(face + plateIn - nails.lengthIn * 0.8, face + plateIn - nails.lengthIn * 0.2),
      y: nailY,
    },
    {
      text: `seat: at least ${tape(seatIn)} of bearing (IRC R502.6)`,
      x: out * (face + gapIn + seatIn * 0.5),
      y: under - plateIn,
    },
    ...(hanger.load === undefined
      ? []
      : [
          {
            text: hanger.load.words,
            x: arrowX,
            y: top + onPaper(scale, 0.25),
            warns: hanger.load.warns,
          },
        ]),
  ];
  return withCaption(
    {
      name: `hanger-${side}-side`,
      title: `Joist at the ${side} face of the beam`,
      description: hanger.descriptions.side,
      scale,
    },
    [...marks, ...besideWords(names, boundsOf(marks).right, scale)],
    [
      {
        text: 'Dashed: a plain stirrup in place of the hanger; its shape, and which hole takes which nail, is in the listing.',
      },
    ],
  );
}

/** Of the joist, how far it ends from the beam's underside, and of the beam; all on the left, where no leaders run. */
function depths({ beam, joist }: DrawnHanger, scale: DrawingScale, x: number, thingX: number): FigureMark[] {
  const under = beam.depthIn - joist.depthIn;
  const between =
    under === 0 ? [] : [upright(scale, x, Math.min(0, under), Math.max(0, under), thingX, 'left')];
  return [
    upright(scale, x, under, beam.depthIn, thingX, 'left'),
    ...between,
    upright(scale, x - onPaper(scale, 0.5), 0, beam.depthIn, x, 'left'),
  ];
}

/** On steel the nails go into wood between the flanges. */
function nailer({ beam }: DrawnHanger, out: number): Outline[] {
  const [first] = beam.pieces;
  if (first?.material !== 'steel shape') return [];
  const { webIn, flangeIn } = wideFlange(first.label);
  const [near, far] = [webIn / 2, beam.widthIn / 2];
  return [
    rectangle(
      'PLATES',
      'wood nailer',
      {
        x: out > 0 ? near : -far,
        width: far - near,
        y: flangeIn,
        height: beam.depthIn - 2 * flangeIn,
      },
      { hatching: 'end grain' },
    ),
  ];
}

/** Looking at the face of the beam: two joists cut, at their spacing, and the nails of one hanger laid out below. */
export function hangerFront(hanger: DrawnHanger, scale: DrawingScale): Figure {
  const { beam, joist, spacingIn, plateIn, nails, side } = hanger;
  const top = beam.depthIn;
  const under = top - joist.depthIn;
  const legIn = joist.depthIn * LEG;
  const half = spacingIn / 2;
  const joists = [-half, half].flatMap((middle): Outline[] => {
    const [left, right] = [middle - joist.thicknessIn / 2, middle + joist.thicknessIn / 2];
    return [
      ...[left - plateIn - FLANGE_IN, right + plateIn].map((x) =>
        rectangle('HANGERS', 'flange', { x, y: under, width: FLANGE_IN, height: legIn }, DASHED),
      ),
      rectangle(
        'JOISTS',
        'joist',
        { x: left, y: under, width: joist.thicknessIn, height: joist.depthIn },
        { hatching: 'end grain' },
      ),
      ...[left - plateIn, right].map((x) =>
        rectangle('HANGERS', 'leg', { x, y: under, width: plateIn, height: legIn }),
      ),
      rectangle('HANGERS', 'seat', {
        x: left - plateIn,
        y: under - plateIn,
        width: joist.thicknessIn + 2 * plateIn,
        height: plateIn,
      }),
    ];
  });
  const faceHalf = half + joist.thicknessIn / 2 + FACE_SHOWN_IN;
  const pieces = [
    rectangle('BEAM', 'face of the beam', { x: -faceHalf, y: 0, width: 2 * faceHalf, height: beam.depthIn }),
    ...joists,
  ];
  const gap = onPaper(scale, 0.3);
  const low = Math.min(0, under - plateIn);
  const laid = laidOut(hanger, 2 * faceHalf, low - gap * 1.9);
  const nailRows = boundsOf(laid.length === 0 ? pieces : laid);
  const marks: FigureMark[] = [
    ...pieces,
    ...[-faceHalf, faceHalf].flatMap((x) => broken(scale, 'BEAM', { x, y: 0 }, { x, y: top })),
    ...laid,
    ...chainAlong(scale, [-half, half], low, low - gap),
    ...depths(hanger, scale, -faceHalf - gap, -faceHalf),
  ];
  const names: NamedPoint[] = [
    {
      text: `joists ${joist.words}, ${tape(spacingIn)} center to center`,
      x: half,
      y: top - joist.depthIn * 0.15,
    },
    { text: 'hanger, by its listing', x: half + joist.thicknessIn / 2 + FLANGE_IN, y: under + legIn * 0.2 },
    {
      text:
        laid.length === 0
          ? `${nails.words} in each hanger, too many to lay out`
          : `${nails.words} in each hanger, every hole of the listing filled: laid out at their own size`,
      x: laid.length === 0 ? half : nailRows.right,
      y: laid.length === 0 ? under : nailRows.top - nails.lengthIn / 2,
    },
  ];
  return withCaption(
    {
      name: `hanger-${side}-front`,
      title: `The ${side} face of the beam with its joists`,
      description: hanger.descriptions.front,
      scale,
    },
    [...marks, ...besideWords(names, boundsOf(marks).right, scale)],
    [],
  );
}

/** More nails than these are a number, not a picture. */
const MOST_NAILS = 60;
/** From nail to nail as they lie. */
const APART_IN = 0.6;

/** Every nail of one hanger beside the other, in rows no wider than the face above them. */
function laidOut({ nails }: DrawnHanger, widthIn: number, topY: number): Outline[] {
  const { count, diameterIn, lengthIn } = nails;
  if (count > MOST_NAILS) return [];
  const perRow = Math.max(1, Math.min(count, Math.floor(widthIn / APART_IN)));
  const left = -((perRow - 1) * APART_IN + diameterIn) / 2;
  return Array.from({ length: count }, (_, index) => {
    const row = Math.floor(index / perRow);
    return rectangle('HANGERS', 'nail', {
      x: left + (index % perRow) * APART_IN,
      y: topY - lengthIn - row * (lengthIn + APART_IN),
      width: diameterIn,
      height: lengthIn,
    });
  });
}
