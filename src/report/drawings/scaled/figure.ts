import { textWidth } from '../pens.ts';
import type { DrawingScale } from './scales.ts';

/**
 * A drawing as data that both writers read (SVG and DXF): full size, in inches, x to the right and y up. In the
 * elevation x runs along the wall from the datum, in a section across the wall from its middle, front to the left;
 * y is the height above the floor. Only the size of words and ticks follows the scale, so that they print alike.
 */
export interface Figure {
  /** Names the view in files: 'elevation', 'section-left'. */
  readonly name: string;
  readonly title: string;
  /** For people who can't see the picture. */
  readonly description: string;
  readonly scale: DrawingScale;
  readonly marks: readonly FigureMark[];
  readonly bounds: Bounds;
}

export interface Bounds {
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** What lies together on one layer, in words of the trade; the names are those in the DXF. */
export const LAYERS = [
  'EXISTING WALL',
  'PLATES',
  'JACKS AND POSTS',
  'KINGS',
  'BEAM',
  'JOISTS',
  'HANGERS',
  'SHORING',
  'FOOTINGS',
  'EXISTING CONCRETE',
  'CUT LINES',
  'CENTER LINES',
  'FLOOR',
  'DATUM',
  'DIMENSIONS',
  'NOTES',
] as const;
export type Layer = (typeof LAYERS)[number];

/** How a cut piece is marked: crossed end grain of solid lumber, strokes for layered wood and steel, dots and strokes for concrete. */
export type Hatching = 'end grain' | 'layered wood' | 'steel' | 'concrete';

export interface Outline {
  readonly form: 'outline';
  readonly layer: Layer;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly hatching?: Hatching;
  /** Hidden behind or below something: dashed. */
  readonly hidden?: boolean;
  /** What it is, for whoever reads the file: 'left jack 1'. */
  readonly piece: string;
}

export interface Stroke {
  readonly form: 'stroke';
  readonly layer: Layer;
  readonly from: Point;
  readonly to: Point;
}

export interface Words {
  readonly form: 'words';
  readonly layer: Layer;
  /** Where the base line begins, has its middle or ends. */
  readonly at: Point;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly text: string;
  /** Of the type (its em), not of its capitals. */
  readonly heightIn: number;
  /** A quarter turn to the left: reads upward. */
  readonly upright?: boolean;
  readonly bold?: boolean;
  /** Must not be overlooked: superseded, not approved. */
  readonly warns?: boolean;
}

/** A measured distance: line, ticks, extension lines and its words, each where it is drawn. */
export interface Dimension {
  readonly form: 'dimension';
  readonly from: Point;
  readonly to: Point;
  /** Where the extension lines begin, at the thing measured. */
  readonly fromThing: Point;
  readonly toThing: Point;
  readonly words: Words;
}

export type FigureMark = Outline | Stroke | Words | Dimension;

/** Height of ordinary words on paper, in. */
export const WORDS_IN = 0.105;

/** Real inches that so many inches of paper show. */
export function onPaper(scale: DrawingScale, paperIn: number): number {
  return paperIn / scale.paperPerInch;
}

function extentOf(words: Words): readonly Point[] {
  const width = textWidth(words.text, words.heightIn);
  const before = { start: 0, middle: width / 2, end: width }[words.anchor];
  const { x, y } = words.at;
  const low = -words.heightIn * 0.3;
  const high = words.heightIn;
  return words.upright === true
    ? [
        { x: x - high, y: y - before },
        { x: x - low, y: y - before + width },
      ]
    : [
        { x: x - before, y: y + low },
        { x: x - before + width, y: y + high },
      ];
}

function cornersOf(mark: FigureMark): readonly Point[] {
  switch (mark.form) {
    case 'outline':
      return [
        { x: mark.x, y: mark.y },
        { x: mark.x + mark.width, y: mark.y + mark.height },
      ];
    case 'stroke':
      return [mark.from, mark.to];
    case 'words':
      return extentOf(mark);
    case 'dimension':
      return [mark.from, mark.to, mark.fromThing, mark.toThing, ...extentOf(mark.words)];
  }
}

/** The room that the marks take, words included. */
export function boundsOf(marks: readonly FigureMark[]): Bounds {
  const points = marks.flatMap(cornersOf);
  return {
    left: Math.min(...points.map(({ x }) => x)),
    bottom: Math.min(...points.map(({ y }) => y)),
    right: Math.max(...points.map(({ x }) => x)),
    top: Math.max(...points.map(({ y }) => y)),
  };
}

/** The room that words take, to keep others away. */
export function boundsOfWords(words: Words): Bounds {
  return boundsOf([words]);
}
