import { box, line, text, type LineStyle, type Material } from '../pens.ts';
import { drawingFrame } from '../svg.ts';
import type { Figure, FigureMark, Layer, Outline, Stroke, Words } from './figure.ts';
import { hatchStrokes, linesOf } from './parts.ts';

/** Drawing units for an inch of paper: those of the screen, so that a page shows the drawing at its scale, too. */
export const UNITS_PER_PAPER_INCH = 96;
const MARGIN_IN = 0.08;

const MATERIAL: Readonly<Partial<Record<Layer, Material>>> = {
  'EXISTING WALL': 'existing',
  'EXISTING CONCRETE': 'existing',
  FOOTINGS: 'concrete',
  PLATES: 'sheet',
  JOISTS: 'sheet',
  HANGERS: 'existing',
  NOTES: 'sheet',
};

const PENS: Readonly<Partial<Record<Layer, LineStyle>>> = {
  FLOOR: { width: 2 },
  DATUM: { width: 1.75, dash: '14 3 3 3' },
  'CENTER LINES': { width: 0.6, dash: '12 3 3 3', tone: 'soft' },
  'CUT LINES': { width: 1.5, dash: '6 4', tone: 'crayon' },
  DIMENSIONS: { width: 0.6 },
  NOTES: { width: 0.6, tone: 'soft' },
};
const HATCH: LineStyle = { width: 0.35, tone: 'soft' };

export interface WrittenSvg {
  readonly markup: string;
  /** Of the whole picture on paper. */
  readonly paperWidthIn: number;
  readonly paperHeightIn: number;
}

/**
 * A figure as SVG whose width and height are inches of paper: printed as it is, it is to scale.
 *
 * @param id unique on the page
 */
export function figureSvg(id: string, figure: Figure): WrittenSvg {
  const { bounds, scale } = figure;
  const unitsPerInch = scale.paperPerInch * UNITS_PER_PAPER_INCH;
  const margin = MARGIN_IN * UNITS_PER_PAPER_INCH;
  const toX = (x: number) => margin + (x - bounds.left) * unitsPerInch;
  const toY = (y: number) => margin + (bounds.top - y) * unitsPerInch;

  const stroke = ({ from, to, layer }: Stroke, style: LineStyle = PENS[layer] ?? {}) =>
    line(toX(from.x), toY(from.y), toX(to.x), toY(to.y), style);
  const words = (one: Words) =>
    text(toX(one.at.x), toY(one.at.y), one.text, {
      anchor: one.anchor,
      size: one.heightIn * unitsPerInch,
      tone: one.warns === true ? 'crayon' : 'ink',
      ...(one.bold === true ? { bold: true } : {}),
      ...(one.upright === true ? { turn: -90 } : {}),
    });
  const outline = (one: Outline) =>
    box(
      {
        x: toX(one.x),
        y: toY(one.y + one.height),
        width: one.width * unitsPerInch,
        height: one.height * unitsPerInch,
      },
      MATERIAL[one.layer] ?? 'lumber',
      {
        name: one.piece,
        width: one.layer === 'BEAM' ? 1.4 : 0.9,
        ...(one.hidden === true ? { dash: '5 3' } : {}),
      },
    ) +
    hatchStrokes(one, scale)
      .map((part) => stroke(part, HATCH))
      .join('');
  const mark = (one: FigureMark): string => {
    switch (one.form) {
      case 'outline':
        return outline(one);
      case 'stroke':
        return stroke(one);
      case 'words':
        return words(one);
      case 'dimension':
        return (
          linesOf(one, scale)
            .map((part) => stroke(part))
            .join('') + words(one.words)
        );
    }
  };

  const width = (bounds.right - bounds.left) * unitsPerInch + 2 * margin;
  const height = (bounds.top - bounds.bottom) * unitsPerInch + 2 * margin;
  const paperWidthIn = width / UNITS_PER_PAPER_INCH;
  const paperHeightIn = height / UNITS_PER_PAPER_INCH;
  const { title, description } = figure;
  return {
    paperWidthIn,
    paperHeightIn,
    markup: drawingFrame(
      { id, title, description, width, height, unitsPerInch, paper: { paperWidthIn, paperHeightIn } },
      ...figure.marks.map(mark),
    ),
  };
}
