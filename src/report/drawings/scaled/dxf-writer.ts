import {
  DxfWriter,
  HatchBoundaryPaths,
  HatchPolylineBoundary,
  HatchPredefinedPatterns,
  pattern,
  point2d,
  point3d,
  TextHorizontalAlignment,
  TextVerticalAlignment,
  Units,
  vertex,
} from '@tarikjabiri/dxf';
import {
  onPaper,
  type Bounds,
  type Figure,
  type FigureMark,
  type Layer,
  type Outline,
  type Stroke,
  type Words,
} from './figure.ts';
import { hatchSpacingIn, hatchStrokes, linesOf } from './parts.ts';

/** Color numbers of the open index (1 red … 7 black or white, 8 gray) and line types, by layer. */
const PENS: Readonly<Record<Layer, readonly [color: number, lineType: string]>> = {
  'EXISTING WALL': [8, 'Continuous'],
  PLATES: [30, 'Continuous'],
  'JACKS AND POSTS': [30, 'Continuous'],
  KINGS: [34, 'Continuous'],
  BEAM: [5, 'Continuous'],
  JOISTS: [8, 'Continuous'],
  HANGERS: [5, 'Continuous'],
  SHORING: [34, 'Continuous'],
  FOOTINGS: [6, 'Continuous'],
  'EXISTING CONCRETE': [8, 'Continuous'],
  'CUT LINES': [1, 'DASHED'],
  'CENTER LINES': [4, 'CENTER'],
  FLOOR: [7, 'Continuous'],
  DATUM: [2, 'CENTER'],
  DIMENSIONS: [3, 'Continuous'],
  NOTES: [7, 'Continuous'],
};

/** Of capitals, as DXF has it, to the em that figures have. */
const CAPITALS = 0.72;
/** Room between views that lie side by side, on paper. */
const BETWEEN_IN = 0.8;

/**
 * Text for one line of the file. A line break would begin a group of its own, and %% and ^ are signs of the format
 * in words.
 */
export function dxfWords(text: string): string {
  return text
    .replace(/[\p{Cc}\p{Zl}\p{Zp}\uFFFE\uFFFF]|[\uD800-\uDFFF]/gu, ' ')
    .replace(/%%/g, '% %')
    .replace(/\^/g, '’')
    .replace(/\\/g, '/');
}

/**
 * Views as one DXF file, full size in inches: the first where it is, so that its datum is the origin, the others
 * side by side to its right. Layers are named in words of the trade; dimensions are lines and words.
 */
export function figuresDxf(figures: readonly Figure[]): string {
  const file = new DxfWriter();
  file.setUnits(Units.Inches);
  // Inches as the unit of hatches and line types; lengths are read back as feet and fractions of an inch.
  file.setVariable('$MEASUREMENT', { 70: 0 });
  file.setVariable('$LUNITS', { 70: 4 });
  file.setVariable('$LUPREC', { 70: 4 });
  file.addLType('DASHED', 'Dashed __ __ __', [6, -3]);
  file.addLType('CENTER', 'Center ____ _ ____', [12, -2, 2, -2]);
  for (const [name, [color, lineType]] of Object.entries(PENS)) file.addLayer(name, color, lineType);
  const bounds: Bounds[] = [];
  let right: number | undefined;
  for (const figure of figures) {
    const offset = right === undefined ? 0 : right + onPaper(figure.scale, BETWEEN_IN) - figure.bounds.left;
    write(file, figure, offset);
    const { left, right: end, bottom, top } = figure.bounds;
    bounds.push({ left: left + offset, right: end + offset, bottom, top });
    right = end + offset;
  }
  file.setVariable('$EXTMIN', corner(bounds, 'left', 'bottom', Math.min));
  file.setVariable('$EXTMAX', corner(bounds, 'right', 'top', Math.max));
  return file.stringify();
}

function corner(
  bounds: readonly Bounds[],
  x: 'left' | 'right',
  y: 'bottom' | 'top',
  pick: (...values: number[]) => number,
) {
  if (bounds.length === 0) return { 10: 0, 20: 0, 30: 0 };
  return { 10: pick(...bounds.map((one) => one[x])), 20: pick(...bounds.map((one) => one[y])), 30: 0 };
}

function write(file: DxfWriter, figure: Figure, offset: number): void {
  const { scale } = figure;
  const line = ({ layer, from, to }: Stroke) => {
    file.addLine(point3d(from.x + offset, from.y), point3d(to.x + offset, to.y), { layerName: layer });
  };
  const words = (one: Words) => {
    const at = point3d(one.at.x + offset, one.at.y);
    file.addText(at, one.heightIn * CAPITALS, dxfWords(one.text), {
      layerName: one.layer,
      ...(one.upright === true ? { rotation: 90 } : {}),
      ...(one.anchor === 'start'
        ? {}
        : {
            horizontalAlignment:
              one.anchor === 'middle' ? TextHorizontalAlignment.Center : TextHorizontalAlignment.Right,
            verticalAlignment: TextVerticalAlignment.BaseLine,
            secondAlignmentPoint: at,
          }),
    });
  };
  const mark = (one: FigureMark): void => {
    switch (one.form) {
      case 'outline':
        outline(file, one, offset);
        if (one.hatching === 'end grain') hatchStrokes(one, scale).forEach(line);
        else if (one.hatching !== undefined) hatch(file, one, offset, hatchSpacingIn(one.hatching, scale));
        return;
      case 'stroke':
        line(one);
        return;
      case 'words':
        words(one);
        return;
      case 'dimension':
        linesOf(one, scale).forEach(line);
        words(one.words);
    }
  };
  figure.marks.forEach(mark);
}

function outline(file: DxfWriter, one: Outline, offset: number): void {
  const left = one.x + offset;
  file.addRectangle(point2d(left, one.y + one.height), point2d(left + one.width, one.y), {
    layerName: one.layer,
    ...(one.hidden === true ? { lineType: 'DASHED' } : {}),
  });
}

/** Of the format's own pattern ANSI31, 45° strokes that lie 1/8 in apart at scale 1. */
const STROKES_IN = 1 / 8;

function hatch(file: DxfWriter, one: Outline, offset: number, spacingIn: number): void {
  const edge = new HatchPolylineBoundary();
  const left = one.x + offset;
  edge.add(vertex(left, one.y));
  edge.add(vertex(left + one.width, one.y));
  edge.add(vertex(left + one.width, one.y + one.height));
  edge.add(vertex(left, one.y + one.height));
  const paths = new HatchBoundaryPaths();
  paths.addPolylineBoundary(edge);
  const name = HatchPredefinedPatterns.ANSI31;
  file.addHatch(paths, pattern({ name, scale: spacingIn / STROKES_IN }), { layerName: one.layer });
}
