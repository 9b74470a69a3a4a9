import { wrapWords } from '../label-rows.ts';
import { textWidth } from '../pens.ts';
import type { FigureNote } from './drawn-opening.ts';
import { boundsOf, onPaper, WORDS_IN, type Figure, type FigureMark, type Words } from './figure.ts';
import type { DrawingScale } from './scales.ts';

const TITLE_IN = 0.15;
/** Lengths for the bar, ft; the longest whose print is no longer than this. */
const BAR_FEET = [32, 16, 8, 4, 2, 1] as const;
const BAR_IN = 1.5;
const BAR_HIGH_IN = 0.07;
/** Notes are broken so that they stay under the drawing. */
const LEAST_NOTE_IN = 3.4;

type Captioned = Pick<Figure, 'name' | 'title' | 'description' | 'scale'>;

/** The finished view: its marks, and below them title, scale, scale bar and notes. */
export function withCaption(
  head: Captioned,
  marks: readonly FigureMark[],
  notes: readonly FigureNote[],
): Figure {
  const { scale, title } = head;
  const drawn = boundsOf(marks);
  const heightIn = onPaper(scale, WORDS_IN);
  const room = Math.max(drawn.right - drawn.left, onPaper(scale, LEAST_NOTE_IN));
  const titleIn = onPaper(scale, TITLE_IN);
  let y = drawn.bottom - titleIn * 1.9;
  const words = (text: string, at: number, rest: Partial<Words> = {}): Words => ({
    form: 'words',
    layer: 'NOTES',
    at: { x: drawn.left, y: at },
    anchor: 'start',
    text,
    heightIn,
    ...rest,
  });
  const caption: FigureMark[] = [words(title, y, { heightIn: titleIn, bold: true })];
  const scaleWords = `Scale ${scale.name}`;
  const wordsIn = textWidth(scaleWords, heightIn) + onPaper(scale, 0.2);
  const barX = wordsIn + onPaper(scale, BAR_IN);
  const beside = textWidth(title, titleIn) + onPaper(scale, 0.15);
  // Below the title where there is no room beside it.
  const x = beside + barX <= room ? drawn.left + beside : drawn.left;
  if (x === drawn.left) y -= heightIn * 2.2;
  caption.push(words(scaleWords, y, { at: { x, y } }), ...scaleBar(scale, x + wordsIn, y));
  y -= heightIn * 0.2;
  for (const note of notes) {
    for (const line of wrapWords(note.text, room, heightIn)) {
      y -= heightIn * 1.45;
      caption.push(words(line, y, note.warns === true ? { warns: true, bold: true } : {}));
    }
  }
  const all = [...marks, ...caption];
  return { ...head, marks: all, bounds: boundsOf(all) };
}

/** Two halves, the first filled, with 0, the half and the whole in feet: true at whatever size the sheet is printed. */
function scaleBar(scale: DrawingScale, x: number, y: number): FigureMark[] {
  const feet = BAR_FEET.find((one) => one * 12 * scale.paperPerInch <= BAR_IN) ?? 1;
  const half = (feet * 12) / 2;
  const height = onPaper(scale, BAR_HIGH_IN);
  const heightIn = onPaper(scale, WORDS_IN);
  const part = (from: number, filled: boolean): FigureMark => ({
    form: 'outline',
    layer: 'NOTES',
    x: from,
    y,
    width: half,
    height,
    piece: 'scale bar',
    ...(filled ? { hatching: 'steel' as const } : {}),
  });
  const label = (at: number, text: string): FigureMark => ({
    form: 'words',
    layer: 'NOTES',
    at: { x: at, y: y + height + heightIn * 0.35 },
    anchor: 'middle',
    text,
    heightIn: heightIn * 0.9,
  });
  return [
    part(x, true),
    part(x + half, false),
    label(x, '0'),
    label(x + half, feet === 1 ? '6"' : `${feet / 2}'`),
    label(x + 2 * half, `${feet}'`),
  ];
}
