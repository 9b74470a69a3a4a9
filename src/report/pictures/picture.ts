import {
  atLargestScale,
  figureSvg,
  type DrawingScale,
  type Figure,
  type PaperRoom,
} from '../drawings/scaled/index.ts';

/** A drawing with its words, ready for a page or a sheet. */
export interface Picture {
  readonly title: string;
  /** Made by src/report/drawings; every label in it is escaped. */
  readonly svg: string;
  /** Of a drawing to a customary scale: as large as it must be printed to be true. */
  readonly paper?: { readonly widthIn: number; readonly heightIn: number };
}

/** Small enough that a phone shows most of it, large enough that words have room beside it. */
const ROOM: PaperRoom = { widthIn: 5.4, heightIn: 3.6 };

/** A figure at the largest customary scale that a page has room for, with the scale in its title. */
export function scaledPicture(
  id: string,
  draw: (scale: DrawingScale) => Figure,
  room: PaperRoom = ROOM,
): Picture {
  const figure = atLargestScale(draw, room);
  const { markup, paperWidthIn, paperHeightIn } = figureSvg(id, figure);
  return {
    title: `${figure.title}, ${figure.scale.name} when printed`,
    svg: markup,
    paper: { widthIn: paperWidthIn, heightIn: paperHeightIn },
  };
}
