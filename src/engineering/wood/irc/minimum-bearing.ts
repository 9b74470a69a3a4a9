import type { Editions } from '../../trace/clause.ts';
import { qty } from '../../trace/quantity.ts';
import { positive } from '../../trace/refusal.ts';
import { type Check, makeCheck } from '../../trace/step.ts';

export type BearingGround = 'wood or metal' | 'masonry or concrete';

/** Least bearing of joists, beams and girders, in. Source: IRC R502.6 (from memory). */
const LEAST_BEARING_IN: Readonly<Record<BearingGround, number>> = {
  'wood or metal': 1.5,
  'masonry or concrete': 3,
};

export function minimumBearingIn(ground: BearingGround): number {
  return LEAST_BEARING_IN[ground];
}

/** Least lap of joists over a beam, in. Source: IRC R502.6.1 (from memory). */
export const MINIMUM_JOIST_LAP_IN = 3;

/** The bearing that the code asks for whatever the stress. @throws Refusal for a length not above zero. */
export function checkMinimumBearing(
  id: string,
  lengthIn: number,
  ground: BearingGround,
  edition: Editions['irc'],
): Check {
  positive(lengthIn, `${id}.lengthIn`);
  return makeCheck({
    id,
    title: `Least bearing on ${ground}`,
    clause: { standard: 'IRC', edition, section: 'R502.6', provenance: 'from memory' },
    demand: qty(LEAST_BEARING_IN[ground], 'in'),
    capacity: qty(lengthIn, 'in'),
    sentence: (passes) =>
      passes
        ? 'The bearing is as long as the code asks.'
        : `The code asks for ${LEAST_BEARING_IN[ground]} in on ${ground}.`,
  });
}
