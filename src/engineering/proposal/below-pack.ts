import { checkGirderPost, checkSquashBlocks } from '../foundation/index.ts';
import type { Check, Notice } from '../trace/index.ts';
import type { WoodColumnCombination } from '../wood/index.ts';
import type { Criteria } from './criteria.ts';
import type { Support } from './design.ts';
import type { Survey } from './survey.ts';

/**
 * What stands between the pack's plate and the ground where that is not a slab: blocks through the floor, the post
 * under a girder. Without them the load has no way down, which is said.
 */
export function judgeBelowPack(
  survey: Survey,
  criteria: Criteria,
  support: Support,
  packAlongIn: number,
  combinations: readonly WoodColumnCombination[],
): { readonly checks: readonly Check[]; readonly notices: readonly Notice[] } {
  if (survey.below === 'slab') return { checks: [], notices: [] };
  const { squashBlocks, girderPost, end } = support;
  const { editions } = criteria;
  const checks: Check[] = [];
  const notices: Notice[] = [];
  if (squashBlocks === undefined) {
    notices.push({
      id: 'pack.squash-blocks',
      severity: 'caution',
      text: 'The pack stands on a framed floor: put squash blocks or solid blocking of the same bearing area through the floor under all of it, down to the sill, girder or wall below. Joists and sheathing alone crush.',
      clause: { standard: 'Practice', edition: '', section: '', provenance: 'common practice' },
    });
  } else {
    const { species, grade, size, count, heightIn, on, endDistanceIn } = squashBlocks;
    checks.push(
      ...checkSquashBlocks({
        end,
        blocks: { species, grade, size, count },
        heightIn,
        below: { ...on, endDistanceIn },
        packAlongIn,
        combinations,
        editions,
      }),
    );
  }
  if (girderPost !== undefined) {
    const { species, grade, size, ...rest } = girderPost;
    const judged = checkGirderPost({ end, post: { species, grade, size }, ...rest, combinations, editions });
    checks.push(...judged.checks);
    notices.push(...judged.notices);
  }
  return { checks, notices };
}
