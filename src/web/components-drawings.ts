import {
  drawDiagrams,
  drawLayoutElevation,
  drawLoadPicture,
  drawNailingPattern,
  type DiagramPoint,
  type DrawnFastener,
  type Piece,
} from '../report/drawings/index.ts';

/** A wall 14'-2" long with an opening of 10'-10", as in the demo; for the living page of components only. */
const opening = { fromIn: 20, toIn: 150 };
const wall = { wallLengthIn: 170, wallHeightIn: 97.125 };
const datum = 'left cross wall, room face';

const pieces: readonly Piece[] = [
  { kind: 'plate', fromIn: 0, toIn: 20, bottomIn: 0, topIn: 1.5 },
  { kind: 'plate', fromIn: 150, toIn: 170, bottomIn: 0, topIn: 1.5 },
  ...[15.5, 17, 18.5].map((fromIn) => ({
    kind: 'jack' as const,
    fromIn,
    toIn: fromIn + 1.5,
    bottomIn: 1.5,
    topIn: 94.5,
  })),
  ...[150, 151.5, 153].map((fromIn) => ({
    kind: 'jack' as const,
    fromIn,
    toIn: fromIn + 1.5,
    bottomIn: 1.5,
    topIn: 94.5,
  })),
  { kind: 'king', fromIn: 14, toIn: 15.5, bottomIn: 1.5, topIn: 97.125 },
  { kind: 'king', fromIn: 154.5, toIn: 156, bottomIn: 1.5, topIn: 97.125 },
];
const beam: Piece = {
  kind: 'beam',
  fromIn: 15.5,
  toIn: 154.5,
  bottomIn: 94.5,
  topIn: 106.375,
  label: '3 plies 1 3/4" x 11 7/8" LVL 2.0E',
};

/** A simple span with an even load and one point, sampled by hand formulas. */
const spanIn = 134.5;
const evenLbPerIn = 60;
const point = { loadLb: 2100, atIn: 50 };
const leftLb = (evenLbPerIn * spanIn) / 2 + (point.loadLb * (spanIn - point.atIn)) / spanIn;
const shearAt = (x: number, after: boolean) =>
  leftLb - evenLbPerIn * x - (x > point.atIn || (x === point.atIn && after) ? point.loadLb : 0);
const momentAt = (x: number) =>
  leftLb * x - (evenLbPerIn * x * x) / 2 - (x > point.atIn ? point.loadLb * (x - point.atIn) : 0);
const places = Array.from({ length: 41 }, (_, index) => (spanIn * index) / 40);

const shear: readonly DiagramPoint[] = [
  ...places.filter((x) => x < point.atIn).map((atIn) => ({ atIn, value: shearAt(atIn, false) })),
  { atIn: point.atIn, value: shearAt(point.atIn, false) },
  { atIn: point.atIn, value: shearAt(point.atIn, true) },
  ...places.filter((x) => x > point.atIn).map((atIn) => ({ atIn, value: shearAt(atIn, true) })),
];
const moment: readonly DiagramPoint[] = [...places, point.atIn]
  .sort((a, b) => a - b)
  .map((atIn) => ({ atIn, value: momentAt(atIn) / 12 }));
const deflection: readonly DiagramPoint[] = places.map((atIn) => ({
  atIn,
  value: 0.31 * Math.sin((Math.PI * atIn) / spanIn),
}));

const nails: readonly DrawnFastener[] = Array.from({ length: 5 }, (_, place) => place).flatMap((place) => [
  { xIn: 3 + place * 12, yIn: 2, diameterIn: 0.162, from: 'near side' as const, violations: [] },
  { xIn: 3 + place * 12, yIn: 10, diameterIn: 0.162, from: 'near side' as const, violations: [] },
  ...(place < 4
    ? [{ xIn: 9 + place * 12, yIn: 6, diameterIn: 0.162, from: 'far side' as const, violations: [1] }]
    : []),
]);

export interface SampleDrawing {
  readonly svg: string;
  readonly caption: string;
}

export function componentsDrawings(): readonly SampleDrawing[] {
  return [
    {
      caption: 'Loads on the beam and where it stands',
      svg: drawLoadPicture({
        id: 'sample-loads',
        title: 'Loads on the beam',
        description:
          'A flush beam over a 10 ft 10 in opening, under floor, ceiling and upper wall loads and three roof braces.',
        datum,
        ...wall,
        opening,
        beam,
        pieces,
        lineLoads: [
          { kind: 'live', label: 'Floor joists', fromIn: 15.5, toIn: 154.5, startPlf: 520, endPlf: 520 },
          { kind: 'dead', label: 'Floor joists', fromIn: 15.5, toIn: 154.5, startPlf: 156, endPlf: 156 },
          { kind: 'dead', label: 'Upper wall', fromIn: 40, toIn: 154.5, startPlf: 64, endPlf: 64 },
          { kind: 'snow', label: 'Drift', fromIn: 15.5, toIn: 80, startPlf: 0, endPlf: 180 },
          { kind: 'uplift', label: 'Wind', fromIn: 15.5, toIn: 154.5, startPlf: 90, endPlf: 90 },
        ],
        pointLoads: [
          {
            label: 'Brace 1',
            atIn: 21,
            parts: [
              { kind: 'dead', loadLb: 937 },
              { kind: 'snow', loadLb: 1201 },
            ],
          },
          {
            label: 'Brace 2',
            atIn: 69,
            parts: [
              { kind: 'dead', loadLb: 937 },
              { kind: 'snow', loadLb: 1201 },
            ],
          },
          {
            label: 'Brace 3',
            atIn: 117,
            parts: [
              { kind: 'dead', loadLb: 937 },
              { kind: 'snow', loadLb: 1201 },
            ],
          },
        ],
        supports: [
          { atIn: 17.75, label: 'Left', reaction: 'D + 0.75 L + 0.75 S: 7,243 lb' },
          { atIn: 152.25, label: 'Right', reaction: 'D + 0.75 L + 0.75 S: 7,571 lb' },
        ],
      }),
    },
    {
      caption: 'Shear, moment and deflection',
      svg: drawDiagrams({
        id: 'sample-diagrams',
        title: 'Shear, moment and deflection',
        description: 'Moment is greatest near the middle, shear at the left support.',
        lengthIn: spanIn,
        supportsIn: [0, spanIn],
        panels: [
          { name: 'Shear', unit: 'lb', positiveIs: 'up', curves: [{ label: 'D + L', points: shear }] },
          { name: 'Moment', unit: 'lb-ft', positiveIs: 'up', curves: [{ label: 'D + L', points: moment }] },
          {
            name: 'Deflection',
            unit: 'in',
            positiveIs: 'down',
            curves: [{ label: 'L', points: deflection }],
          },
        ],
      }),
    },
    {
      caption: 'Nailing of the plies',
      svg: drawNailingPattern({
        id: 'sample-nails',
        title: 'Nailing of the plies',
        description: 'Two rows from this side, one row from the far side, spacing 12 in.',
        fastener: 'Nail 0.162 x 3 1/2 in',
        face: {
          widthIn: 54,
          heightIn: 11.875,
          members: [{ name: 'ply 1', material: 'wood', xIn: 0, yIn: 0, widthIn: 54, heightIn: 11.875 }],
          fasteners: nails,
          dimensions: [
            { label: 'end distance', fromXIn: 0, fromYIn: 2, toXIn: 3, toYIn: 2 },
            { label: 'spacing', fromXIn: 3, fromYIn: 2, toXIn: 15, toYIn: 2 },
            { label: 'edge distance', fromXIn: 3, fromYIn: 0, toXIn: 3, toYIn: 2 },
            { label: 'between rows', fromXIn: 3, fromYIn: 2, toXIn: 3, toYIn: 10 },
          ],
          cutAtIn: 54,
        },
        section: {
          widthIn: 5.25,
          heightIn: 3,
          members: ['ply 1', 'ply 2', 'ply 3'].map((name, index) => ({
            name: `${name}, LVL 2.0E, 1 3/4"`,
            material: 'wood' as const,
            xIn: index * 1.75,
            yIn: 0,
            widthIn: 1.75,
            heightIn: 3,
          })),
          shanks: [
            {
              headXIn: 0,
              headYIn: 2,
              tipXIn: 3.5,
              tipYIn: 2,
              diameterIn: 0.162,
              penetrationIn: 1.75,
              protrudesIn: 0,
            },
            {
              headXIn: 5.25,
              headYIn: 1,
              tipXIn: 1.75,
              tipYIn: 1,
              diameterIn: 0.162,
              penetrationIn: 1.75,
              protrudesIn: 0,
            },
          ],
        },
        violations: [
          {
            number: 1,
            view: 'face',
            kind: 'advice',
            sentence:
              'Rows from the two sides lie on one line with the grain; stagger them by half the spacing.',
            xIn: 9,
            yIn: 6,
          },
        ],
      }),
    },
    {
      caption: 'Marks to lay out, from one pull of the tape',
      svg: drawLayoutElevation({
        id: 'sample-layout',
        title: 'Layout marks',
        description: 'Marks for kings, jacks, beam ends and cut lines, each measured from the datum.',
        datum,
        ...wall,
        opening,
        pieces: [...pieces, beam],
        marks: [
          { atIn: 14, label: 'king, left face', kind: 'edge' },
          { atIn: 15.5, label: 'beam end, jacks begin', kind: 'edge' },
          { atIn: 20, label: 'plate', kind: 'cut' },
          { atIn: 85, label: 'middle of the opening', kind: 'centre' },
          { atIn: 150, label: 'plate', kind: 'cut' },
          { atIn: 154.5, label: 'beam end, jacks end', kind: 'edge' },
          { atIn: 156, label: 'king, right face', kind: 'edge' },
        ],
      }),
    },
  ];
}
