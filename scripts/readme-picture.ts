import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { openingInputSchema } from '../src/engineering/proposal/input.ts';
import { beamLoadPicture } from '../src/report/pictures/index.ts';

const EXAMPLE = path.join(import.meta.dirname, 'examples', 'two-storey-flush-lvl.json');
export const README_PICTURE = EXAMPLE.replace(/json$/, 'svg');

/** The first worked input, drawn by the product's own code on a sheet of its own: it is read on dark pages, too. */
export async function readmePicture(): Promise<string> {
  const input = openingInputSchema.parse(JSON.parse(await readFile(EXAMPLE, 'utf8')));
  const { svg } = beamLoadPicture('opening', input);
  return `${svg.replace('</desc>', '</desc><rect width="100%" height="100%" fill="#fafaf6"/>')}\n`;
}

// node --import tsx scripts/readme-picture.ts
if (process.argv[1] === import.meta.filename) await writeFile(README_PICTURE, await readmePicture());
