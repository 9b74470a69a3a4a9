import { tablesOf } from './font-tables.ts';

/** Advance widths of a TrueType font, in parts of its em: OpenType 1.9, tables head, hhea, hmtx and cmap (format 4). */
export interface FontWidths {
  /** Width of a text at 1 pt, letter by letter. */
  readonly widthOf: (text: string) => number;
}

/**
 * What a line's length needs from a font file, and nothing else of it.
 *
 * @throws Error where the file is no TrueType font with a Unicode map of the basic plane
 */
export function readFontWidths(font: Buffer): FontWidths {
  const tables = new Map(tablesOf(font).map(({ tag, offset }) => [tag, offset]));
  const at = (tag: string): number => {
    const offset = tables.get(tag);
    if (offset === undefined) throw new Error(`The font has no table ${tag}.`);
    return offset;
  };
  const unitsPerEm = font.readUInt16BE(at('head') + 18);
  const longMetrics = font.readUInt16BE(at('hhea') + 34);
  const metrics = at('hmtx');
  const glyphOf = glyphsOf(font, at('cmap'));
  const advanceOf = (glyph: number) =>
    font.readUInt16BE(metrics + 4 * Math.min(glyph, longMetrics - 1)) / unitsPerEm;

  const signs = new Map<number, number>();
  const words = new Map<string, number>();
  const measure = (text: string): number => {
    let sum = 0;
    for (const sign of text) {
      const code = sign.codePointAt(0) ?? 0;
      let width = signs.get(code);
      if (width === undefined) {
        width = advanceOf(glyphOf(code));
        signs.set(code, width);
      }
      sum += width;
    }
    return sum;
  };
  return {
    widthOf: (text) => {
      const known = words.get(text);
      if (known !== undefined) return known;
      const width = measure(text);
      // Words of papers repeat; what people write must not fill the memory.
      if (words.size >= 5000) words.clear();
      words.set(text, width);
      return width;
    },
  };
}

const UNICODE = 0;
const WINDOWS = 3;

/** The glyph of a code point; glyph 0, the sign for none, where the font has no other. */
function glyphsOf(font: Buffer, cmap: number): (code: number) => number {
  for (let entry = 0; entry < font.readUInt16BE(cmap + 2); entry += 1) {
    const record = cmap + 4 + 8 * entry;
    const map = cmap + font.readUInt32BE(record + 4);
    const platform = font.readUInt16BE(record);
    if ((platform === UNICODE || platform === WINDOWS) && font.readUInt16BE(map) === 4) {
      return (code) => glyphInFormat4(font, map, code);
    }
  }
  throw new Error('The font has no Unicode map of the basic plane.');
}

function glyphInFormat4(font: Buffer, map: number, code: number): number {
  if (code > 0xffff) return 0;
  const doubled = font.readUInt16BE(map + 6);
  const ends = map + 14;
  const starts = ends + doubled + 2;
  const deltas = starts + doubled;
  const ranges = deltas + doubled;
  for (let at = 0; at < doubled; at += 2) {
    if (font.readUInt16BE(ends + at) < code) continue;
    const start = font.readUInt16BE(starts + at);
    if (start > code) return 0;
    const delta = font.readUInt16BE(deltas + at);
    const range = font.readUInt16BE(ranges + at);
    if (range === 0) return (code + delta) & 0xffff;
    const glyph = font.readUInt16BE(ranges + at + range + 2 * (code - start));
    return glyph === 0 ? 0 : (glyph + delta) & 0xffff;
  }
  return 0;
}
