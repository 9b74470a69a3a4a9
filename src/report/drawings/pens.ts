import { element, escapeText } from './svg.ts';

/**
 * The pens of the drawing table. Each names a class, which the page's style sheet recolours for dark pages,
 * and carries the colours of the light page itself, so that print, PDF and plain files need no style sheet.
 */
const INK = '#19252e';
const INK_SOFT = '#465661';
const CHALK = '#1c5675';
const CRAYON = '#97390f';
const SHEET = '#fafaf6';
const LUMBER = '#ece3d0';

export const TEXT_SIZE = 13;
/** Width of one character on average, as a part of the text size; a little generous. */
const CHARACTER = 0.57;

export function textWidth(text: string, size: number = TEXT_SIZE): number {
  return Array.from(text).length * size * CHARACTER;
}

type Tone = 'ink' | 'soft' | 'chalk' | 'crayon';
const TONES: Readonly<Record<Tone, string>> = { ink: INK, soft: INK_SOFT, chalk: CHALK, crayon: CRAYON };

export interface TextStyle {
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly tone?: Tone;
  readonly size?: number;
  readonly bold?: boolean;
  /** Degrees, about the text's own point. */
  readonly turn?: number;
}

export function text(x: number, y: number, words: string, style: TextStyle = {}): string {
  const tone = style.tone ?? 'ink';
  return element(
    'text',
    {
      x,
      y,
      class: `dw-text dw-text--${tone}`,
      fill: TONES[tone],
      'font-size': style.size ?? TEXT_SIZE,
      'font-weight': style.bold === true ? '600' : undefined,
      'text-anchor': style.anchor === undefined || style.anchor === 'start' ? undefined : style.anchor,
      transform:
        style.turn === undefined ? undefined : `rotate(${style.turn} ${x.toFixed(2)} ${y.toFixed(2)})`,
    },
    escapeText(words),
  );
}

export interface LineStyle {
  readonly tone?: Tone;
  readonly width?: number;
  readonly dash?: string;
}

export function line(x1: number, y1: number, x2: number, y2: number, style: LineStyle = {}): string {
  const tone = style.tone ?? 'ink';
  return element('line', {
    x1,
    y1,
    x2,
    y2,
    class: `dw-line dw-line--${tone}`,
    stroke: TONES[tone],
    'stroke-width': style.width ?? 1,
    'stroke-dasharray': style.dash,
  });
}

export function path(d: string, style: LineStyle & { readonly fill?: 'none' | 'wash' | Tone } = {}): string {
  const tone = style.tone ?? 'ink';
  const fill = style.fill ?? 'none';
  return element('path', {
    d,
    class: `dw-line dw-line--${tone} dw-fill--${fill}`,
    stroke: TONES[tone],
    'stroke-width': style.width ?? 1,
    'stroke-dasharray': style.dash,
    'stroke-linejoin': 'round',
    fill: fill === 'none' ? 'none' : fill === 'wash' ? '#dce8ec' : TONES[fill],
  });
}

export type Material = 'lumber' | 'sheet' | 'existing' | 'concrete';
const MATERIALS: Readonly<Record<Material, string>> = {
  lumber: LUMBER,
  sheet: SHEET,
  existing: '#e3e6de',
  concrete: '#d3d8d4',
};

/** The engine's words for what a piece is made of. */
export const MATERIAL_OF = {
  wood: 'lumber',
  steel: 'existing',
  concrete: 'concrete',
} as const satisfies Record<string, Material>;

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function box(
  where: Box,
  material: Material,
  style: LineStyle & { readonly name?: string } = {},
): string {
  return element('rect', {
    x: where.x,
    y: where.y,
    width: where.width,
    height: where.height,
    class: `dw-box dw-box--${material}`,
    'data-piece': style.name,
    fill: MATERIALS[material],
    stroke: INK,
    'stroke-width': style.width ?? 1.25,
    'stroke-dasharray': style.dash,
  });
}

/** A vertical arrow whose point is at (x, tipY), coming from tailY. */
export function verticalArrow(x: number, tailY: number, tipY: number, style: LineStyle = {}): string {
  const back = tipY > tailY ? -1 : 1;
  const tone = style.tone ?? 'ink';
  const head = `M${x.toFixed(2)} ${tipY.toFixed(2)}l-4 ${8 * back}h8Z`;
  return (
    line(x, tailY, x, tipY + 6 * back, { ...style, tone }) + path(head, { tone, fill: tone, width: 0.5 })
  );
}
