import { line, path, text } from '../../../report/drawings/pens.ts';
import { coordinate, element } from '../../../report/drawings/svg.ts';

/** As wide as a phone shows it beside nothing else. */
export const WIDTH = 300;

/** A small drawing with one sentence for whoever does not see it. It has no ids: a page may show it twice. */
export function smallDrawing(height: number, says: string, ...inside: readonly string[]): string {
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${WIDTH} ${coordinate(height)}`,
      class: 'dw help__drawing',
      role: 'img',
      'aria-label': says,
      'font-family': "system-ui, 'Noto Sans', 'Liberation Sans', sans-serif",
    },
    ...inside,
  );
}

/** A dimension line between two points of one height, its words above the middle. */
export function across(fromX: number, toX: number, y: number, words: string): string {
  return (
    line(fromX, y, toX, y, { tone: 'chalk' }) +
    line(fromX, y - 5, fromX, y + 5, { tone: 'chalk' }) +
    line(toX, y - 5, toX, y + 5, { tone: 'chalk' }) +
    text((fromX + toX) / 2, y - 6, words, { anchor: 'middle', tone: 'chalk' })
  );
}

/** A dimension line between two heights, its words to the right. */
export function upright(x: number, fromY: number, toY: number, words: string): string {
  return (
    line(x, fromY, x, toY, { tone: 'chalk' }) +
    line(x - 5, fromY, x + 5, fromY, { tone: 'chalk' }) +
    line(x - 5, toY, x + 5, toY, { tone: 'chalk' }) +
    text(x + 8, (fromY + toY) / 2 + 4, words, { tone: 'chalk' })
  );
}

/** A thin line from words to what they name. */
export function pointer(fromX: number, fromY: number, toX: number, toY: number): string {
  return (
    line(fromX, fromY, toX, toY, { tone: 'soft' }) +
    path(`M${coordinate(toX - 2)} ${coordinate(toY)}a2 2 0 1 0 4 0a2 2 0 1 0 -4 0`, {
      tone: 'soft',
      fill: 'soft',
    })
  );
}

/** Oblique strokes over a part: what is counted, whatever the tone it is printed in. */
export function hatched(x: number, y: number, width: number, height: number): string {
  const strokes: string[] = [];
  for (let start = 8 - height; start < width; start += 10) {
    const from = Math.max(0, start);
    const to = Math.min(width, start + height);
    strokes.push(
      line(x + from, y + height - (from - start), x + to, y + height - (to - start), { tone: 'chalk' }),
    );
  }
  return strokes.join('');
}
