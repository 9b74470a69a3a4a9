import { wrapWords } from '../label-rows.ts';
import { onPaper, WORDS_IN, type FigureMark } from './figure.ts';
import type { DrawingScale } from './scales.ts';

/** A name to be written beside the drawing, and the point on the piece that it names. */
export interface NamedPoint {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  /** Must not be overlooked. */
  readonly warns?: boolean;
}

const WIDTH_IN = 1.5;
const LINE = 1.35;

/** Names in a column to the right of x, each level with its piece or lower where others need the room, with a leader. */
export function besideWords(names: readonly NamedPoint[], x: number, scale: DrawingScale): FigureMark[] {
  const heightIn = onPaper(scale, WORDS_IN);
  const column = x + onPaper(scale, 0.3);
  const marks: FigureMark[] = [];
  let free = Infinity;
  for (const name of [...names].sort((a, b) => b.y - a.y)) {
    const lines = wrapWords(name.text, onPaper(scale, WIDTH_IN), heightIn);
    const first = Math.min(name.y - heightIn * 0.35, free - heightIn * LINE);
    marks.push({
      form: 'stroke',
      layer: 'NOTES',
      from: { x: name.x, y: name.y },
      to: { x: column - heightIn * 0.4, y: first + heightIn * 0.35 },
    });
    lines.forEach((text, index) =>
      marks.push({
        form: 'words',
        layer: 'NOTES',
        at: { x: column, y: first - index * heightIn * LINE },
        anchor: 'start',
        text,
        heightIn,
        ...(name.warns === true ? { warns: true, bold: true } : {}),
      }),
    );
    free = first - (lines.length - 1) * heightIn * LINE - heightIn * 0.5;
  }
  return marks;
}
