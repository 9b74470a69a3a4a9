import { positive, type Notice } from '../trace/index.ts';
import { MEASURED } from './measured.ts';
import type { BeamOutline } from './beam-outline.ts';

/**
 * Weights at which a lift is planned differently, lb. Common practice; 51 lb is the load constant of the lifting
 * equation of occupational health, for one person under the best conditions (from memory).
 */
export const LIFT_LIMITS_LB = { onePerson: 51, twoPersons: 100, byHand: 200 } as const;

export interface Lift {
  readonly label: string;
  readonly weightLb: number;
  readonly how: 'one person' | 'two persons' | 'three or four persons' | 'lift, hoist or jacks';
}

export function howToLift(weightLb: number): Lift['how'] {
  if (weightLb <= LIFT_LIMITS_LB.onePerson) return 'one person';
  if (weightLb <= LIFT_LIMITS_LB.twoPersons) return 'two persons';
  return weightLb <= LIFT_LIMITS_LB.byHand ? 'three or four persons' : 'lift, hoist or jacks';
}

/** Each piece by itself, then the whole beam where it has more than one. Refuses a beam without length. */
export function beamLifts(beam: BeamOutline, lengthIn: number): Lift[] {
  const feet = positive(lengthIn, 'lengthIn') / 12;
  const lift = (label: string, plf: number): Lift => ({
    label,
    weightLb: plf * feet,
    how: howToLift(plf * feet),
  });
  const pieces = beam.pieces.map((piece) => lift(piece.label, piece.weightPlf));
  const whole = beam.pieces.reduce((sum, piece) => sum + piece.count, 0) > 1;
  return whole ? [...pieces, lift('The whole beam', beam.weightPlf)] : pieces;
}

export function liftingNotices(lifts: readonly Lift[]): Notice[] {
  return lifts
    .filter((lift) => lift.how !== 'one person')
    .map((lift, index) => ({
      id: `lifting.${index + 1}`,
      severity: 'caution',
      text: `${lift.label} weighs about ${Math.round(lift.weightLb)} lb: ${lift.how}${lift.how === 'lift, hoist or jacks' ? ', no lifting by hand' : ''}.`,
      clause: MEASURED,
    }));
}
