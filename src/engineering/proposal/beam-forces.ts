import {
  combine,
  forceExtremesOf,
  superpose,
  type BeamAnalysis,
  type Extremes,
  type SolvedCases,
} from '../statics/index.ts';
import {
  OWN_WEIGHT,
  solvedForShear,
  type BeamActions,
  type BeamCombination,
  type PreparedBeam,
} from './beam-actions.ts';

/** What one combination asks of the member, in numbers: extremes along the whole beam. */
export interface CombinationForces {
  readonly name: string;
  readonly durationFactor: number;
  readonly momentMaxLbIn: number;
  readonly momentMinLbIn: number;
  /** The larger of both signs. */
  readonly shearLb: number;
  /** The same with the loads near the supports left out, where NDS 3.4.3.1 lets them be. */
  readonly shearNearLb: number;
  readonly reactionsLb: readonly number[];
}

interface ShearRange {
  readonly max: { readonly value: number };
  readonly min: { readonly value: number };
}

function largest({ max, min }: ShearRange): number {
  return Math.max(max.value, -min.value, 0);
}

/** Of an analysed beam. */
export function forcesOf({ envelope, envelopeForShear }: BeamActions): CombinationForces[] {
  return envelope.byCombination.map((one, index) => ({
    name: one.combination.name,
    durationFactor: one.combination.durationFactor,
    momentMaxLbIn: one.momentLbIn.max.value,
    momentMinLbIn: one.momentLbIn.min.value,
    shearLb: largest(one.shearLb),
    shearNearLb: largest((envelopeForShear.byCombination[index] ?? one).shearLb),
    reactionsLb: one.reactions.map(({ forceLb }) => forceLb.max.value),
  }));
}

/** Every combination without the member's weight, and that weight's own case. */
interface Unweighted {
  readonly combined: readonly BeamAnalysis[];
  readonly own: BeamAnalysis | undefined;
}

function unweighted(solved: SolvedCases, combinations: readonly BeamCombination[]): Unweighted {
  return {
    combined: combinations.map(({ factors }) => combine(solved, factors)),
    own: solved.cases.find(({ kind }) => kind === OWN_WEIGHT)?.parts[0],
  };
}

function weighted(
  { combined, own }: Unweighted,
  combinations: readonly BeamCombination[],
  weightPlf: number,
): { readonly analysis: BeamAnalysis; readonly extremes: Pick<Extremes, 'shearLb' | 'momentLbIn'> }[] {
  return combined.map((known, index) => {
    const factor = (combinations[index]?.factors.D ?? 0) * weightPlf;
    const analysis = own === undefined ? known : superpose(known, own, factor);
    return { analysis, extremes: forceExtremesOf(analysis) };
  });
}

/**
 * The same numbers for member after member on one opening: only the own weight is added each time, and for a dropped
 * beam the loads near the supports are left out once for each depth.
 */
export function forcesByWeight(
  prepared: PreparedBeam,
): (weightPlf: number, depthIn: number) => readonly CombinationForces[] {
  const { solved, combinations, placement } = prepared;
  const everywhere = unweighted(solved, combinations);
  const byDepth = new Map<number, Unweighted>();
  const nearLeftOut = (depthIn: number): Unweighted => {
    const known = byDepth.get(depthIn) ?? unweighted(solvedForShear(prepared, depthIn), combinations);
    byDepth.set(depthIn, known);
    return known;
  };
  return (weightPlf, depthIn) => {
    const whole = weighted(everywhere, combinations, weightPlf);
    const near = placement === 'dropped' ? weighted(nearLeftOut(depthIn), combinations, weightPlf) : whole;
    return whole.map(({ analysis, extremes }, index) => ({
      name: combinations[index]?.name ?? '',
      durationFactor: combinations[index]?.durationFactor ?? 1,
      momentMaxLbIn: extremes.momentLbIn.max.value,
      momentMinLbIn: extremes.momentLbIn.min.value,
      shearLb: largest(extremes.shearLb),
      shearNearLb: largest((near[index]?.extremes ?? extremes).shearLb),
      reactionsLb: analysis.reactions.map(({ forceLb }) => forceLb),
    }));
  };
}
