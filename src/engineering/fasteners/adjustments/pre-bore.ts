import type { Fastener } from '../dowels/fastener.ts';
import { dowelProperties } from '../dowels/fastener.ts';

/** Drill sizes in 64ths, as a truck carries them. */
function sixtyFourths(diameterIn: number): number {
  return Math.floor(diameterIn * 64 + 1e-9) / 64;
}

export interface PreBore {
  /** Must a hole be bored for the values of the standard to hold? */
  readonly required: boolean;
  /** Lead hole in the piece that holds the point, in; the largest allowed, down to the next 1/64. */
  readonly leadIn: number;
  /** Clearance hole in the piece under the head, in; omitted where the lead hole goes through. */
  readonly clearanceIn?: number;
  readonly section: string;
}

/**
 * Bored holes by fastener and wood (NDS 12.1.3.2 bolts, 12.1.4.2 lag screws, 12.1.5.3 wood screws under
 * lateral load, 12.1.6.2 nails; from memory).
 */
export function preBore(fastener: Fastener, specificGravity: number): PreBore {
  const dowel = dowelProperties(fastener);
  switch (fastener.kind) {
    case 'nail':
      return {
        required: false,
        leadIn: sixtyFourths(dowel.diameterIn * (specificGravity > 0.6 ? 0.9 : 0.75)),
        section: '12.1.6.2',
      };
    case 'wood screw': {
      const share = specificGravity > 0.6 ? 1 : 7 / 8;
      return {
        required: true,
        leadIn: sixtyFourths(dowel.yieldDiameterIn * share),
        clearanceIn: sixtyFourths(dowel.diameterIn * share),
        section: '12.1.5.3',
      };
    }
    case 'lag screw': {
      const share = specificGravity > 0.6 ? 0.85 : specificGravity > 0.5 ? 0.75 : 0.7;
      return {
        required: true,
        leadIn: sixtyFourths(dowel.diameterIn * share),
        clearanceIn: dowel.diameterIn,
        section: '12.1.4.2',
      };
    }
    case 'bolt':
      return { required: true, leadIn: dowel.diameterIn + 1 / 16, section: '12.1.3.2' };
    case 'structural screw':
      return { required: false, leadIn: sixtyFourths(dowel.yieldDiameterIn * 0.75), section: 'declared' };
  }
}
