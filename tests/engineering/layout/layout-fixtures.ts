import type { Beam, Footing, Support } from '../../../src/engineering/proposal/design.ts';
import type { OpeningLayoutInput } from '../../../src/engineering/layout/index.ts';
import type { Editions } from '../../../src/engineering/trace/index.ts';

export const editions: Editions = {
  asce7: '7-16',
  nds: '2018',
  irc: '2021',
  aci318: '318-19',
  aisc360: '360-16',
};

/** Wall of 14'-2", opening 1'-8" to 12'-6", three 1 3/4 x 11 7/8 composite plies, three jacks and a king. */
export const beam: Beam = {
  placement: 'flush',
  member: { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 11.875, plies: 3 },
  bearingLeftIn: 4.5,
  bearingRightIn: 4.5,
};

export function support(end: 'left' | 'right', change: Partial<Support> = {}): Support {
  return {
    end,
    kind: 'built-up',
    species: 'DF-L',
    grade: 'No.2',
    size: '2x6',
    jacks: 3,
    kings: 1,
    heightIn: 90,
    fastening: 'nailed',
    plateSpecies: 'HF',
    plateGrade: 'No.2',
    ...change,
  };
}

export function footing(end: 'left' | 'right'): Footing {
  return {
    end,
    found: 'cored',
    foundWidthIn: 16,
    foundThicknessIn: 9.75,
    postTensioned: 'no',
    concretePsi: 2500,
    pad: { widthIn: 30, lengthIn: 30, thicknessIn: 12 },
  };
}

export function layoutInput(change: Partial<OpeningLayoutInput> = {}): OpeningLayoutInput {
  return {
    survey: {
      datum: 'left cross wall, room face',
      wallLengthIn: 170,
      wallHeightIn: 97.125,
      wallThicknessIn: 5.5,
      openingFromIn: 20,
      openingToIn: 150,
    },
    beam,
    supports: [support('left'), support('right')],
    footings: [footing('left'), footing('right')],
    editions,
    ...change,
  };
}
