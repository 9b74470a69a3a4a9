import { createCanvas, loadImage, type SKRSContext2D } from '@napi-rs/canvas';
import { LETTERS } from '../stamp.ts';
import type { Note } from './note.ts';

export interface Drawn {
  /** Its number, or a sign. */
  readonly ordinal: number | string;
  readonly note: Note;
}

/** By tenths, for notes; by squares with a letter and a number, for places of findings. */
export type Grid = 'tenths' | 'squares' | null;

/**
 * Draws notes, and for placing without script a grid, over a preview. On the server, so that it is seen and
 * printed without script; the file itself is never touched.
 */
export async function drawOver(picture: Buffer, notes: readonly Drawn[], grid: Grid): Promise<Buffer> {
  const image = await loadImage(picture);
  const { width, height } = image;
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  context.drawImage(image, 0, 0);
  const unit = Math.max(10, width / 60);
  if (grid !== null) drawGrid(context, width, height, unit, grid);
  for (const one of notes) drawNote(context, one, width, height, unit);
  return canvas.encode('webp', 80);
}

function drawGrid(
  context: SKRSContext2D,
  width: number,
  height: number,
  unit: number,
  grid: 'tenths' | 'squares',
): void {
  context.font = `${unit * 0.8}px ${LETTERS}`;
  context.lineWidth = 1;
  for (let tenth = 1; tenth < 10; tenth += 1) {
    const [x, y] = [(width * tenth) / 10, (height * tenth) / 10];
    context.strokeStyle = 'rgba(0,60,160,0.45)';
    context.beginPath();
    context.moveTo(x, 0);
    context.lineTo(x, height);
    context.moveTo(0, y);
    context.lineTo(width, y);
    context.stroke();
    if (grid === 'squares') continue;
    label(context, String(tenth * 10), x, unit, '#003ca0', unit);
    label(context, String(tenth * 10), unit, y, '#003ca0', unit);
  }
  if (grid === 'tenths') return;
  for (const [index, letter] of Array.from('ABCDEFGHIJ').entries()) {
    label(context, letter, (width * (index + 0.5)) / 10, unit, '#003ca0', unit);
    label(context, String(index + 1), unit, (height * (index + 0.5)) / 10, '#003ca0', unit);
  }
}

function label(
  context: SKRSContext2D,
  words: string,
  x: number,
  y: number,
  colour: string,
  unit: number,
): void {
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.lineWidth = unit / 4;
  context.strokeStyle = '#ffffff';
  context.strokeText(words, x, y);
  context.fillStyle = colour;
  context.fillText(words, x, y);
}

function drawNote(
  context: SKRSContext2D,
  { ordinal, note }: Drawn,
  width: number,
  height: number,
  unit: number,
): void {
  const [x, y] = [(note.leftPercent / 100) * width, (note.topPercent / 100) * height];
  if (note.shape !== 'pin') {
    const [toX, toY] = [(note.toLeftPercent / 100) * width, (note.toTopPercent / 100) * height];
    context.beginPath();
    if (note.shape === 'line') {
      context.moveTo(x, y);
      context.lineTo(toX, toY);
    } else if (note.shape === 'box') {
      context.rect(Math.min(x, toX), Math.min(y, toY), Math.abs(toX - x), Math.abs(toY - y));
    } else {
      const [halfX, halfY] = [Math.abs(toX - x) / 2, Math.abs(toY - y) / 2];
      context.ellipse((x + toX) / 2, (y + toY) / 2, halfX, halfY, 0, 0, Math.PI * 2);
    }
    // White under red, so that it is seen on dark and on light.
    for (const [lineWidth, colour] of [
      [unit / 2, '#ffffff'],
      [unit / 4, '#aa0000'],
    ] as const) {
      context.lineWidth = lineWidth;
      context.strokeStyle = colour;
      context.stroke();
    }
  }
  context.beginPath();
  context.arc(x, y, unit, 0, Math.PI * 2);
  context.fillStyle = '#aa0000';
  context.fill();
  context.lineWidth = unit / 6;
  context.strokeStyle = '#ffffff';
  context.stroke();
  context.font = `${unit * 1.1}px ${LETTERS}`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.fillStyle = '#ffffff';
  context.fillText(String(ordinal), x, y);
}
