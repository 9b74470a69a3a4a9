import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Page } from 'playwright-core';

/** A page as the browser prints it. */
export interface Paper {
  readonly words: string;
  readonly pages: number;
  /** Of the first sheet, in points. */
  readonly size: readonly [number, number];
}

/** Prints a page and reads the paper back. */
export async function paperOf(page: Page, format: 'A4' | 'Letter'): Promise<Paper> {
  const bytes = await page.pdf({ format });
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const words: string[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { items } = await (await pdf.getPage(number)).getTextContent();
    words.push(...items.map((item) => ('str' in item ? item.str : '')));
  }
  const { width, height } = (await pdf.getPage(1)).getViewport({ scale: 1 });
  await pdf.destroy();
  return {
    words: words.join(' ').replaceAll(/\s+/g, ' '),
    pages: words.length === 0 ? 0 : pdf.numPages,
    size: [Math.round(width), Math.round(height)],
  };
}
