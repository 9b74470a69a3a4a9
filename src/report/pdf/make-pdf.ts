import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import pdfmake from 'pdfmake';
import type { TDocumentDefinitions } from 'pdfmake/interfaces.js';

/** A free font that holds every sign of our formulas (⊥, ′, ∛, ≤, Greek, fractions); only the glyphs used are embedded. */
const folder = join(dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json')), 'ttf');
export const FONT_FILES = {
  normal: join(folder, 'DejaVuSansCondensed.ttf'),
  bold: join(folder, 'DejaVuSansCondensed-Bold.ttf'),
  italics: join(folder, 'DejaVuSansCondensed-Oblique.ttf'),
  bolditalics: join(folder, 'DejaVuSansCondensed-BoldOblique.ttf'),
} as const;

let ready = false;

/** Only the fonts are read: a document can name no other file and no address. */
function prepare(): void {
  if (ready) return;
  pdfmake.setFonts({ Sheet: FONT_FILES });
  pdfmake.setUrlAccessPolicy(() => false);
  pdfmake.setLocalAccessPolicy((path) => Object.values<string>(FONT_FILES).includes(path));
  ready = true;
}

/** A document as PDF bytes, fonts embedded, text selectable. */
export async function makePdf(definition: TDocumentDefinitions): Promise<Buffer> {
  prepare();
  return pdfmake.createPdf(definition).getBuffer();
}
