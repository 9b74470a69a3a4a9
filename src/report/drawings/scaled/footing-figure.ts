import { DRESSED_2X_IN } from '../../../engineering/layout/index.ts';
import type { Support } from '../../../engineering/proposal/design.ts';
import { tape } from '../dimensions.ts';
import { belowPack } from './below-pack.ts';
import { besideWords, type NamedPoint } from './beside-words.ts';
import { withCaption } from './caption.ts';
import { chainAlong, upright } from './dimension-chain.ts';
import { boundsOf, onPaper, type Figure, type FigureMark, type Outline } from './figure.ts';
import type { DrawingScale } from './scales.ts';
import { arrow, broken, centred, rectangle, stroke } from './shapes.ts';

/** A stud or post seen from above; along the wall from the middle of those that carry, away from the datum. */
export interface DrawnPly {
  readonly label: string;
  readonly fromIn: number;
  readonly toIn: number;
  /** A king, or a jack beside the end of the beam, brings none of the beam's load. */
  readonly carries: boolean;
}

export interface DrawnFooting {
  readonly support: Support;
  readonly packWords: string;
  readonly packWidthIn: number;
  readonly plies: readonly DrawnPly[];
  /** The pad, or as much of the concrete found as one may count on; left out: nothing is known. */
  readonly counted?: {
    readonly what: 'new pad' | 'concrete found';
    readonly widthIn: number;
    readonly lengthIn: number;
    readonly thicknessIn: number;
    readonly words: string;
  };
  /** What was found; with a pad, what the pad takes the place of. */
  readonly found?: { readonly widthIn: number; readonly thicknessIn: number; readonly words: string };
  readonly pressure?: { readonly words: string; readonly warns: boolean };
  readonly descriptions: { readonly section: string; readonly plan: string };
}

/** How much of the pack stands over the floor in the picture. */
const FOOT_IN = 12;
/** What was found is cut short where it reaches further past what is counted. */
const PAST_IN = 9;
const ARROWS = 5;
const UNKNOWN = 'Nothing is known of what is under this pack: open up and look.';

/** How wide the drawing shows the concrete that was found. */
function shownWidth({ found, counted }: DrawnFooting): number {
  return Math.min(found?.widthIn ?? 0, (counted?.widthIn ?? 0) + 2 * PAST_IN);
}

/** Across the wall: the foot of the pack, what carries it through a framed floor, the concrete, and how it presses. */
export function footingSection(footing: DrawnFooting, scale: DrawingScale): Figure {
  const { support, packWidthIn, counted, found, descriptions } = footing;
  const below = belowPack(support);
  const top = -below.depthIn;
  const bottom = top - (counted?.thicknessIn ?? 0);
  const foot = [
    ...below.pieces,
    centred('PLATES', 'bottom plate', packWidthIn, 0, DRESSED_2X_IN, { hatching: 'end grain' }),
    centred('JACKS AND POSTS', 'pack', packWidthIn, DRESSED_2X_IN, FOOT_IN),
  ];
  const pieces = [...concrete(footing, top), ...foot];
  const { left, right } = boundsOf(pieces);
  const reach = Math.max(-left, right) + onPaper(scale, 0.15);
  const gap = onPaper(scale, 0.3);
  const footTop = DRESSED_2X_IN + FOOT_IN;
  const heights = [...new Set([...below.pieces.map(({ y }) => y), bottom, 0])].sort((a, b) => a - b);
  const marks: FigureMark[] = [
    ...pieces,
    ...broken(
      scale,
      'JACKS AND POSTS',
      { x: -packWidthIn / 2, y: footTop },
      { x: packWidthIn / 2, y: footTop },
    ),
    ...replaced(footing, top),
    ...cutShort(footing, scale, top),
    stroke('FLOOR', -reach, 0, reach, 0),
    ...(counted?.what === 'concrete found' ? spread(footing, top, bottom) : []),
    ...(counted === undefined ? [] : pressing(footing, scale, bottom)),
    ...heights
      .slice(1)
      .map((to, index) =>
        upright(scale, -reach - gap / 2, heights[index] ?? to, to, -reach + gap / 3, 'left'),
      ),
    ...(counted === undefined
      ? []
      : chainAlong(
          scale,
          [-counted.widthIn / 2, counted.widthIn / 2],
          bottom - onPaper(scale, 0.32),
          bottom - onPaper(scale, 0.6),
        )),
    ...(['front', 'rear'] as const).map((side): FigureMark => ({
      form: 'words',
      layer: 'NOTES',
      at: { x: side === 'front' ? -reach : reach, y: onPaper(scale, 0.05) },
      anchor: side === 'front' ? 'start' : 'end',
      text: side,
      heightIn: onPaper(scale, 0.095),
    })),
  ];
  const names: NamedPoint[] = [
    { text: footing.packWords, x: packWidthIn / 2, y: DRESSED_2X_IN + FOOT_IN * 0.75 },
    ...below.pieces.map(({ piece, x, y, width, height }) => ({
      text: piece,
      x: x + width,
      y: y + height / 2,
    })),
    ...(counted === undefined
      ? [{ text: UNKNOWN, x: packWidthIn / 2, y: top - onPaper(scale, 0.1), warns: true }]
      : [
          {
            text: counted.words,
            x: counted.widthIn / 2 - counted.widthIn * 0.05,
            y: bottom + counted.thicknessIn * 0.4,
          },
        ]),
    ...(counted?.what === 'new pad' && found !== undefined
      ? [{ text: found.words, x: shownWidth(footing) / 2, y: top - found.thicknessIn * 0.2 }]
      : []),
    ...(footing.pressure === undefined || counted === undefined
      ? []
      : [
          {
            text: footing.pressure.words,
            x: counted.widthIn / 2,
            y: bottom - onPaper(scale, 0.15),
            warns: footing.pressure.warns,
          },
        ]),
  ];
  return withCaption(
    {
      name: `footing-${support.end}-section`,
      title: `Under the ${support.end} pack, across the wall`,
      description: descriptions.section,
      scale,
    },
    [...marks, ...besideWords(names, boundsOf(marks).right, scale)],
    [],
  );
}

/** The pad, else what was found, as wide as the sheet shows it. */
function concrete(footing: DrawnFooting, top: number): Outline[] {
  const { counted, found } = footing;
  const hatched = { hatching: 'concrete' } as const;
  if (counted?.what === 'new pad') {
    const { widthIn, thicknessIn } = counted;
    return [centred('FOOTINGS', 'new pad', widthIn, top - thicknessIn, thicknessIn, hatched)];
  }
  if (found === undefined) return [];
  const { thicknessIn } = found;
  return [
    centred(
      'EXISTING CONCRETE',
      'concrete found',
      shownWidth(footing),
      top - thicknessIn,
      thicknessIn,
      hatched,
    ),
  ];
}

/** The edge of what was found, over the pad that takes its place. */
function replaced(footing: DrawnFooting, top: number): FigureMark[] {
  const { counted, found } = footing;
  if (counted?.what !== 'new pad' || found === undefined) return [];
  const half = shownWidth(footing) / 2;
  const bottom = top - found.thicknessIn;
  return [
    stroke('CENTER LINES', -half, top, -half, bottom),
    stroke('CENTER LINES', -half, bottom, half, bottom),
    stroke('CENTER LINES', half, bottom, half, top),
  ];
}

/** Where what was found goes on past the drawing, as a slab does. */
function cutShort(footing: DrawnFooting, scale: DrawingScale, top: number): FigureMark[] {
  const { found } = footing;
  const half = shownWidth(footing) / 2;
  if (found === undefined || half * 2 >= found.widthIn) return [];
  return [-half, half].flatMap((x) =>
    broken(scale, 'EXISTING CONCRETE', { x, y: top - found.thicknessIn }, { x, y: top }),
  );
}

/** The part of the concrete found that takes the load: from the edges of the pack outward, no more than it is thick. */
function spread({ counted, packWidthIn }: DrawnFooting, top: number, bottom: number): FigureMark[] {
  if (counted === undefined) return [];
  return [-1, 1].map((side) =>
    stroke('CENTER LINES', (side * packWidthIn) / 2, top, (side * counted.widthIn) / 2, bottom),
  );
}

function pressing({ counted }: DrawnFooting, scale: DrawingScale, bottom: number): FigureMark[] {
  if (counted === undefined) return [];
  const step = counted.widthIn / (ARROWS - 1);
  return Array.from({ length: ARROWS }, (_, index) => index).flatMap((index) =>
    arrow(
      scale,
      'NOTES',
      -counted.widthIn / 2 + index * step,
      bottom - onPaper(scale, 0.27),
      bottom - onPaper(scale, 0.03),
    ),
  );
}

/** From above: the concrete that counts, and on it each stud of the pack; the opening is up at the left end, else down. */
export function footingPlan(footing: DrawnFooting, scale: DrawingScale): Figure {
  const { support, packWidthIn, plies, counted, found, descriptions } = footing;
  const [width, length] = [counted?.widthIn ?? 0, counted?.lengthIn ?? 0];
  const pad = counted?.what === 'new pad';
  const studs = plies.map(({ label, fromIn, toIn, carries }) =>
    centred('JACKS AND POSTS', label, packWidthIn, fromIn, toIn - fromIn, {
      ...(carries ? { hatching: 'end grain' as const } : { hidden: true }),
    }),
  );
  const along = boundsOf(studs);
  const shown = shownWidth(footing);
  const strip = Math.max(length, along.top - along.bottom) + PAST_IN;
  const pieces: Outline[] = [
    ...(found === undefined
      ? []
      : [
          centred(
            'EXISTING CONCRETE',
            'concrete found',
            shown,
            -strip / 2,
            strip,
            pad ? { hidden: true } : {},
          ),
        ]),
    ...(counted === undefined
      ? []
      : [
          rectangle(
            pad ? 'FOOTINGS' : 'EXISTING CONCRETE',
            counted.what === 'new pad' ? 'new pad' : 'counted on',
            { x: -width / 2, y: -length / 2, width, height: length },
            pad ? {} : { hidden: true },
          ),
        ]),
    ...studs,
  ];
  const bounds = boundsOf(pieces);
  const gap = onPaper(scale, 0.3);
  const half = Math.max(bounds.right, -bounds.left);
  const lineEnd = Math.max(bounds.top, -bounds.bottom) + onPaper(scale, 0.15);
  const seat = plies.filter(({ carries }) => carries);
  const seatFrom = Math.min(...seat.map(({ fromIn }) => fromIn));
  const seatTo = Math.max(...seat.map(({ toIn }) => toIn));
  const toward = support.end === 'left' ? 1 : -1;
  const heightIn = onPaper(scale, 0.095);
  const words = (x: number, y: number, text: string, anchor: 'start' | 'middle' | 'end'): FigureMark => ({
    form: 'words',
    layer: 'NOTES',
    at: { x, y },
    anchor,
    text,
    heightIn,
  });
  const marks: FigureMark[] = [
    ...pieces,
    stroke('CENTER LINES', 0, -lineEnd, 0, lineEnd),
    words(
      0,
      toward * lineEnd + (toward > 0 ? heightIn * 0.4 : -heightIn * 1.2),
      'toward the opening',
      'middle',
    ),
    words(-half, bounds.bottom - heightIn * 1.2, 'front', 'start'),
    words(half, bounds.bottom - heightIn * 1.2, 'rear', 'end'),
    ...(counted === undefined
      ? []
      : [
          upright(scale, -half - gap, -length / 2, length / 2, -width / 2, 'left'),
          ...chainAlong(scale, [-width / 2, width / 2], -lineEnd - heightIn, -lineEnd - gap),
        ]),
    upright(scale, half + gap * 0.6, seatFrom, seatTo, packWidthIn / 2, 'right'),
  ];
  const others = plies.filter(({ carries }) => !carries);
  const names: NamedPoint[] = [
    {
      text: `${tape(seatTo - seatFrom)} of ${support.kind === 'post' ? 'post' : seat.length === 1 ? 'jack' : 'jacks'} under the beam, ${tape(packWidthIn)} across`,
      x: packWidthIn / 2,
      y: (seatFrom + seatTo) / 2 + toward * (seatTo - seatFrom) * 0.35,
    },
    ...(others.length === 0
      ? []
      : [
          {
            text: `beside them: ${others.map(({ label }) => label).join(', ')}`,
            x: packWidthIn / 2,
            y: others.reduce((sum, { fromIn, toIn }) => sum + (fromIn + toIn) / 2, 0) / others.length,
          },
        ]),
    ...(counted === undefined
      ? []
      : [
          {
            text:
              counted.what === 'new pad'
                ? `new pad, ${tape(length)} along the wall, ${tape(width)} across`
                : `counted on: ${tape(length)} along the wall, ${tape(width)} across`,
            x: width / 2,
            y: -toward * length * 0.4,
          },
        ]),
  ];
  return withCaption(
    {
      name: `footing-${support.end}-plan`,
      title: `Under the ${support.end} pack, from above`,
      description: descriptions.plan,
      scale,
    },
    [...marks, ...besideWords(names, boundsOf(marks).right, scale)],
    [],
  );
}
