import { box, line, text, textWidth } from './pens.ts';
import { drawingFrame } from './svg.ts';

/** Sticks that are cut alike. */
export interface CutStick {
  readonly times: number;
  readonly stockIn: number;
  readonly piecesIn: readonly number[];
  readonly leftIn: number;
}

export interface CutPlanInput {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly kerfIn: number;
  readonly endTrimIn: number;
  readonly sticks: readonly CutStick[];
  /** A length as the trade writes it. */
  readonly words: (inches: number) => string;
}

const LEFT = 96;
const BAR = 720;
const ROW = 54;
const HEIGHT = 26;
const TOP = 14;

/** Which piece from which stick: one bar for each way of cutting, to scale, what is left over hatched away by a dash. */
export function drawCutPlan(input: CutPlanInput): string {
  const { sticks, kerfIn, endTrimIn, words } = input;
  const longest = Math.max(1, ...sticks.map((stick) => stick.stockIn));
  const scale = BAR / longest;
  const rows = sticks.map((stick, index) => {
    const y = TOP + index * ROW;
    const parts = [
      text(LEFT - 10, y + 17, `${stick.times} × ${words(stick.stockIn)}`, { anchor: 'end', bold: true }),
      box({ x: LEFT, y, width: stick.stockIn * scale, height: HEIGHT }, 'sheet', { dash: '4 3' }),
    ];
    // The first inch is trimmed square where more than one piece comes from the stick.
    let at = stick.piecesIn.length > 1 ? endTrimIn : 0;
    stick.piecesIn.forEach((piece, place) => {
      const x = LEFT + at * scale;
      const width = piece * scale;
      parts.push(box({ x, y, width, height: HEIGHT }, 'lumber', { name: `piece-${index}-${place}` }));
      const label = words(piece);
      const fits = textWidth(label, 12) + 6 <= width;
      parts.push(
        fits
          ? text(x + width / 2, y + 17, label, { anchor: 'middle', size: 12 })
          : text(x + 2, y + HEIGHT + 13, label, { size: 11 }),
      );
      at += piece + kerfIn;
    });
    if (stick.leftIn > 0.5) {
      const end = LEFT + stick.stockIn * scale;
      const label = `left ${words(stick.leftIn)}`;
      parts.push(text(end, y + HEIGHT + 13, label, { anchor: 'end', size: 11, tone: 'soft' }));
      parts.push(line(end - stick.leftIn * scale, y + HEIGHT / 2, end, y + HEIGHT / 2, { tone: 'soft' }));
    }
    return parts.join('');
  });
  return drawingFrame(
    {
      id: input.id,
      title: input.title,
      description: input.description,
      width: LEFT + BAR + 20,
      height: TOP + sticks.length * ROW + 6,
      unitsPerInch: scale,
    },
    ...rows,
  );
}
