import { finite, refuseUnless } from '../trace/index.ts';
import type { BeamModel } from './beam-model.ts';
import { isSamePlace, refuseOffBeam } from './places.ts';

/** What bears on the beam; down positive, couples clockwise positive, places in inches from the left end. */
export type BeamLoad = UniformLoad | PartialLoad | TrapezoidalLoad | PointLoad | CoupleLoad;

/** Over the whole length. */
export interface UniformLoad {
  readonly kind: 'uniform';
  readonly loadLbPerIn: number;
}

export interface PartialLoad {
  readonly kind: 'partial';
  readonly fromIn: number;
  readonly toIn: number;
  readonly loadLbPerIn: number;
}

/** Straight line from one intensity to another; a triangle where one of them is 0. */
export interface TrapezoidalLoad {
  readonly kind: 'trapezoidal';
  readonly fromIn: number;
  readonly toIn: number;
  readonly startLbPerIn: number;
  readonly endLbPerIn: number;
}

export interface PointLoad {
  readonly kind: 'point';
  readonly atIn: number;
  readonly loadLb: number;
}

export interface CoupleLoad {
  readonly kind: 'couple';
  readonly atIn: number;
  /** Clockwise positive: the moment just right of it is this much higher than just left of it. */
  readonly coupleLbIn: number;
}

/** Refuses loads that are not numbers, not on the beam, without length, or a couple at a hinge. */
export function refuseBadLoads(model: BeamModel, loads: readonly BeamLoad[], path: string): void {
  loads.forEach((load, index) => {
    refuseBadLoad(model, load, `${path}.${index}`);
  });
}

function refuseBadLoad(model: BeamModel, load: BeamLoad, path: string): void {
  switch (load.kind) {
    case 'uniform':
      finite(load.loadLbPerIn, `${path}.loadLbPerIn`);
      return;
    case 'partial':
      finite(load.loadLbPerIn, `${path}.loadLbPerIn`);
      refuseBadStretch(model, load, path);
      return;
    case 'trapezoidal':
      finite(load.startLbPerIn, `${path}.startLbPerIn`);
      finite(load.endLbPerIn, `${path}.endLbPerIn`);
      refuseBadStretch(model, load, path);
      return;
    case 'point':
      finite(load.loadLb, `${path}.loadLb`);
      refuseOffBeam(load.atIn, model.lengthIn, `${path}.atIn`);
      return;
    case 'couple': {
      finite(load.coupleLbIn, `${path}.coupleLbIn`);
      refuseOffBeam(load.atIn, model.lengthIn, `${path}.atIn`);
      const hinge = (model.hinges ?? []).findIndex((atIn) => isSamePlace(atIn, load.atIn, model.lengthIn));
      refuseUnless(
        hinge === -1,
        `${path}.atIn`,
        `${path}.atIn is at hinges.${hinge}; place the couple clearly left or right of the hinge.`,
      );
    }
  }
}

function refuseBadStretch(model: BeamModel, load: PartialLoad | TrapezoidalLoad, path: string): void {
  refuseOffBeam(load.fromIn, model.lengthIn, `${path}.fromIn`);
  refuseOffBeam(load.toIn, model.lengthIn, `${path}.toIn`);
  refuseUnless(
    load.toIn > load.fromIn && !isSamePlace(load.fromIn, load.toIn, model.lengthIn),
    `${path}.toIn`,
    `${path}.toIn is ${load.toIn} in and must lie right of fromIn (${load.fromIn} in).`,
  );
}

/** The part of a distributed load between two places; undefined if there is none. */
export function loadWithin(
  load: UniformLoad | PartialLoad | TrapezoidalLoad,
  fromIn: number,
  toIn: number,
): PartialLoad | TrapezoidalLoad | undefined {
  if (load.kind === 'uniform') return { kind: 'partial', fromIn, toIn, loadLbPerIn: load.loadLbPerIn };
  const start = Math.max(fromIn, load.fromIn);
  const end = Math.min(toIn, load.toIn);
  if (end <= start) return undefined;
  if (load.kind === 'partial') return { ...load, fromIn: start, toIn: end };
  return {
    kind: 'trapezoidal',
    fromIn: start,
    toIn: end,
    startLbPerIn: intensityAt(load, start),
    endLbPerIn: intensityAt(load, end),
  };
}

/** lb/in at a place on the load. Weighs the two ends, so that either end is met to the last bit. */
export function intensityAt(load: TrapezoidalLoad, atIn: number): number {
  const part = (atIn - load.fromIn) / (load.toIn - load.fromIn);
  return load.startLbPerIn * (1 - part) + load.endLbPerIn * part;
}
