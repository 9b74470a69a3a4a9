import type { Shoring } from '../../../src/engineering/proposal/design.ts';

/** Temporary walls of the demo house, for tests. */
export const demoShoring: Shoring = {
  sides: 'both',
  offsetIn: 24,
  studSize: '2x4',
  species: 'DF-L',
  grade: 'No.2',
  studSpacingIn: 16,
  midHeightBracingIn: 48,
  topPlates: 2,
  soleOn: 'slab',
  storeysShored: 2,
  bracesRelanded: true,
};
