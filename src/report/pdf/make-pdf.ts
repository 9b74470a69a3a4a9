import pdfmake from 'pdfmake';
import type { TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { FONT_NAMES, FONT_STYLES, fontOf } from './fonts.ts';
import { readyForPaper } from './words-on-paper.ts';

let ready = false;

/**
 * The fonts are handed over in memory: a document can name no file and no address. Each goes under the name that it
 * has in itself, by which the text of drawings finds what the text of the page has opened.
 */
function prepare(): void {
  if (ready) return;
  for (const style of FONT_STYLES) pdfmake.virtualfs.writeFileSync(FONT_NAMES[style], fontOf(style));
  pdfmake.setFonts({ Sheet: { ...FONT_NAMES } });
  pdfmake.setUrlAccessPolicy(() => false);
  pdfmake.setLocalAccessPolicy(() => false);
  ready = true;
}

/** A document as PDF bytes, fonts embedded, text selectable. */
export async function makePdf(definition: TDocumentDefinitions): Promise<Buffer> {
  prepare();
  return pdfmake.createPdf(readyForPaper(definition)).getBuffer();
}
