import type { BeamLoad } from './beam-loads.ts';
import type { BeamModel } from './beam-model.ts';
import { Refusal } from '../trace/index.ts';
import { isSamePlace } from './places.ts';
import { layOutRedundants, type Redundants } from './redundants.ts';

/**
 * A beam cut into pieces at every support, hinge, end and load discontinuity, so that within a piece the
 * load is one straight line. Load cases that share a line can be added piece by piece.
 */
export interface BeamLine {
  readonly model: BeamModel;
  /** Left end, cuts, right end; piece i lies between breaks i and i + 1. */
  readonly breaksIn: readonly number[];
  /** Supports and hinges from left to right. */
  readonly joints: readonly Joint[];
  /** The outermost supports; what lies beyond them overhangs. */
  readonly first: Joint;
  readonly last: Joint;
  readonly redundants: Redundants;
}

export interface Joint {
  readonly breakIndex: number;
  readonly atIn: number;
  readonly kind: 'pin' | 'fixed' | 'hinge' | 'hinged pin';
  /** Index of the support in the model; undefined at a hinge in the open. */
  readonly supportIndex: number | undefined;
  readonly settlementIn: number;
}

/** Cuts the beam for these loads; model and loads have been checked (`refuseBadBeam`, `refuseBadLoads`). */
export function layOutBeam(model: BeamModel, loads: readonly BeamLoad[]): BeamLine {
  const breaksIn = breaksOf(model, loads);
  const joints = jointsOf(model, breaksIn);
  const [first] = joints;
  const last = joints.at(-1);
  if (first === undefined || last === undefined) {
    throw new Refusal('supports', 'supports: a beam needs two pins or a fixed support to stand.');
  }
  return { model, breaksIn, joints, first, last, redundants: layOutRedundants(joints, model.lengthIn) };
}

/**
 * Ends, supports and hinges come first, so that a load placed within rounding of one of them moves to it
 * and not the other way round.
 */
function breaksOf(model: BeamModel, loads: readonly BeamLoad[]): readonly number[] {
  const { lengthIn } = model;
  const breaks = [0, lengthIn];
  const add = (atIn: number): void => {
    for (const known of breaks) if (isSamePlace(known, atIn, lengthIn)) return;
    breaks.push(atIn);
  };
  for (const support of model.supports) add(support.atIn);
  for (const hinge of model.hinges ?? []) add(hinge);
  for (const load of loads) {
    if (load.kind === 'point' || load.kind === 'couple') add(load.atIn);
    else if (load.kind !== 'uniform') {
      add(load.fromIn);
      add(load.toIn);
    }
  }
  return breaks.sort((a, b) => a - b);
}

/** The index of the break at this place. */
export function breakAt(breaksIn: readonly number[], atIn: number, lengthIn: number): number {
  return breaksIn.findIndex((known) => isSamePlace(known, atIn, lengthIn));
}

function jointsOf(model: BeamModel, breaksIn: readonly number[]): readonly Joint[] {
  const hinges = (model.hinges ?? []).map((atIn) => breakAt(breaksIn, atIn, model.lengthIn));
  const joints = model.supports.map((support, supportIndex): Joint => {
    const breakIndex = breakAt(breaksIn, support.atIn, model.lengthIn);
    return {
      breakIndex,
      atIn: breaksIn[breakIndex] ?? support.atIn,
      kind: hinges.includes(breakIndex) ? 'hinged pin' : support.kind,
      supportIndex,
      settlementIn: support.settlementIn ?? 0,
    };
  });
  const supported = new Set(joints.map((joint) => joint.breakIndex));
  for (const breakIndex of hinges) {
    const atIn = breaksIn[breakIndex] ?? 0;
    if (!supported.has(breakIndex)) {
      joints.push({ breakIndex, atIn, kind: 'hinge', supportIndex: undefined, settlementIn: 0 });
    }
  }
  return joints.sort((a, b) => a.breakIndex - b.breakIndex);
}
