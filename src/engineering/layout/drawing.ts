import { formatFeetInches } from '../units/index.ts';
import { refuseUnless } from '../trace/index.ts';
import { DRESSED_2X_IN } from './measured.ts';
import type { OpeningLayout } from './opening-layout.ts';
import type { Footing } from '../proposal/design.ts';

/** A drawing as plain data, full size: inches, x to the right, y up. Whoever shows it picks scale and pens. */
export interface Drawing {
  readonly title: string;
  readonly rectangles: readonly DrawnRectangle[];
  readonly lines: readonly DrawnLine[];
  readonly dimensions: readonly DrawnDimension[];
  readonly labels: readonly DrawnLabel[];
  readonly bounds: {
    readonly left: number;
    readonly bottom: number;
    readonly right: number;
    readonly top: number;
  };
}

export interface DrawnRectangle {
  readonly id: string;
  readonly kind: 'wall' | 'opening' | 'jack' | 'king' | 'post' | 'beam' | 'plate' | 'pad';
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface DrawnLine {
  readonly id: string;
  readonly kind: 'datum' | 'floor' | 'cut' | 'centre';
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

/** Measured along the line from 1 to 2; drawn `offset` inches to its left. */
export interface DrawnDimension {
  readonly id: string;
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly offset: number;
  readonly text: string;
}

export interface DrawnLabel {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

type Draft = Omit<Drawing, 'bounds'>;

const tape = (inches: number) => formatFeetInches(inches, { to: 16 });

/** Elevation of the opening from the front: wall, pieces, cut lines, running dimensions from the datum. */
export function elevationDrawing(layout: OpeningLayout): Drawing {
  const { beam, opening, wallHeightIn, wallLengthIn } = layout;
  const cuts = layout.marks.filter((mark) => mark.kind === 'cut');
  return bounded({
    title: 'Elevation of the opening',
    rectangles: [
      { id: 'wall', kind: 'wall', x: 0, y: 0, width: wallLengthIn, height: wallHeightIn },
      {
        id: 'opening',
        kind: 'opening',
        x: opening.fromIn,
        y: 0,
        width: opening.toIn - opening.fromIn,
        height: beam.undersideIn,
      },
      ...layout.pieces.map((piece, index) => ({
        id: `piece.${index + 1}`,
        kind: piece.kind,
        x: piece.fromIn,
        y: piece.bottomIn,
        width: piece.toIn - piece.fromIn,
        height: piece.topIn - piece.bottomIn,
      })),
    ],
    lines: [
      { id: 'datum', kind: 'datum', x1: 0, y1: -6, x2: 0, y2: wallHeightIn + 6 },
      { id: 'floor', kind: 'floor', x1: 0, y1: 0, x2: wallLengthIn, y2: 0 },
      ...cuts.map((mark) => {
        const top = mark.id.startsWith('cut.top-plate');
        const plates = top ? 2 * DRESSED_2X_IN : DRESSED_2X_IN;
        const y = top ? wallHeightIn - plates : 0;
        return {
          id: mark.id,
          kind: 'cut' as const,
          x1: mark.atIn,
          y1: y - 2,
          x2: mark.atIn,
          y2: y + plates + 2,
        };
      }),
    ],
    dimensions: [
      ...layout.marks.map((mark) => ({
        id: `running.${mark.id}`,
        x1: 0,
        y1: 0,
        x2: mark.atIn,
        y2: 0,
        offset: -6 * mark.order,
        text: mark.tape,
      })),
      {
        id: 'clear',
        x1: opening.fromIn,
        y1: beam.undersideIn,
        x2: opening.toIn,
        y2: beam.undersideIn,
        offset: -12,
        text: `${tape(opening.toIn - opening.fromIn)} clear`,
      },
      {
        id: 'beam.length',
        x1: beam.fromIn,
        y1: beam.undersideIn + beam.depthIn,
        x2: beam.toIn,
        y2: beam.undersideIn + beam.depthIn,
        offset: 12,
        text: tape(beam.lengthIn),
      },
      {
        id: 'underside',
        x1: opening.fromIn,
        y1: 0,
        x2: opening.fromIn,
        y2: beam.undersideIn,
        offset: -18,
        text: tape(beam.undersideIn),
      },
    ].filter((dimension) => dimension.x1 !== dimension.x2 || dimension.y1 !== dimension.y2),
    labels: layout.pieces.map((piece) => ({
      x: (piece.fromIn + piece.toIn) / 2,
      y: (piece.bottomIn + piece.topIn) / 2,
      text: piece.label,
    })),
  });
}

/** Section across the wall at one support: plate, pack, beam, pad; x from the middle of the wall, front to the left. */
export function sectionDrawing(
  layout: OpeningLayout,
  end: 'left' | 'right',
  footings: readonly Footing[] = [],
): Drawing {
  const { beam } = layout;
  const pack = layout.packs.find((one) => one.end === end);
  refuseUnless(pack !== undefined, `supports.${end}`, `There is no ${end} support to cut through.`);
  const pad = footings.find((footing) => footing.end === end)?.pad;
  const centred = (id: string, kind: DrawnRectangle['kind'], width: number, y: number, height: number) => ({
    id,
    kind,
    x: -width / 2,
    y,
    width,
    height,
  });
  const first = pack.plies[0];
  const cutAt = layout.joistCutFromMiddleIn;
  const top = beam.undersideIn + beam.depthIn;
  return bounded({
    title: `Section at the ${end} support`,
    rectangles: [
      ...(pad === undefined ? [] : [centred('pad', 'pad', pad.widthIn, -pad.thicknessIn, pad.thicknessIn)]),
      centred('plate', 'plate', layout.wallThicknessIn, 0, DRESSED_2X_IN),
      ...(first === undefined
        ? []
        : [centred('pack', first.kind, pack.widthIn, DRESSED_2X_IN, first.lengthIn)]),
      centred('beam', 'beam', beam.widthIn, beam.undersideIn, beam.depthIn),
    ],
    lines: [
      { id: 'middle', kind: 'centre', x1: 0, y1: -6, x2: 0, y2: top + 12 },
      { id: 'floor', kind: 'floor', x1: -24, y1: 0, x2: 24, y2: 0 },
      ...(cutAt === undefined
        ? []
        : ([-1, 1] as const).map((sign) => ({
            id: sign === -1 ? 'cut.joist.front' : 'cut.joist.rear',
            kind: 'cut' as const,
            x1: sign * cutAt,
            y1: beam.undersideIn - 4,
            x2: sign * cutAt,
            y2: top + 4,
          }))),
    ],
    dimensions: [
      {
        id: 'beam.width',
        x1: -beam.widthIn / 2,
        y1: top,
        x2: beam.widthIn / 2,
        y2: top,
        offset: 8,
        text: tape(beam.widthIn),
      },
      {
        id: 'beam.depth',
        x1: beam.widthIn / 2,
        y1: beam.undersideIn,
        x2: beam.widthIn / 2,
        y2: top,
        offset: -10,
        text: tape(beam.depthIn),
      },
      {
        id: 'underside',
        x1: -layout.wallThicknessIn / 2,
        y1: 0,
        x2: -layout.wallThicknessIn / 2,
        y2: beam.undersideIn,
        offset: 12,
        text: tape(beam.undersideIn),
      },
    ],
    labels: [
      {
        x: 0,
        y: beam.undersideIn + beam.depthIn / 2,
        text: beam.pieces.map((piece) => piece.label).join(' + '),
      },
      { x: 0, y: DRESSED_2X_IN + pack.heightIn / 2, text: `${end} pack` },
    ],
  });
}

function bounded(draft: Draft): Drawing {
  const xs = [
    ...draft.rectangles.flatMap((r) => [r.x, r.x + r.width]),
    ...[...draft.lines, ...draft.dimensions].flatMap((line) => [line.x1, line.x2]),
  ];
  const ys = [
    ...draft.rectangles.flatMap((r) => [r.y, r.y + r.height]),
    ...[...draft.lines, ...draft.dimensions].flatMap((line) => [line.y1, line.y2]),
  ];
  return {
    ...draft,
    bounds: { left: Math.min(...xs), bottom: Math.min(...ys), right: Math.max(...xs), top: Math.max(...ys) },
  };
}
