import type { Candidate } from '../../engineering/proposal/search/search-beams.ts';
import { ratioText } from '../../web/check-view.ts';

/** What a candidate misses, worst first: 'bending 1.08, deflection total 1.02'. */
export function missedWords({ failing }: Candidate): string {
  return failing
    .map(({ check, ratio }) => `${check.split('.').slice(1).join(' ')} ${ratioText(ratio, false)}`)
    .join(', ');
}
