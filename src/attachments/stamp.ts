import { createRequire } from 'node:module';
import path from 'node:path';
import { createCanvas, GlobalFonts, loadImage } from '@napi-rs/canvas';

/** The name under which the letters of stamps and notes are known. */
export const LETTERS = 'Lintelbook letters';
const home = path.dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));
// A font that comes with the packages: servers often have none.
GlobalFonts.registerFromPath(path.join(home, 'standard_fonts/LiberationSans-Bold.ttf'), LETTERS);

/** Writes a line from corner to corner across a preview of ours. The file itself is never touched. */
export async function stampAcross(picture: Buffer, words: string): Promise<Buffer> {
  const image = await loadImage(picture);
  const { width, height } = image;
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  context.drawImage(image, 0, 0);
  const diagonal = Math.hypot(width, height);
  context.font = `100px ${LETTERS}`;
  const size = Math.min((diagonal * 0.75 * 100) / context.measureText(words).width, height * 0.25);
  context.font = `${size}px ${LETTERS}`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.translate(width / 2, height / 2);
  context.rotate(-Math.atan2(height, width));
  // White under red, so that it is read on dark and on light.
  context.lineWidth = size / 8;
  context.strokeStyle = 'rgba(255,255,255,0.85)';
  context.strokeText(words, 0, 0);
  context.fillStyle = 'rgba(170,0,0,0.85)';
  context.fillText(words, 0, 0);
  return canvas.encode('webp', 80);
}
