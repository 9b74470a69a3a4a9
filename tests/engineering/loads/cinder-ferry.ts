import type { Criteria } from '../../../src/engineering/proposal/criteria.ts';
import { criteriaSchema } from '../../../src/engineering/proposal/criteria.ts';
import type { Brace, Strip, Survey } from '../../../src/engineering/proposal/survey.ts';
import { surveySchema } from '../../../src/engineering/proposal/survey.ts';

/** An invented house: 26 ft deep, gable 8 in 12, a wall 12 ft from the front carrying floor, ceiling and braces. */
export const criteria: Criteria = criteriaSchema.parse({
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
});

function brace(side: Brace['side'], number: number, positionIn: number): Brace {
  return {
    id: `brace-${side}-${number}`,
    label: `Brace ${number}, ${side}`,
    evidence: 'measured',
    side,
    positionIn,
    angleDeg: side === 'front' ? 53 : 55,
    lengthIn: side === 'front' ? 80.4 : 93.6,
    tributaryFt2: 26,
  };
}

export const floor: Strip = {
  id: 'floor',
  label: 'Upper floor',
  evidence: 'measured',
  carries: 'floor',
  frontSpanIn: 144,
  rearSpanIn: 168,
  overWall: 'lapped',
  spacingIn: 16,
  deadPsf: 12,
  livePsf: 40,
};

export const survey: Survey = surveySchema.parse({
  datum: 'left cross wall, room face',
  wallLengthIn: 170,
  wallThicknessIn: 5.5,
  wallHeightIn: 97.125,
  openingFromIn: 20,
  openingToIn: 150,
  wallIsExterior: false,
  below: 'slab',
  storeysAbove: 1,
  roof: {
    riseIn12: 8,
    frontEaveToRidgeIn: 156,
    rearEaveToRidgeIn: 156,
    deadOnSlopePsf: 15,
    slippery: false,
  },
  strips: [
    floor,
    { ...floor, id: 'ceiling', label: 'Upper ceiling', carries: 'ceiling', deadPsf: 8, livePsf: 10 },
  ],
  wallsAbove: [
    {
      id: 'upper-wall',
      label: 'Stacked wall',
      evidence: 'measured',
      fromIn: 0,
      toIn: 170,
      heightIn: 96,
      deadPsf: 8,
    },
  ],
  braces: [
    brace('front', 1, 41),
    brace('front', 2, 89),
    brace('front', 3, 137),
    brace('rear', 1, 41),
    brace('rear', 2, 89),
    brace('rear', 3, 137),
  ],
  landings: [],
});
