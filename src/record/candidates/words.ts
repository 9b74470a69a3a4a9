import type { Candidate } from '../../engineering/proposal/search/search-beams.ts';
import { ratioText } from '../../web/check-view.ts';

/** A check of the search in words: 'beam.deflectionTotal' is 'deflection total'. */
export function checkWords(check: string): string {
  return check
    .split('.')
    .slice(1)
    .join(' ')
    .replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}

/** What a candidate misses, worst first: 'bending 1.08, deflection total 1.02'. */
export function missedWords({ failing }: Candidate): string {
  return failing.map(({ check, ratio }) => `${checkWords(check)} ${ratioText(ratio, false)}`).join(', ');
}
