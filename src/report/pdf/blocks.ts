import type { Content, TableCell, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { PAPERS, type Paper } from './paper.ts';
import { setLines } from './set-lines.ts';

/** The house's pens on paper: ink, its softer tone, chalk blue for what holds, crayon for what does not. */
export const INK = '#19252e';
export const SOFT = '#4d5a63';
export const CHALK = '#1c5675';
export const CRAYON = '#97390f';
const RULE = '#b9c0bb';

export interface PageWords {
  readonly title: string;
  /** At the head of every page, left. */
  readonly head: string;
  /** At the foot of every page, left: whose state this is. */
  readonly foot: string;
  readonly madeAt: Date;
}

const SIDE_MARGIN = 46;
export const TEXT_SIZE = 8.5;

/** Room for text on an upright page, in points. */
export function textWidth(paper: Paper): number {
  return PAPERS[paper].shortIn * 72 - 2 * SIDE_MARGIN;
}

export const RECORD_LINE = 'Record of review. Not a sealed document.';

/** A document with our head and foot on every page: what it is, page x of y, and that it is no seal. */
export function documentOf(
  words: PageWords,
  content: readonly Content[],
  { paper = 'LETTER', landscape = false }: { readonly paper?: Paper; readonly landscape?: boolean } = {},
): TDocumentDefinitions {
  return {
    info: { title: words.title, creator: 'Lintelbook', creationDate: words.madeAt },
    pageSize: paper,
    pageOrientation: landscape ? 'landscape' : 'portrait',
    pageMargins: [SIDE_MARGIN, 56, SIDE_MARGIN, 54],
    defaultStyle: { font: 'Sheet', fontSize: TEXT_SIZE, color: INK, lineHeight: 1.2 },
    header: (page) =>
      page === 1
        ? null
        : { text: words.head, margin: [SIDE_MARGIN, 26, SIDE_MARGIN, 0], fontSize: 8, color: SOFT },
    footer: (page, pages) => ({
      margin: [SIDE_MARGIN, 14, SIDE_MARGIN, 0],
      fontSize: 7.5,
      color: SOFT,
      columns: [
        { text: [{ text: `${RECORD_LINE} `, bold: true }, words.foot] },
        { text: `Page ${page} of ${pages}`, alignment: 'right', width: 80 },
      ],
    }),
    content: [...content],
  };
}

export function heading(text: string, level: 1 | 2 | 3 = 2): Content {
  const size = { 1: 17, 2: 12.5, 3: 10 }[level];
  return {
    text,
    fontSize: size,
    bold: true,
    margin: [0, level === 1 ? 0 : level === 2 ? 12 : 7, 0, level === 3 ? 2 : 4],
    headlineLevel: level,
  };
}

const TONES = { ink: INK, soft: SOFT, crayon: CRAYON } as const;

export function paragraph(text: string, tone: keyof typeof TONES = 'ink'): Content {
  return { text, color: TONES[tone], margin: [0, 0, 0, 3] };
}

/** A paragraph broken into lines by us, for papers with hundreds of them. */
export function setParagraph(text: string, widthPt: number, tone: keyof typeof TONES = 'ink'): Content {
  const lines = setLines(text, widthPt, { fontSize: TEXT_SIZE, color: TONES[tone] });
  return { stack: [lines], margin: [0, 0, 0, 3] };
}

export function bullets(lines: readonly string[]): Content {
  return { ul: [...lines], margin: [0, 0, 0, 4] };
}

/** Terms and what they are, in two columns without lines. */
export function facts(pairs: readonly (readonly [string, string])[]): Content {
  return {
    layout: 'noBorders',
    margin: [0, 0, 0, 4],
    table: {
      widths: [110, '*'],
      body: pairs.map(([term, detail]): TableCell[] => [{ text: term, color: SOFT }, { text: detail }]),
    },
  };
}

/** A table with a rule under its head and thin ones between rows; the head is repeated on every page. */
export function table(
  head: readonly string[],
  rows: readonly (readonly TableCell[])[],
  widths: readonly (number | '*' | 'auto')[],
): Content {
  return {
    margin: [0, 2, 0, 6],
    fontSize: 8.5,
    layout: {
      hLineWidth: (line) => (line === 0 ? 0 : line === 1 ? 1 : 0.4),
      vLineWidth: () => 0,
      hLineColor: () => RULE,
      paddingLeft: (column) => (column === 0 ? 0 : 5),
      paddingRight: () => 5,
    },
    table: {
      headerRows: 1,
      // A head at the foot of a page, with its rows on the next, says nothing.
      keepWithHeaderRows: 1,
      dontBreakRows: true,
      widths: [...widths],
      body: [
        head.map((text): TableCell => ({ text, bold: true, color: SOFT })),
        ...rows.map((row) => [...row]),
      ],
    },
  };
}

/**
 * One of our own drawings. Its fonts are named for screens; on paper the document's own is used.
 *
 * @param fitHeight where the drawing would be higher, it is made smaller to fit
 */
export function drawing(svg: string, width: number, height?: number, fitHeight?: number): Content {
  const ours = svg.replace(/ font-family="[^"]*"/g, ' font-family="Sheet"');
  const margin: [number, number, number, number] = [0, 4, 0, 6];
  if (fitHeight !== undefined) return { svg: ours, fit: [width, fitHeight], margin };
  return { svg: ours, width, ...(height === undefined ? {} : { height }), margin };
}
