import { finite, positive, refuseUnless } from '../trace/index.ts';
import { isSamePlace, refuseOffBeam } from './places.ts';
import { refuseMechanism } from './stability.ts';

/**
 * A straight beam of constant stiffness on a line of supports. Places are inches from the left end.
 * Signs throughout statics: loads and deflections down positive, reactions up positive, moment positive
 * where it sags, couples positive clockwise, shear = dM/dx (the sum of the upward forces to the left).
 */
export interface BeamModel {
  readonly lengthIn: number;
  /** In any order; results list them in this order. */
  readonly supports: readonly BeamSupport[];
  /** Where the beam passes shear but no moment. A hinge at a pin parts the beam into two over that pin. */
  readonly hinges?: readonly number[];
  /** Bending stiffness E·I, lb-in². */
  readonly ei: number;
}

export interface BeamSupport {
  readonly atIn: number;
  /** `pin` holds the beam down and up; `fixed` also keeps it from turning. */
  readonly kind: 'pin' | 'fixed';
  /** How far the support gives way, in, down positive; none if omitted. */
  readonly settlementIn?: number;
}

/** A length of beam between neighbouring supports, or from the last support to a free end. */
export interface Panel {
  readonly kind: 'span' | 'overhang';
  readonly fromIn: number;
  readonly toIn: number;
}

/**
 * Refuses a beam that can't be analysed: no length, no stiffness, supports or hinges off the beam or on one
 * another, a hinge at an end or at a fixed support, an arrangement that can move.
 */
export function refuseBadBeam(model: BeamModel): void {
  positive(model.lengthIn, 'lengthIn');
  positive(model.ei, 'ei');
  model.supports.forEach((support, index) => {
    refuseBadSupport(model, support, index);
  });
  model.hinges?.forEach((atIn, index) => {
    refuseBadHinge(model, atIn, index);
  });
  refuseMechanism(model);
}

function refuseBadSupport(model: BeamModel, support: BeamSupport, index: number): void {
  const path = `supports.${index}.atIn`;
  refuseOffBeam(support.atIn, model.lengthIn, path);
  finite(support.settlementIn ?? 0, `supports.${index}.settlementIn`);
  const first = model.supports.findIndex((other) => isSamePlace(other.atIn, support.atIn, model.lengthIn));
  refuseUnless(
    first === index,
    path,
    `${path} is ${support.atIn} in, where supports.${first} already stands.`,
  );
}

function refuseBadHinge(model: BeamModel, atIn: number, index: number): void {
  const { lengthIn, supports, hinges = [] } = model;
  const path = `hinges.${index}`;
  refuseOffBeam(atIn, lengthIn, path);
  refuseUnless(
    !isSamePlace(atIn, 0, lengthIn) && !isSamePlace(atIn, lengthIn, lengthIn),
    path,
    `${path} is at an end of the beam; a hinge lies between the ends.`,
  );
  const first = hinges.findIndex((other) => isSamePlace(other, atIn, lengthIn));
  refuseUnless(first === index, path, `${path} is ${atIn} in, where hinges.${first} already is.`);
  const fixed = supports.findIndex(
    ({ kind, atIn: supportIn }) => kind === 'fixed' && isSamePlace(supportIn, atIn, lengthIn),
  );
  refuseUnless(
    fixed === -1,
    path,
    `${path} is at the fixed support supports.${fixed}; place it clearly left or right of it.`,
  );
}

/** The spans and overhangs from left to right. Hinges do not divide a span. */
export function panelsOf(model: BeamModel): readonly Panel[] {
  const places = model.supports.map((support) => support.atIn).sort((a, b) => a - b);
  const panels: Panel[] = [];
  let fromIn = 0;
  places.forEach((toIn, index) => {
    if (index > 0) panels.push({ kind: 'span', fromIn, toIn });
    else if (!isSamePlace(toIn, 0, model.lengthIn)) panels.push({ kind: 'overhang', fromIn, toIn });
    fromIn = toIn;
  });
  if (!isSamePlace(fromIn, model.lengthIn, model.lengthIn)) {
    panels.push({ kind: 'overhang', fromIn, toIn: model.lengthIn });
  }
  return panels;
}
