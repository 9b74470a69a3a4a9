import type {
  DiagramModel,
  LayoutElevationModel,
  LoadPictureModel,
  NailingPatternModel,
  Piece,
} from '../../../src/report/drawings/index.ts';

/** A label that breaks out of markup wherever it is not escaped. */
export const HOSTILE = `"><script>alert('x')</script>&lt;\u0000\ud800]]><!--`;

const wall = {
  wallLengthIn: 170,
  wallHeightIn: 97.125,
  opening: { fromIn: 20, toIn: 150 },
  datum: 'left wall',
};

export const beam: Piece = {
  kind: 'beam',
  fromIn: 15.5,
  toIn: 154.5,
  bottomIn: 94.5,
  topIn: 106.375,
  label: '3-ply LVL',
};
const jacks: readonly Piece[] = [
  { kind: 'jack', fromIn: 15.5, toIn: 20, bottomIn: 1.5, topIn: 94.5, label: 'jacks' },
  { kind: 'jack', fromIn: 150, toIn: 154.5, bottomIn: 1.5, topIn: 94.5, label: 'jacks' },
];

export function loadPicture(label = 'Brace'): LoadPictureModel {
  return {
    id: 'loads',
    title: `Loads ${label}`,
    description: `What stands on it: ${label}`,
    ...wall,
    datum: label,
    beam: { ...beam, label },
    pieces: jacks,
    lineLoads: [
      { kind: 'dead', label, fromIn: 15.5, toIn: 154.5, startPlf: 156, endPlf: 156 },
      { kind: 'live', label, fromIn: 15.5, toIn: 154.5, startPlf: 520, endPlf: 520 },
      { kind: 'uplift', label, fromIn: 20, toIn: 60, startPlf: 0, endPlf: 90 },
    ],
    pointLoads: [
      { label, atIn: 69, parts: [{ kind: 'dead', loadLb: 937 }] },
      { label, atIn: 71, parts: [{ kind: 'snow', loadLb: 1201 }] },
    ],
    supports: [
      { atIn: 17.75, label, reaction: label },
      { atIn: 152.25, label },
    ],
  };
}

/** Simple span under an even load: M = w·x·(L − x) / 2. */
export function diagrams(label = 'D + L'): DiagramModel {
  const lengthIn = 120;
  const loadLbPerIn = 50;
  const places = Array.from({ length: 21 }, (_, index) => (lengthIn * index) / 20);
  return {
    id: 'diagrams',
    title: `Diagrams ${label}`,
    description: label,
    lengthIn,
    supportsIn: [0, lengthIn],
    panels: [
      {
        name: 'Shear',
        unit: 'lb',
        positiveIs: 'up',
        curves: [
          { label, points: places.map((atIn) => ({ atIn, value: loadLbPerIn * (lengthIn / 2 - atIn) })) },
          {
            label: `${label} 2`,
            points: places.map((atIn) => ({ atIn, value: 20 * (lengthIn / 2 - atIn) })),
          },
        ],
      },
      {
        name: 'Moment',
        unit: 'lb-in',
        positiveIs: 'up',
        curves: [
          {
            label,
            points: places.map((atIn) => ({ atIn, value: (loadLbPerIn * atIn * (lengthIn - atIn)) / 2 })),
          },
        ],
      },
      {
        name: 'Deflection',
        unit: 'in',
        positiveIs: 'down',
        curves: [
          { label, points: places.map((atIn) => ({ atIn, value: Math.sin((Math.PI * atIn) / lengthIn) })) },
        ],
        extremes: [{ atIn: 60, value: 1 }],
      },
    ],
  };
}

export function nailing(label = 'ply'): NailingPatternModel {
  return {
    id: 'nails',
    title: `Nails ${label}`,
    description: label,
    fastener: label,
    face: {
      widthIn: 48,
      heightIn: 11.875,
      members: [{ name: label, material: 'wood', xIn: 0, yIn: 0, widthIn: 48, heightIn: 11.875 }],
      fasteners: [
        { xIn: 6, yIn: 2, diameterIn: 0.162, from: 'near side', violations: [] },
        { xIn: 18, yIn: 2, diameterIn: 0.162, from: 'near side', violations: [] },
        { xIn: 12, yIn: 9.875, diameterIn: 0.162, from: 'far side', violations: [1] },
      ],
      dimensions: [
        { label: 'end distance', fromXIn: 0, fromYIn: 2, toXIn: 6, toYIn: 2 },
        { label: 'spacing', fromXIn: 6, fromYIn: 2, toXIn: 18, toYIn: 2 },
        { label: 'edge distance', fromXIn: 6, fromYIn: 0, toXIn: 6, toYIn: 2 },
      ],
      cutAtIn: 48,
    },
    section: {
      widthIn: 3.5,
      heightIn: 4,
      members: [0, 1].map((index) => ({
        name: label,
        material: 'wood' as const,
        xIn: index * 1.75,
        yIn: 0,
        widthIn: 1.75,
        heightIn: 4,
      })),
      shanks: [
        {
          headXIn: 0,
          headYIn: 2,
          tipXIn: 3,
          tipYIn: 2,
          diameterIn: 0.162,
          penetrationIn: 1.25,
          protrudesIn: 0,
        },
      ],
    },
    violations: [{ number: 1, view: 'face', sentence: label, kind: 'rule', xIn: 12, yIn: 9.875 }],
  };
}

export function layout(label = 'jack'): LayoutElevationModel {
  return {
    id: 'layout',
    title: `Layout ${label}`,
    description: label,
    ...wall,
    datum: label,
    pieces: [...jacks, { ...beam, label }],
    marks: [
      { atIn: 20, label, kind: 'cut' },
      { atIn: 15.5, label, kind: 'edge' },
      { atIn: 14, label, kind: 'edge' },
      { atIn: 85, label, kind: 'centre' },
    ],
  };
}
