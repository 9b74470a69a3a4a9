import { finite, refuseUnless } from '../trace/index.ts';

/** Places closer than this part of the length are one place: rounding of sums of lengths stays below it. */
const SAME_PLACE = 1e-9;

/** Are two places, in from the left end, one place on a beam of this length? */
export function isSamePlace(oneIn: number, otherIn: number, lengthIn: number): boolean {
  return Math.abs(oneIn - otherIn) <= lengthIn * SAME_PLACE;
}

/** Refuses a place that is not a finite number or not on the beam. */
export function refuseOffBeam(atIn: number, lengthIn: number, path: string): void {
  finite(atIn, path);
  const slackIn = lengthIn * SAME_PLACE;
  refuseUnless(
    atIn >= -slackIn && atIn <= lengthIn + slackIn,
    path,
    `${path} is ${atIn} in, outside the beam (0 to ${lengthIn} in).`,
  );
}
