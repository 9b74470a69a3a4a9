import type { Content } from 'pdfmake/interfaces.js';
import { fontOf, type FontStyle } from './fonts.ts';
import { readFontWidths, type FontWidths } from './font-widths.ts';

export interface LineStyle {
  readonly fontSize: number;
  readonly bold?: boolean;
  readonly color?: string;
  readonly alignment?: 'left' | 'right';
}

const kept = new Map<FontStyle, FontWidths>();

function widthsOf(style: FontStyle): FontWidths {
  const known = kept.get(style);
  if (known !== undefined) return known;
  const read = readFontWidths(fontOf(style));
  kept.set(style, read);
  return read;
}

/**
 * Text broken into lines by us, each given to the layout as one piece. The layout measures, styles and writes word by
 * word otherwise, and a calculation has tens of thousands of them.
 *
 * @param widthPt the room that there is, in points
 */
export function setLines(text: string, widthPt: number, style: LineStyle): Content {
  const lines = brokenLines(text, widthPt / style.fontSize, style.bold === true);
  if (lines === null) return { text, ...style };
  if (lines.length === 1) return { text: lines[0] ?? '', noWrap: true, ...style };
  return { stack: lines.map((line): Content => ({ text: line, noWrap: true, ...style })) };
}

/** Null where only the layout itself can break it: a word longer than a line, breaks and gaps set on purpose. */
export function brokenLines(text: string, widthEm: number, bold: boolean): readonly string[] | null {
  if (/[\n\r\t\u00ad]|^ | $| {2}/.test(text)) return null;
  const { widthOf } = widthsOf(bold ? 'bold' : 'normal');
  const space = widthOf(' ');
  const lines: string[] = [];
  let line = '';
  let used = 0;
  for (const word of text.split(' ')) {
    const width = widthOf(word);
    if (width > widthEm) return null;
    if (line !== '' && used + space + width > widthEm) {
      lines.push(line);
      line = word;
      used = width;
    } else {
      used += line === '' ? width : space + width;
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  return [...lines, line];
}
