import { formatNumber } from '../../engineering/trace/quantity.ts';
import { finite, refuseUnless } from '../../engineering/trace/refusal.ts';
import { tape } from './dimensions.ts';
import { SHEET_WIDTH } from './elevation.ts';
import { labelRows, rowCount } from './label-rows.ts';
import { line, path, text } from './pens.ts';
import { coordinate, drawingFrame, element, group } from './svg.ts';
import type { DiagramModel, DiagramPanel, DiagramPoint } from './types.ts';

const SIDE = 48;
/** Room for the larger side of a curve. */
const REACH = 62;
const ROW = 16;
const HEADING = 24;

/** Where a panel's values lie on either side of its axis. */
interface Range {
  readonly above: number;
  readonly below: number;
}

function upward(panel: DiagramPanel, value: number): number {
  return panel.positiveIs === 'up' ? value : -value;
}

function rangeOf(panel: DiagramPanel): Range {
  let above = 0;
  let below = 0;
  for (const { value } of [...panel.curves.flatMap((curve) => curve.points), ...(panel.extremes ?? [])]) {
    above = Math.max(above, upward(panel, value));
    below = Math.max(below, -upward(panel, value));
  }
  return { above, below };
}

/** Highest and lowest of the points, leaving out a side that is nothing. */
function extremesOf(panel: DiagramPanel): readonly DiagramPoint[] {
  if (panel.extremes !== undefined) return panel.extremes;
  const all = panel.curves.flatMap((curve) => curve.points);
  let highest: DiagramPoint | undefined;
  let lowest: DiagramPoint | undefined;
  for (const point of all) {
    if (highest === undefined || point.value > highest.value) highest = point;
    if (lowest === undefined || point.value < lowest.value) lowest = point;
  }
  return [highest, lowest].filter((point): point is DiagramPoint => point !== undefined && point.value !== 0);
}

function checkPanel(panel: DiagramPanel): void {
  refuseUnless(panel.curves.length > 0, 'panels', `${panel.name} has no curve to draw.`);
  for (const curve of panel.curves) {
    refuseUnless(curve.points.length >= 2, 'panels', `${panel.name} needs at least two points.`);
    for (const point of curve.points) {
      finite(point.atIn, `${panel.name}.atIn`);
      finite(point.value, `${panel.name}.value`);
    }
  }
}

interface DrawnPanel {
  readonly markup: string;
  readonly height: number;
}

function drawPanel(
  panel: DiagramPanel,
  model: DiagramModel,
  top: number,
  toX: (inches: number) => number,
): DrawnPanel {
  checkPanel(panel);
  const range = rangeOf(panel);
  const largest = Math.max(range.above, range.below);
  const perValue = largest === 0 ? 0 : REACH / largest;

  const extremes = extremesOf(panel);
  const sides = [1, -1].map((side) => {
    const points = extremes.filter((point) => (upward(panel, point.value) >= 0 ? 1 : -1) === side);
    const labels = labelRows(
      points.map((point) => ({
        x: toX(point.atIn),
        words: `${formatNumber(point.value)} ${panel.unit} at ${tape(point.atIn)}`,
      })),
      SHEET_WIDTH,
      12,
    );
    return { side, points, labels };
  });
  const rowsAbove = rowCount(sides[0]?.labels ?? []);
  const rowsBelow = rowCount(sides[1]?.labels ?? []);
  const curveTop = top + HEADING + rowsAbove * ROW + 4;
  const axisY = curveTop + range.above * perValue + 6;
  const curveBottom = axisY + range.below * perValue + 6;
  const height = curveBottom + rowsBelow * ROW + 12 - top;
  const toY = (value: number) => axisY - upward(panel, value) * perValue;

  const curves = panel.curves.map((curve, index) => {
    const first = curve.points[0];
    const last = curve.points.at(-1);
    const along = curve.points.map((p) => `L${coordinate(toX(p.atIn))} ${coordinate(toY(p.value))}`).join('');
    const start = `M${coordinate(toX(first?.atIn ?? 0))} ${coordinate(axisY)}`;
    const end = `L${coordinate(toX(last?.atIn ?? 0))} ${coordinate(axisY)}`;
    // The first curve is filled; further ones (the other side of an envelope) are dashed.
    const fill =
      index === 0
        ? element('path', {
            d: `${start}${along}${end}Z`,
            class: 'dw-fill--wash',
            fill: '#dce8ec',
            stroke: 'none',
          })
        : '';
    return (
      fill +
      path(`${start}${along}${end}`, {
        tone: 'chalk',
        width: 1.75,
        ...(index === 0 ? {} : { dash: '7 4' }),
      })
    );
  });

  const marks = sides.flatMap(({ side, points, labels }) =>
    points.map((point, index) => {
      const label = labels[index];
      if (label === undefined) return '';
      const y = toY(point.value);
      const labelY = side === 1 ? curveTop - 4 - label.row * ROW : curveBottom + 12 + label.row * ROW;
      const leaderEnd = side === 1 ? labelY + 4 : labelY - 11;
      return (
        line(label.x, y, label.x, leaderEnd, { width: 0.5, tone: 'soft' }) +
        element('circle', { cx: label.x, cy: y, r: 3.5, class: 'dw-dot', fill: '#19252e' }) +
        text(label.middle, labelY, label.words, { anchor: 'middle', size: 12, bold: true })
      );
    }),
  );

  const supports = model.supportsIn.map((atIn) => {
    const x = toX(atIn);
    return path(`M${coordinate(x)} ${coordinate(axisY)}l-6 10h12Z`, { width: 1, fill: 'ink' });
  });

  const names =
    panel.curves.length > 1
      ? panel.curves.map((curve, index) => `${index === 0 ? 'filled' : 'dashed'}: ${curve.label}`).join('; ')
      : (panel.curves[0]?.label ?? '');
  const heading = text(SIDE, top + 14, `${panel.name}, ${panel.unit}`, { bold: true });
  const legend = text(SHEET_WIDTH - SIDE, top + 14, names, { anchor: 'end', size: 12, tone: 'soft' });
  return {
    height,
    markup: group(
      `dw-panel dw-panel--${panel.name.toLowerCase()}`,
      heading,
      legend,
      ...curves,
      line(toX(0) - 8, axisY, toX(model.lengthIn) + 8, axisY, { width: 1.25 }),
      ...supports,
      ...marks,
    ),
  };
}

/** Shear, moment and deflection along the beam, one panel each, all over the same positions. */
export function drawDiagrams(model: DiagramModel): string {
  refuseUnless(
    Number.isFinite(model.lengthIn) && model.lengthIn > 0,
    'lengthIn',
    'A beam without length has no diagrams.',
  );
  refuseUnless(model.panels.length > 0, 'panels', 'There is nothing to draw.');
  const unitsPerInch = (SHEET_WIDTH - 2 * SIDE) / model.lengthIn;
  const toX = (inches: number) => SIDE + inches * unitsPerInch;
  const parts: string[] = [];
  let y = 6;
  for (const panel of model.panels) {
    const drawn = drawPanel(panel, model, y, toX);
    parts.push(drawn.markup);
    y += drawn.height + 10;
  }
  return drawingFrame({ ...model, width: SHEET_WIDTH, height: y, unitsPerInch }, ...parts);
}
