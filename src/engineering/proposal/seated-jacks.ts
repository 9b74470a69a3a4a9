import { sawnSize } from '../materials/lumber-sizes.ts';
import type { Notice } from '../trace/index.ts';
import { formatFeetInches } from '../units/index.ts';
import type { Beam, Support } from './design.ts';

/** What of a pack stands under the end of the beam. */
export interface SeatedJacks {
  /** Jacks that the beam stands on, wholly or in part; 1 for a post. */
  readonly count: number;
  /** Their thickness together, along the wall, in. */
  readonly lengthIn: number;
  /** Jacks wholly beside the end of the beam. */
  readonly beside: number;
}

/**
 * The beam reaches over its pack by the bearing that it was calculated with. A jack wholly beyond that stands beside
 * its end: nothing sets the load on it, so neither column, plate nor concrete may count it.
 */
export function seatedJacks(
  beam: Pick<Beam, 'bearingLeftIn' | 'bearingRightIn'>,
  support: Support,
): SeatedJacks {
  const { thicknessIn } = sawnSize(support.size, 'size');
  if (support.kind === 'post') return { count: 1, lengthIn: thicknessIn, beside: 0 };
  const bearingIn = support.end === 'left' ? beam.bearingLeftIn : beam.bearingRightIn;
  const reached = Math.max(1, Math.ceil(bearingIn / thicknessIn - 1e-9));
  const count = Math.min(support.jacks, reached);
  return { count, lengthIn: count * thicknessIn, beside: support.jacks - count };
}

/** Says which jacks are not counted, and what would make them count. */
export function besideNotices(support: Support, { count, beside }: SeatedJacks): Notice[] {
  if (beside === 0) return [];
  const all = support.jacks * sawnSize(support.size, 'size').thicknessIn;
  return [
    {
      id: 'pack.beside',
      severity: 'caution',
      text: `The beam reaches over ${count === 1 ? '1 jack' : `${count} jacks`}; ${beside === 1 ? '1 stands' : `${beside} stand`} beside its end and ${beside === 1 ? 'is' : 'are'} not counted. Give the beam ${formatFeetInches(all, { to: 16 })} of bearing at this end, and it stands on all of them.`,
    },
  ];
}
