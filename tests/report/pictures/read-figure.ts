import sharp from 'sharp';
import { expect } from 'vitest';
import type { Picture } from '../../../src/report/pictures/index.ts';

export interface ReadBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly dashed: boolean;
}

const entities: Readonly<Record<string, string>> = { '&#39;': "'", '&quot;': '"', '&amp;': '&' };
const plain = (text: string) => text.replace(/&#39;|&quot;|&amp;/g, (sign) => entities[sign] ?? sign);

/** A picture to scale, read back from its markup alone: pieces in inches of the real thing, words as they stand. */
export function readFigure({ svg }: Picture) {
  const number = (tag: string, name: string) =>
    Number(new RegExp(` ${name}="([^"]+)"`).exec(tag)?.[1] ?? NaN);
  const scale = number(svg, 'data-units-per-inch');
  const boxes = (piece: string): ReadBox[] =>
    [...svg.matchAll(/<rect [^>]*>/g)]
      .map(([tag]) => tag)
      .filter((tag) => tag.includes(` data-piece="${piece}"`))
      .map((tag) => ({
        x: number(tag, 'x') / scale,
        y: number(tag, 'y') / scale,
        width: number(tag, 'width') / scale,
        height: number(tag, 'height') / scale,
        dashed: tag.includes('stroke-dasharray'),
      }));
  const words = [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map((match) => plain(match[1] ?? ''));
  return {
    boxes,
    /** The only piece of that name. */
    box(piece: string): ReadBox {
      const [found, ...more] = boxes(piece);
      if (found === undefined || more.length > 0) throw new Error(`${more.length + 1} of ${piece}, or none`);
      return found;
    },
    words,
    /** As one reads it, whatever line it was broken into. */
    text: words.join(' '),
    title: plain(/<title[^>]*>([^<]*)</.exec(svg)?.[1] ?? ''),
    description: plain(/<desc[^>]*>([^<]*)</.exec(svg)?.[1] ?? ''),
  };
}

/** To an inch, as the library draws unless told otherwise. */
const POINTS = 72;

/** Drawn by a parser that is not ours; as large as it says. */
export async function draws({ svg, paper }: Picture): Promise<void> {
  const { width, height } = await sharp(await sharp(Buffer.from(svg)).png().toBuffer()).metadata();
  expect(width / POINTS).toBeCloseTo(paper?.widthIn ?? NaN, 1);
  expect(height / POINTS).toBeCloseTo(paper?.heightIn ?? NaN, 1);
  // Letter and A4 leave about 7 in between their margins.
  expect(paper?.widthIn).toBeLessThan(7);
}

/** Digits to which inches are read back: markup has hundredths of a unit. */
export const CLOSE = 1;
