import type { Candidate } from '../../engineering/proposal/search/search-beams.ts';
import { ratioText } from '../../web/check-view.ts';

/** As the calculation of the beam calls them. */
const named: Readonly<Record<string, string>> = {
  'beam.bearing.left': 'bearing at the left end',
  'beam.bearing.right': 'bearing at the right end',
  'beam.deflectionLive': 'deflection under live load',
  'beam.deflectionTotal': 'deflection with creep',
};

/** A check of the search in words: 'beam.notchShear' is 'notch shear'. */
export function checkWords(check: string): string {
  return (
    named[check] ??
    check
      .split('.')
      .slice(1)
      .join(' ')
      .replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
  );
}

/** What a candidate misses, worst first: 'bending 1.08, deflection with creep 1.02'. */
export function missedWords({ failing }: Candidate): string {
  return failing.map(({ check, ratio }) => `${checkWords(check)} ${ratioText(ratio, false)}`).join(', ');
}
