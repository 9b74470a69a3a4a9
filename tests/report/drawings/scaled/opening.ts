import { layOutOpening, type OpeningLayoutInput } from '../../../../src/engineering/layout/index.ts';
import { demoHangers } from '../../../../src/demo/cinder-ferry.ts';
import type { DrawnOpening } from '../../../../src/report/drawings/scaled/index.ts';
import { layoutInput } from '../../../engineering/layout/layout-fixtures.ts';

/** An opening as it comes to the drawing table. */
export function drawnOpening(
  change: Partial<OpeningLayoutInput> = {},
  words: Partial<DrawnOpening> = {},
): DrawnOpening {
  const input = layoutInput(change);
  return {
    layout: layOutOpening(input),
    footings: input.footings,
    hangers: demoHangers,
    supports: input.supports,
    beamWords: '3 plies 1 3/4" x 11 7/8" LVL 2.0E',
    supportWords: { left: '3 jacks and 1 king 2x6 DF-L No.2', right: '3 jacks and 1 king 2x6 DF-L No.2' },
    notes: [{ text: 'Record of review. Not a sealed document.' }],
    ...words,
  };
}
