import {
  atLargestScale,
  elevationFigure,
  sectionFigure,
  type DrawnOpening,
  type Figure,
  type PaperRoom,
} from '../drawings/scaled/index.ts';
import { PAPERS, type Paper } from '../pdf/paper.ts';

/** What a printer leaves free on each side of a sheet, in. */
const EDGE_IN = 0.5;

/** A whole sheet of the paper, lying. */
export function lyingSheet(paper: Paper): PaperRoom {
  const { shortIn, longIn } = PAPERS[paper];
  return { widthIn: longIn - 2 * EDGE_IN, heightIn: shortIn - 2 * EDGE_IN };
}

/** The elevation, and a section at each end that has a support, each at the largest scale for its room. */
export function viewsOf(
  opening: DrawnOpening,
  room: { readonly elevation: PaperRoom; readonly section: PaperRoom },
): readonly Figure[] {
  const ends = opening.layout.packs.map(({ end }) => end).sort();
  return [
    atLargestScale((scale) => elevationFigure(opening, scale), room.elevation),
    ...ends.map((end) => atLargestScale((scale) => sectionFigure(opening, end, scale), room.section)),
  ];
}
