import { line, path, text, TEXT_SIZE, textWidth } from './pens.ts';
import { drawingFrame, element } from './svg.ts';

export interface TimelineMark {
  readonly title: string;
  /** Days after the first day of the picture. */
  readonly day: number;
  /** As people say it: 'May 9, 2026' */
  readonly dayWords: string;
  readonly is: 'done' | 'planned' | 'out of order';
}

export interface TimelinePicture {
  readonly id: string;
  readonly title: string;
  readonly marks: readonly TimelineMark[];
  readonly lastDay: number;
  readonly firstWords: string;
  readonly lastWords: string;
  /** Days after the first; null where it lies outside. */
  readonly today: number | null;
}

const ROW = 24;
const LABEL = 300;
const PLOT = 380;
const TOP = 44;
const MARGIN = 12;

/**
 * Steps on a line of days, to scale: done filled, planned open, out of order a filled point. Told apart by shape alone,
 * for a print in grey.
 */
export function drawTimeline(picture: TimelinePicture): string {
  const { marks, lastDay, today } = picture;
  const x = (day: number) => LABEL + (day / Math.max(1, lastDay)) * PLOT;
  const height = TOP + marks.length * ROW + MARGIN;
  const width = LABEL + PLOT + 3 * MARGIN;
  return drawingFrame(
    {
      id: picture.id,
      title: picture.title,
      description: marks.map(({ title, dayWords, is }) => `${title}: ${is}, ${dayWords}`).join('; '),
      width,
      height,
    },
    text(x(0), 16, picture.firstWords, { tone: 'soft' }),
    text(x(Math.max(1, lastDay)), 16, picture.lastWords, { tone: 'soft', anchor: 'end' }),
    line(x(0), 22, x(Math.max(1, lastDay)), 22, { tone: 'soft' }),
    ...(today === null
      ? []
      : [
          line(x(today), 22, x(today), height - MARGIN, { tone: 'chalk', dash: '3 3' }),
          text(x(today), 36, 'today', { tone: 'chalk', anchor: 'middle', size: 11 }),
        ]),
    ...marks.map((mark, index) => markDrawn(mark, TOP + index * ROW + ROW / 2, x(mark.day))),
  );
}

function markDrawn({ title, is }: TimelineMark, y: number, x: number): string {
  const shape =
    is === 'out of order'
      ? path(`M${x.toFixed(2)} ${(y - 8).toFixed(2)}l8 14h-16Z`, { fill: 'crayon', tone: 'crayon' })
      : element('circle', {
          cx: x,
          cy: y,
          r: 6,
          class: `dw-line dw-line--ink dw-fill--${is === 'done' ? 'ink' : 'none'}`,
          fill: is === 'done' ? '#19252e' : 'none',
          stroke: '#19252e',
          'stroke-width': 2,
        });
  const dots = line(textWidth(shortened(title)) + MARGIN, y, x - MARGIN, y, {
    tone: 'soft',
    width: 0.5,
    dash: '1 4',
  });
  return text(0, y + 4, shortened(title)) + dots + shape;
}

/** As much of it as there is room for; the table beside the picture has it whole. */
function shortened(title: string): string {
  const most = Math.floor((LABEL - 2 * MARGIN) / textWidth('n', TEXT_SIZE));
  return title.length > most ? `${title.slice(0, most - 1).trimEnd()}…` : title;
}
