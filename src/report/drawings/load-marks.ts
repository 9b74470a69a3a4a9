import { formatNumber } from '../../engineering/trace/quantity.ts';
import { labelRows, rowCount, type PlacedLabel } from './label-rows.ts';
import { line, path, text, textWidth, verticalArrow, type LineStyle } from './pens.ts';
import { element, group } from './svg.ts';
import type { DrawnLineLoad, DrawnPointLoad, LoadKind } from './types.ts';

/** Symbols of the load kinds, ASCE 7 2.2. */
export const KIND_SYMBOL: Readonly<Record<LoadKind, string>> = {
  dead: 'D',
  live: 'L',
  roofLive: 'Lr',
  snow: 'S',
  wind: 'W',
  uplift: 'W up',
  selfWeight: 'D (own weight)',
};

const TONE: Readonly<Record<LoadKind, NonNullable<LineStyle['tone']>>> = {
  dead: 'ink',
  selfWeight: 'ink',
  live: 'chalk',
  roofLive: 'chalk',
  snow: 'chalk',
  wind: 'crayon',
  uplift: 'crayon',
};

/** The hatch of each kind: told apart without colour. `d` on an 8 x 8 tile. */
const HATCH: Readonly<Record<LoadKind, string>> = {
  dead: 'M0 2h8M0 6h8',
  selfWeight: 'M0 4h8',
  live: 'M-1 9 9 -1M-1 1 1 -1M7 9l2 -2',
  roofLive: 'M-1 -1 9 9M7 -1l2 2M-1 7l2 2',
  snow: 'M2 2h.01M6 6h.01',
  wind: 'M2 0v8M6 0v8',
  uplift: 'M-1 9 9 -1M-1 -1 9 9',
};

const COLOUR = { ink: '#19252e', soft: '#465661', chalk: '#1c5675', crayon: '#97390f' } as const;

const LANE_TEXT = 16;
const LANE_SHAPE = 22;
const LANE_GAP = 12;
export const LANE_HEIGHT = LANE_TEXT + LANE_SHAPE + LANE_GAP;

/** The hatches that the loads of one drawing use. */
export function hatchDefinitions(id: string, kinds: ReadonlySet<LoadKind>): string {
  const tiles = [...kinds].sort().map((kind) =>
    element(
      'pattern',
      { id: `${id}-${kind}`, width: 8, height: 8, patternUnits: 'userSpaceOnUse' },
      element('path', {
        d: HATCH[kind],
        class: `dw-line dw-line--${TONE[kind]}`,
        stroke: COLOUR[TONE[kind]],
        'stroke-width': kind === 'snow' ? 2.5 : 0.75,
        'stroke-linecap': kind === 'snow' ? 'round' : undefined,
        fill: 'none',
      }),
    ),
  );
  return tiles.length === 0 ? '' : element('defs', {}, ...tiles);
}

function loadWords(load: DrawnLineLoad): string {
  const size =
    load.startPlf === load.endPlf
      ? `${formatNumber(load.startPlf)} plf`
      : `${formatNumber(load.startPlf)} to ${formatNumber(load.endPlf)} plf`;
  return `${load.label}, ${KIND_SYMBOL[load.kind]}: ${size}`;
}

/** One load along the beam in its lane: a hatched band as high as its intensity, with arrows. */
export function lineLoadLane(
  id: string,
  load: DrawnLineLoad,
  laneTop: number,
  toX: (inches: number) => number,
  highestPlf: number,
): string {
  const left = toX(load.fromIn);
  const right = toX(load.toIn);
  const bottom = laneTop + LANE_TEXT + LANE_SHAPE;
  const rise = (plf: number) =>
    plf === 0 ? 0 : Math.max(4, (LANE_SHAPE * Math.abs(plf)) / Math.max(highestPlf, 1e-9));
  const startTop = bottom - rise(load.startPlf);
  const endTop = bottom - rise(load.endPlf);
  const d = [
    `M${left.toFixed(2)} ${bottom.toFixed(2)}`,
    `V${startTop.toFixed(2)}`,
    `L${right.toFixed(2)} ${endTop.toFixed(2)}`,
    `V${bottom.toFixed(2)}Z`,
  ].join('');
  const tone = TONE[load.kind];
  const band =
    element('path', { d, fill: `url(#${id}-${load.kind})`, stroke: 'none' }) + path(d, { tone, width: 1.25 });
  const count = Math.max(2, Math.min(24, Math.round((right - left) / 40) + 1));
  const heads = Array.from({ length: count }, (_, index) => {
    const x = left + ((right - left) * index) / (count - 1);
    return load.kind === 'uplift'
      ? verticalArrow(x, bottom, Math.min(startTop, endTop) - 7, { tone })
      : verticalArrow(x, bottom - 4, bottom + 6, { tone });
  });
  // Close above its own band, clear of the neighbour's arrows.
  const highest = Math.min(startTop, endTop) - (load.kind === 'uplift' ? 8 : 0);
  const words = text(left, highest - 5, loadWords(load), { size: 12 });
  return group(`dw-load dw-load--${load.kind}`, band, ...heads, words);
}

const ARROW = 38;
const ROW = 16;

function pointWords(load: DrawnPointLoad): string {
  const parts = load.parts.map((part) => `${KIND_SYMBOL[part.kind]} ${formatNumber(part.loadLb)}`).join(', ');
  return `${load.label}: ${parts} lb`;
}

/** A label in a further row gets a thin line down to its arrow, unless the line would cross nearer words. */
function leader(label: PlacedLabel, all: readonly PlacedLabel[], labelY: number, tailY: number): string {
  const crosses = all.some(
    (other) => other.row < label.row && Math.abs(other.middle - label.x) < textWidth(other.words, 12) / 2 + 2,
  );
  return label.row === 0 || crosses
    ? ''
    : line(label.x, labelY + 4, label.x, tailY, { width: 0.5, tone: 'soft' });
}

function drawPoint(
  load: DrawnPointLoad,
  label: PlacedLabel | undefined,
  all: readonly PlacedLabel[],
  bottomY: number,
): string {
  if (label === undefined) return '';
  const tailY = bottomY - ARROW;
  const labelY = tailY - label.row * ROW - 4;
  const up = load.parts.length > 0 && load.parts.every((part) => part.kind === 'uplift');
  const arrow = up
    ? verticalArrow(label.x, bottomY - 2, tailY + 4, { tone: 'crayon', width: 2 })
    : verticalArrow(label.x, tailY, bottomY, { width: 2 });
  return group(
    'dw-point',
    arrow,
    leader(label, all, labelY, tailY),
    text(label.middle, labelY, label.words, { anchor: 'middle', size: 12 }),
  );
}

export interface PointZone {
  readonly height: number;
  readonly draw: (bottomY: number) => string;
}

/** Point loads above the beam: an arrow each, labels in as many rows as it takes. */
export function pointLoadZone(
  loads: readonly DrawnPointLoad[],
  toX: (inches: number) => number,
  width: number,
): PointZone {
  const placed = labelRows(
    loads.map((load) => ({ x: toX(load.atIn), words: pointWords(load) })),
    width,
    12,
  );
  const rows = rowCount(placed);
  return {
    height: loads.length === 0 ? 0 : ARROW + rows * ROW + 4,
    draw: (bottomY) => loads.map((load, index) => drawPoint(load, placed[index], placed, bottomY)).join(''),
  };
}
