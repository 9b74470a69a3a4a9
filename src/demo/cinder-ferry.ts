import type { FasteningRow } from '../engineering/fasteners/schedule/row.ts';
import type { Criteria } from '../engineering/proposal/criteria.ts';
import type { Beam, Footing, Hanger, Support } from '../engineering/proposal/design.ts';
import type { Brace, Survey } from '../engineering/proposal/survey.ts';

/** The invented town lies in no state; its river runs to the Pacific. */
export const demoTimeZone = 'America/Los_Angeles';

/** "Cinder Ferry", an invented house in an invented town: 1969, two storeys on a slab, 26 x 44 ft. Invented data. */
export const demoCriteria: Criteria = {
  editions: { asce7: '7-16', nds: '2018', irc: '2021', aci318: '318-19', aisc360: '360-16' },
  groundSnowPsf: 30,
  snowExposureFactor: 1,
  snowThermalFactor: 1.1,
  snowImportanceFactor: 1,
  windUpliftPsf: 0,
  windWallPsf: 0,
  soilBearingPsf: 1500,
  liveDeflectionRatio: 360,
  totalDeflectionRatio: 240,
};

/** Stations 1'-9", 5'-9", 9'-9" from the left face of the opening, which is 1'-8" from the datum. */
const braces: Brace[] = [41, 89, 137].flatMap((positionIn, index): Brace[] => [
  {
    id: `brace-f${index + 1}`,
    label: `Front brace ${index + 1}`,
    evidence: 'measured',
    side: 'front',
    positionIn,
    angleDeg: 53,
    lengthIn: 80.4,
    tributaryFt2: 26,
  },
  {
    id: `brace-r${index + 1}`,
    label: `Rear brace ${index + 1}`,
    evidence: 'measured',
    side: 'rear',
    positionIn,
    angleDeg: 55,
    lengthIn: 93.6,
    tributaryFt2: 26,
  },
]);

export const demoSurvey: Survey = {
  datum: 'left cross wall, room face',
  wallLengthIn: 170,
  wallThicknessIn: 5.5,
  wallHeightIn: 97.125,
  openingFromIn: 20,
  openingToIn: 150,
  wallIsExterior: false,
  below: 'slab',
  storeysAbove: 1,
  roof: { riseIn12: 8, frontEaveToRidgeIn: 156, rearEaveToRidgeIn: 156, deadOnSlopePsf: 15, slippery: false },
  strips: [
    {
      id: 'upper-floor',
      label: 'Upper floor',
      evidence: 'measured',
      carries: 'floor',
      frontSpanIn: 144,
      rearSpanIn: 168,
      overWall: 'lapped',
      spacingIn: 16,
      deadPsf: 12,
      livePsf: 30,
    },
    {
      id: 'attic',
      label: 'Attic ceiling',
      evidence: 'from plans',
      carries: 'ceiling',
      frontSpanIn: 144,
      rearSpanIn: 168,
      overWall: 'lapped',
      spacingIn: 16,
      deadPsf: 8,
      livePsf: 10,
    },
  ],
  wallsAbove: [
    {
      id: 'upper-wall',
      label: 'Upper wall',
      evidence: 'measured',
      fromIn: 0,
      toIn: 170,
      heightIn: 96,
      deadPsf: 8,
    },
  ],
  braces,
  landings: [],
};

/** Temporary walls on both sides as the contractor always builds them; how far up they go is the opening's own. */
export const demoShoring = {
  sides: 'both',
  studSize: '2x4',
  species: 'DF-L',
  grade: 'No.2',
  studSpacingIn: 16,
  midHeightBracingIn: 48,
  topPlates: 2,
  soleOn: 'slab',
} as const;

/** The hangers that the yard has, by an invented listing. */
export const demoHangers: readonly Hanger[] = (['front', 'rear'] as const).map((side) => ({
  side,
  joistSize: '2x10',
  spacingIn: 16,
  nailCount: 16,
  nailDiameterIn: 0.148,
  nailLengthIn: 3,
  listing: {
    report: 'Sheet H-210 (invented)',
    downLb: 1190,
    upLb: 720,
    nailsRequired: 16,
    nailDiameterIn: 0.148,
    nailLengthIn: 3,
    shortNailsAllowed: false,
  },
}));

export const demoBeam: Beam = {
  placement: 'flush',
  member: { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 9.5, plies: 3 },
  bearingLeftIn: 3,
  bearingRightIn: 3,
};

export const demoSupports: Support[] = (['left', 'right'] as const).map((end) => ({
  end,
  kind: 'built-up',
  species: 'DF-L',
  grade: 'No.2',
  size: '2x6',
  jacks: 2,
  kings: 1,
  heightIn: 95.625,
  fastening: 'nailed',
  plateSpecies: 'HF',
  plateGrade: 'No.2',
}));

export const demoFootings: Footing[] = [
  {
    end: 'left',
    found: 'cored',
    foundWidthIn: 16,
    foundThicknessIn: 9.75,
    postTensioned: 'no',
    concretePsi: 2500,
  },
  {
    end: 'right',
    found: 'cored',
    foundWidthIn: 16,
    foundThicknessIn: 4.25,
    postTensioned: 'no',
    concretePsi: 2500,
  },
];

const ply = (name: string) => ({
  name,
  material: 'wood' as const,
  species: 'LVL 2.0E',
  thicknessIn: 1.75,
  widthIn: 9.5,
  specificGravity: 0.5,
  angleDeg: 90,
});
const stud = (name: string) => ({
  name,
  material: 'wood' as const,
  species: 'DF-L No.2',
  thicknessIn: 1.5,
  widthIn: 5.5,
  specificGravity: 0.5,
  angleDeg: 0,
});

const dry: FasteningRow['conditions'] = { madeWhen: 'dry', usedWhen: 'dry', temperatureF: 75 };

const common = {
  betweenIn: 0,
  prebored: false,
  inDiaphragm: false,
  conditions: dry,
  note: '',
} as const;

export const demoRows: { key: string; title: string; content: FasteningRow }[] = [
  {
    key: 'N1',
    title: 'Beam plies',
    content: {
      ...common,
      id: 'n1',
      joint: 'beam plies',
      where: 'Beam, full length',
      members: [ply('outer ply'), ply('next ply')],
      layup: 'each to the next',
      fastener: { kind: 'nail', style: 'box', diameterIn: 0.128, lengthIn: 3 },
      method: 'face',
      driven: 'both sides',
      pattern: { kind: 'spaced', lengthIn: 136, rows: 2, spacingIn: 12, rowSpacingIn: 5, staggered: true },
      edgeDistanceIn: 2,
      endDistanceIn: 2.5,
      endLoading: 'across grain',
      loadRuns: 'across rows',
      demand: {
        per: 'foot',
        lateralPlf: 280,
        withdrawalPlf: 0,
        durationFactor: 1,
        combination: 'D + L',
        source: 'Two thirds of the heavier side load crosses the outer interface (420 plf).',
      },
      basis: { kind: 'yield limit', shear: 'single' },
    },
  },
  {
    key: 'N4',
    title: 'Jacks and king',
    content: {
      ...common,
      id: 'n4',
      joint: 'jack to king',
      where: 'Both packs',
      members: [stud('king'), stud('jack')],
      layup: 'each to the next',
      fastener: { kind: 'nail', style: 'pneumatic', diameterIn: 0.131, lengthIn: 3 },
      method: 'face',
      driven: 'one side',
      pattern: { kind: 'spaced', lengthIn: 95, rows: 1, spacingIn: 16, rowSpacingIn: 0, staggered: false },
      edgeDistanceIn: 1.5,
      endDistanceIn: 3,
      endLoading: 'compression',
      loadRuns: 'along rows',
      demand: { per: 'none', durationFactor: 1, combination: '', source: 'Holds the pack together.' },
      basis: { kind: 'prescriptive' },
      prescriptiveItem: 'stud to stud',
    },
  },
  {
    key: 'N6',
    title: 'Beam to jacks',
    content: {
      ...common,
      id: 'n6',
      joint: 'beam seat',
      where: 'Each end, beam to the top of the jacks',
      members: [ply('beam'), stud('jack')],
      layup: 'each to the next',
      fastener: { kind: 'nail', style: 'common', diameterIn: 0.131, lengthIn: 2.5 },
      method: 'toe',
      driven: 'both sides',
      pattern: { kind: 'count', count: 4, rows: 1, spacingIn: 1.5, rowSpacingIn: 0, staggered: false },
      edgeDistanceIn: 1,
      endDistanceIn: 2,
      endLoading: 'across grain',
      loadRuns: 'across rows',
      demand: {
        per: 'none',
        durationFactor: 1,
        combination: '',
        source: 'Gravity holds the seat; no uplift.',
      },
      basis: { kind: 'prescriptive' },
      prescriptiveItem: 'continuous header to stud',
    },
  },
];
