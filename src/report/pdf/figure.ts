import type { Content } from 'pdfmake/interfaces.js';
import { figureSvg, type Figure } from '../drawings/scaled/index.ts';
import { drawing } from './blocks.ts';

const POINTS_PER_INCH = 72;

/** A drawing to scale, as large on the page as its scale says. */
export function figureOnPaper(figure: Figure): Content {
  const { markup, paperWidthIn, paperHeightIn } = figureSvg(figure.name, figure);
  return svgOnPaper(markup, paperWidthIn, paperHeightIn);
}

/** The same of a figure that is written already. */
export function svgOnPaper(markup: string, paperWidthIn: number, paperHeightIn: number): Content {
  // Its size is given in points here, and would be given twice.
  const bare = markup.replace(/ (?:width|height)="[\d.]+in"/g, '');
  return drawing(bare, paperWidthIn * POINTS_PER_INCH, paperHeightIn * POINTS_PER_INCH);
}
