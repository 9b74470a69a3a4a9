import { checkShoring, type ShoringResult } from '../shoring/index.ts';
import { qty } from '../trace/quantity.ts';
import type { Outcome } from './beam.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, Footing, Shoring } from './design.ts';
import type { Survey } from './survey.ts';

export interface ShoringOutcome extends Outcome {
  readonly sequence: ShoringResult['sequence'];
  readonly cautions: ShoringResult['cautions'];
}

/**
 * The temporary walls that carry everything while the wall is out, and the order of work with its hold points.
 *
 * @throws Refusal with the path of the entry that can't be
 */
export function calculateShoring(
  survey: Survey,
  criteria: Criteria,
  beam: Pick<Beam, 'placement'>,
  footings: readonly Pick<Footing, 'pad'>[],
  shoring: Shoring,
): ShoringOutcome {
  const { checks, notices, walls, storeysNeeded, sequence, cautions } = checkShoring({
    survey,
    criteria,
    shoring,
    joistsCut: beam.placement === 'flush',
    newPads: footings.some((footing) => footing.pad !== undefined),
  });
  return {
    checks,
    steps: [],
    notices,
    sequence,
    cautions,
    outputs: {
      'storeys that need shores': qty(storeysNeeded, 'each'),
      ...Object.fromEntries(
        walls.map((wall, index) => [`load of one stud, wall ${index + 1}`, qty(wall.studLoadLb, 'lb')]),
      ),
    },
  };
}
