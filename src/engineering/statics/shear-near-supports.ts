import { notNegative, positive } from '../trace/index.ts';
import type { BeamAnalysis } from './beam-analysis.ts';
import { loadWithin, type BeamLoad } from './beam-loads.ts';
import type { BeamModel } from './beam-model.ts';
import { isSamePlace } from './places.ts';
import { shearAt } from './analyse-beam.ts';

/** The shear on one side of a support. */
export interface SupportShear {
  /** In the order of the model's supports. */
  readonly supportIndex: number;
  readonly side: 'left' | 'right';
  readonly atIn: number;
  /** At the support itself, lb. */
  readonly atSupportLb: number;
  /** Without the distributed load on the stretch next to the support, lb; point loads there still count. */
  readonly beyondDistanceLb: number;
}

/**
 * The shear beside each support, with and without the distributed load within a distance of it: NDS §3.4.3.1
 * (from memory) lets the uniform load within the depth d of a support be left out where the beam bears on
 * its full width and is loaded on the opposite face. Point loads are left in, which is on the safe side
 * (`loadsForShear` scales them). The distance ends at the next support or the end of the beam.
 */
export function shearNearSupports(analysis: BeamAnalysis, distanceIn: number): readonly SupportShear[] {
  notNegative(distanceIn, 'distanceIn');
  const { supports, lengthIn } = analysis.line.model;
  return supports.flatMap(({ atIn }, supportIndex) => {
    const shears: SupportShear[] = [];
    for (const side of ['left', 'right'] as const) {
      const direction = side === 'left' ? -1 : 1;
      if (isSamePlace(atIn, side === 'left' ? 0 : lengthIn, lengthIn)) continue;
      const reachIn = Math.min(distanceIn, clearLength(analysis, atIn, direction));
      const atSupportLb = shearAt(analysis, atIn, side);
      const left = side === 'left' ? atIn - reachIn : atIn;
      const nearLb = distributedBetween(analysis, left, left + reachIn);
      shears.push({
        supportIndex,
        side,
        atIn,
        atSupportLb,
        beyondDistanceLb: atSupportLb - direction * nearLb,
      });
    }
    return shears;
  });
}

function clearLength({ line: { model } }: BeamAnalysis, fromIn: number, direction: -1 | 1): number {
  const places = [0, model.lengthIn, ...model.supports.map((support) => support.atIn)];
  const ahead = places.map((atIn) => (atIn - fromIn) * direction).filter((distanceIn) => distanceIn > 0);
  return Math.min(...ahead);
}

/** The distributed load between two places, lb. */
function distributedBetween({ pieces }: BeamAnalysis, fromIn: number, toIn: number): number {
  let sum = 0;
  for (const piece of pieces) {
    const from = Math.max(0, (fromIn - piece.fromIn) / piece.lengthIn);
    const to = Math.min(1, (toIn - piece.fromIn) / piece.lengthIn);
    if (from >= to) continue;
    const mean = piece.loadLbPerIn + (piece.loadChangeLbPerIn * (from + to)) / 2;
    sum += mean * (to - from) * piece.lengthIn;
  }
  return sum;
}

/**
 * The loads that count for the shear of a beam that bears on its full width and is loaded on the opposite
 * face, NDS §3.4.3.1 (from memory): distributed loads within `distanceIn` (the depth d) of a support face are
 * left out, a point load within it counts x/d, x being its distance from the face. Couples stay. Tapering
 * loads are cut like uniform ones (common practice).
 * `halfBearingIn` is from the support point of the model to the face.
 */
export function loadsForShear(
  model: BeamModel,
  loads: readonly BeamLoad[],
  distanceIn: number,
  halfBearingIn = 0,
): readonly BeamLoad[] {
  positive(distanceIn, 'distanceIn');
  notNegative(halfBearingIn, 'halfBearingIn');
  const reachIn = distanceIn + halfBearingIn;
  const places = model.supports.map(({ atIn }) => atIn).sort((a, b) => a - b);
  // What lies between the zones beside the supports; a zone may swallow a whole short span.
  const open = [-Infinity, ...places].map((fromIn, index) => ({
    fromIn: Math.max(0, fromIn + reachIn),
    toIn: Math.min(model.lengthIn, (places[index] ?? Infinity) - reachIn),
  }));
  return loads.flatMap((load): readonly BeamLoad[] => {
    if (load.kind === 'couple') return [load];
    if (load.kind === 'point') {
      const shares = places.map((atIn) => (Math.abs(load.atIn - atIn) - halfBearingIn) / distanceIn);
      const share = Math.min(1, ...shares);
      return share > 0 ? [{ ...load, loadLb: load.loadLb * share }] : [];
    }
    return open.flatMap(({ fromIn, toIn }) => {
      if (toIn <= fromIn || isSamePlace(fromIn, toIn, model.lengthIn)) return [];
      const part = loadWithin(load, fromIn, toIn);
      return part === undefined ? [] : [part];
    });
  });
}
