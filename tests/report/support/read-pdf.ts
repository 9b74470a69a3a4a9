import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface PlacedText {
  readonly text: string;
  /** Where its base line begins, points from the lower left corner. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  /** What its letters cover on the page, from the foot of a letter to the top of a capital. */
  readonly box: Box;
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** DejaVu Sans: the height of a capital to the em. */
const CAPITAL = 0.73;

function boxOf(transform: readonly number[], width: number): Box {
  const [a = 1, b = 0, c = 0, d = 1, x = 0, y = 0] = transform;
  const along = Math.hypot(a, b) || 1;
  const corners = [0, width].flatMap((far) =>
    [0, CAPITAL].map((up) => ({ x: x + (a / along) * far + c * up, y: y + (b / along) * far + d * up })),
  );
  const xs = corners.map((corner) => corner.x);
  const ys = corners.map((corner) => corner.y);
  return { left: Math.min(...xs), right: Math.max(...xs), bottom: Math.min(...ys), top: Math.max(...ys) };
}

export interface ReadPdf {
  /** The words of each page. */
  readonly pages: readonly string[];
  readonly text: string;
  readonly placed: readonly (readonly PlacedText[])[];
  /** Width and height of the first page, points. */
  readonly size: readonly [number, number];
  /** Names of fonts used whose file is not in the PDF. */
  readonly missingFonts: readonly string[];
  readonly fonts: readonly string[];
}

interface LoadedFont {
  readonly name: string;
  readonly missingFile: boolean;
}

/** A PDF as an independent reader (pdf.js) sees it. */
export async function readPdf(pdf: Buffer): Promise<ReadPdf> {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  const placed: PlacedText[][] = [];
  const fonts = new Map<string, boolean>();
  let size: readonly [number, number] = [0, 0];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const { width, height } = page.getViewport({ scale: 1 });
    if (number === 1) size = [width, height];
    // Loads the fonts that the page draws with.
    await page.getOperatorList();
    const { items } = await page.getTextContent();
    const words = items.flatMap((item) => ('str' in item ? [item] : []));
    for (const { fontName } of words) {
      if (!page.commonObjs.has(fontName)) continue;
      const font = page.commonObjs.get(fontName) as LoadedFont;
      fonts.set(font.name, font.missingFile);
    }
    placed.push(
      words.map((one) => ({
        text: one.str,
        x: Number(one.transform[4]),
        y: Number(one.transform[5]),
        width: one.width,
        box: boxOf(one.transform as number[], one.width),
      })),
    );
  }
  await document.destroy();
  const pages = placed.map((page) =>
    page
      .map(({ text }) => text)
      .join(' ')
      .replace(/\s+/g, ' '),
  );
  return {
    pages,
    text: pages.join(' '),
    placed,
    size,
    missingFonts: [...fonts].flatMap(([name, missing]) => (missing ? [name] : [])),
    fonts: [...fonts.keys()],
  };
}
