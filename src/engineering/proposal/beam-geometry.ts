import type { BeamInterval } from '../loads/beam-interval.ts';
import { refuseUnless } from '../trace/refusal.ts';
import type { Beam } from './design.ts';
import type { Survey } from './survey.ts';

/** Where the beam lies, in wall coordinates, and what it spans. */
export interface BeamGeometry extends BeamInterval {
  readonly lengthIn: number;
  readonly clearIn: number;
  /** Centre to centre of the bearings. */
  readonly spanIn: number;
  readonly bearingLeftIn: number;
  readonly bearingRightIn: number;
}

/**
 * The beam reaches over the clear opening by its bearing at either end.
 *
 * @throws Refusal where it would reach past the wall
 */
export function beamGeometry(
  survey: Pick<Survey, 'openingFromIn' | 'openingToIn' | 'wallLengthIn'>,
  beam: Pick<Beam, 'bearingLeftIn' | 'bearingRightIn'>,
): BeamGeometry {
  const { bearingLeftIn, bearingRightIn } = beam;
  const fromIn = survey.openingFromIn - bearingLeftIn;
  const toIn = survey.openingToIn + bearingRightIn;
  refuseUnless(
    fromIn >= 0,
    'bearingLeftIn',
    'The beam would reach past the left end of the wall: less bearing, or an opening further in.',
  );
  refuseUnless(
    toIn <= survey.wallLengthIn,
    'bearingRightIn',
    'The beam would reach past the right end of the wall: less bearing, or an opening further in.',
  );
  const clearIn = survey.openingToIn - survey.openingFromIn;
  return {
    fromIn,
    toIn,
    lengthIn: toIn - fromIn,
    clearIn,
    spanIn: clearIn + (bearingLeftIn + bearingRightIn) / 2,
    bearingLeftIn,
    bearingRightIn,
  };
}
