import type { Content, TableCell, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { CRAYON, INK, RECORD_LINE, SOFT } from './blocks.ts';
import { PAPERS, type Paper } from './paper.ts';

/** What stands in the block at the foot of every sheet of a set. */
export interface TitleBlock {
  readonly title: string;
  readonly house: string;
  readonly opening: string;
  /** 'Set 2'. */
  readonly set: string;
  readonly issued: string;
  readonly hash: string;
  /** First on every page where it must not be overlooked: superseded, an approval withdrawn. */
  readonly warnings: readonly string[];
  /** Where a reader finds out whether the sheet is still in force. */
  readonly checkUrl: string;
  readonly madeAt: Date;
}

const EDGE = 26;
const BLOCK = 66;
const PAD = 10;

/** Room for content on a lying sheet, in inches. */
export function roomOnSheet(paper: Paper): { readonly widthIn: number; readonly heightIn: number } {
  const { longIn, shortIn } = PAPERS[paper];
  return { widthIn: longIn - (2 * (EDGE + PAD)) / 72, heightIn: shortIn - (2 * EDGE + BLOCK + 2 * PAD) / 72 };
}

/** Lying sheets with a border and a title block: project, opening, set, hash, page x of y, that it is no seal. */
export function sheetsOf(block: TitleBlock, content: readonly Content[], paper: Paper): TDocumentDefinitions {
  const stamp = block.warnings.length === 0 ? undefined : block.warnings[0];
  return {
    info: {
      title: `${block.title}, ${block.set}, ${block.house}`,
      creator: 'Lintelbook',
      creationDate: block.madeAt,
    },
    pageSize: paper,
    pageOrientation: 'landscape',
    pageMargins: [EDGE + PAD, EDGE + PAD, EDGE + PAD, EDGE + BLOCK + PAD],
    defaultStyle: { font: 'Sheet', fontSize: 8.5, color: INK, lineHeight: 1.2 },
    ...(stamp === undefined
      ? {}
      : { watermark: { text: stamp, color: CRAYON, opacity: 0.1, bold: true, font: 'Sheet' } }),
    background: (_page, { width, height }) => ({
      canvas: [
        {
          type: 'rect',
          x: EDGE,
          y: EDGE,
          w: width - 2 * EDGE,
          h: height - 2 * EDGE,
          lineWidth: 1.2,
          lineColor: INK,
        },
        {
          type: 'line',
          x1: EDGE,
          y1: height - EDGE - BLOCK,
          x2: width - EDGE,
          y2: height - EDGE - BLOCK,
          lineWidth: 0.8,
          lineColor: INK,
        },
      ],
    }),
    footer: (page, pages) => ({
      margin: [EDGE + PAD / 2, PAD + 5, EDGE + PAD / 2, 0],
      layout: 'noBorders',
      fontSize: 8,
      table: { widths: [50, '*', 150, 140], body: [blockCells(block, page, pages)] },
    }),
    content: [...content],
  };
}

function blockCells(block: TitleBlock, page: number, pages: number): TableCell[] {
  const soft = (text: string): Content => ({ text, color: SOFT, fontSize: 7 });
  return [
    { qr: block.checkUrl, fit: 48, foreground: INK },
    {
      stack: [
        { text: shortened(`${block.house}, ${block.opening}`, 120), bold: true, fontSize: 9 },
        { text: block.title },
        ...(block.warnings.length === 0
          ? []
          : [{ text: shortened(block.warnings.join(' '), 170), color: CRAYON, bold: true, fontSize: 7.5 }]),
        soft('The code leads to the check of this set: is it still in force?'),
      ],
    },
    {
      stack: [
        { text: block.set, bold: true, fontSize: 12 },
        { text: shortened(block.issued, 70), fontSize: 7.5 },
      ],
    },
    {
      stack: [
        { text: `Page ${page} of ${pages}`, bold: true },
        soft(`Hash ${block.hash.slice(0, 16)}`),
        { text: RECORD_LINE, bold: true, fontSize: 7 },
      ],
    },
  ];
}

/** The block has no more room than this; the whole words stand on the sheet of notes. */
function shortened(text: string, length: number): string {
  const signs = Array.from(text);
  return signs.length <= length ? text : `${signs.slice(0, length - 1).join('')}…`;
}
