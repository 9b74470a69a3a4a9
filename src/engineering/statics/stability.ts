import { Refusal } from '../trace/index.ts';
import type { BeamModel } from './beam-model.ts';
import { isSamePlace } from './places.ts';

/**
 * Refuses a beam that can move without bending. Hinges cut the beam into rigid parts of two freedoms each
 * (drop and turn). Walking from the left, the hinge behind a part is held (what lies left of it decides its
 * drop) or can move. A part is held by two restraints, of which a held hinge is one; with one of its own it
 * can move as one with what lies left of it, to be held from the right or by a pin at the next hinge; with
 * none it spins. Counting is exact, where judging by a small pivot would be a guess.
 */
export function refuseMechanism(model: BeamModel): void {
  const { lengthIn, supports, hinges = [] } = model;
  const restraints = supports.reduce((sum, support) => sum + (support.kind === 'fixed' ? 2 : 1), 0);
  if (restraints < 2) {
    throw new Refusal('supports', 'supports: a beam needs two pins or a fixed support to stand.');
  }
  const cuts = [...hinges].sort((a, b) => a - b);
  let fromIn = 0;
  let heldBehind = false;
  for (let part = 0; part <= cuts.length; part++) {
    const hingeIn = cuts[part];
    const own = ownRestraints(model, cuts[part - 1], hingeIn);
    const held: boolean = own + (heldBehind ? 1 : 0) >= 2;
    const canBeHeldLater = hingeIn !== undefined && (heldBehind || own === 1);
    if (!held && !canBeHeldLater) {
      const toIn = hingeIn ?? lengthIn;
      throw new Refusal(
        'hinges',
        `hinges: the beam is a mechanism, the part from ${fromIn} to ${toIn} in can move freely.`,
      );
    }
    if (hingeIn === undefined) return;
    heldBehind = held || supports.some((support) => isSamePlace(support.atIn, hingeIn, lengthIn));
    fromIn = hingeIn;
  }
}

/** Pins count one, fixed supports two; a pin at a hinge belongs to the hinge, not to the parts it joins. */
function ownRestraints(
  model: BeamModel,
  leftHinge: number | undefined,
  rightHinge: number | undefined,
): number {
  let count = 0;
  for (const { atIn, kind } of model.supports) {
    if (leftHinge !== undefined && (atIn < leftHinge || isSamePlace(atIn, leftHinge, model.lengthIn)))
      continue;
    if (rightHinge !== undefined && (atIn > rightHinge || isSamePlace(atIn, rightHinge, model.lengthIn)))
      continue;
    count += kind === 'fixed' ? 2 : 1;
  }
  return count;
}
