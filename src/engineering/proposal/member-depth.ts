import { sawnSize } from '../materials/lumber-sizes.ts';
import { wideFlange } from '../steel/index.ts';
import type { Member } from './design.ts';

/**
 * How deep a beam is from top to underside, in: dressed, as made, or as rolled. Of a flitch beam its lumber counts, on
 * which the plate stands back.
 *
 * @throws Refusal for a size or shape that the tables do not hold
 */
export function memberDepthIn(member: Member): number {
  switch (member.kind) {
    case 'steel':
      return wideFlange(member.shape).depthIn;
    case 'sawn':
    case 'flitch':
      return sawnSize(member.size, 'member.size').widthIn;
    case 'composite':
    case 'glulam':
      return member.depthIn;
  }
}
