import { describe, expect, it } from 'vitest';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import type { Shoring } from '../../../src/engineering/proposal/design.ts';
import type { OpeningInput } from '../../../src/engineering/proposal/input.ts';
import { calculateOpening } from '../../../src/engineering/proposal/opening.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';

const whole: OpeningInput = {
  criteria: demoCriteria,
  survey: demoSurvey,
  beam: demoBeam,
  supports: demoSupports,
  footings: demoFootings,
  rows: [],
};
const shoring: Shoring = {
  sides: 'both',
  offsetIn: 30,
  studSize: '2x4',
  species: 'SPF',
  grade: 'Stud',
  studSpacingIn: 16,
  midHeightBracingIn: 48,
  topPlates: 2,
  soleOn: 'slab',
  storeysShored: 2,
  bracesRelanded: true,
};
const [left, right] = demoSupports;
const [floor, attic] = demoSurvey.strips;

describe('what can’t be is refused with the path in the whole input', () => {
  it.each<[string, Partial<OpeningInput>]>([
    ['beam.bearingLeftIn', { survey: { ...demoSurvey, openingFromIn: 1 } }],
    ['beam.bearingRightIn', { survey: { ...demoSurvey, openingToIn: 169 } }],
    [
      'beam.member.size',
      {
        beam: {
          ...demoBeam,
          member: { kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x99', plies: 1 },
        },
      },
    ],
    ['survey.strips.1.toIn', { survey: { ...demoSurvey, strips: [floor!, { ...attic!, toIn: 400 }] } }],
    ['supports.1.size', { supports: [left!, { ...right!, size: '2x99' }] }],
    ['supports.0.plateGrade', { supports: [{ ...left!, plateGrade: 'No.9' }, right!] }],
    ['supports.1.end', { supports: [left!, left!] }],
    ['footings.1.end', { footings: [demoFootings[0]!, demoFootings[0]!] }],
    ['footings.0.end', { supports: [right!] }],
    ['shoring.offsetIn', { shoring: { ...shoring, offsetIn: 90 } }],
  ])('%s', (path, over) => {
    let found = 'calculated';
    try {
      calculateOpening({ ...whole, ...over });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      found = error.path;
    }
    expect(found).toBe(path);
  });
});
