import type { OpeningOutcome } from '../engineering/proposal/opening.ts';

/** The numbers of the statics' polynomials are no result: what is shown carries checks, steps and figures. */
export function shownOutcome(outcome: OpeningOutcome) {
  const { actions: _actions, ...beam } = outcome.beam;
  return { ...outcome, beam };
}
