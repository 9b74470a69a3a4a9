import type { Criteria } from '../../../src/engineering/proposal/criteria.ts';
import type { Shoring } from '../../../src/engineering/proposal/design.ts';
import type { Survey } from '../../../src/engineering/proposal/survey.ts';

export const criteria: Criteria = {
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

/** 12 ft in front and 14 ft behind, floor 12 + 40 psf, lapped, one wall above, no roof. */
export function survey(change: Partial<Survey> = {}): Survey {
  return {
    datum: 'left cross wall',
    wallLengthIn: 170,
    wallThicknessIn: 5.5,
    wallHeightIn: 97.125,
    openingFromIn: 20,
    openingToIn: 150,
    wallIsExterior: false,
    below: 'slab',
    storeysAbove: 0,
    strips: [
      {
        id: 'floor',
        label: 'Floor joists',
        evidence: 'measured',
        carries: 'floor',
        frontSpanIn: 144,
        rearSpanIn: 168,
        overWall: 'lapped',
        spacingIn: 16,
        deadPsf: 12,
        livePsf: 40,
      },
    ],
    wallsAbove: [],
    braces: [],
    landings: [],
    ...change,
  };
}

export function shoring(change: Partial<Shoring> = {}): Shoring {
  return {
    sides: 'both',
    offsetIn: 24,
    studSize: '2x4',
    species: 'DF-L',
    grade: 'No.2',
    studSpacingIn: 16,
    midHeightBracingIn: 48,
    topPlates: 2,
    soleOn: 'slab',
    storeysShored: 1,
    bracesRelanded: false,
    ...change,
  };
}

export const roof: NonNullable<Survey['roof']> = {
  riseIn12: 8,
  frontEaveToRidgeIn: 156,
  rearEaveToRidgeIn: 156,
  deadOnSlopePsf: 15,
  slippery: false,
};

export const braces: Survey['braces'] = [
  {
    id: 'b1',
    label: 'Brace 1 front',
    evidence: 'measured',
    side: 'front',
    positionIn: 60,
    angleDeg: 53,
    lengthIn: 80,
    tributaryFt2: 30,
  },
  {
    id: 'b2',
    label: 'Brace 1 rear',
    evidence: 'measured',
    side: 'rear',
    positionIn: 62,
    angleDeg: 55,
    lengthIn: 93,
    tributaryFt2: 22,
  },
  {
    id: 'b3',
    label: 'Brace 2 front',
    evidence: 'measured',
    side: 'front',
    positionIn: 108,
    angleDeg: 53,
    lengthIn: 80,
    tributaryFt2: 30,
  },
];
