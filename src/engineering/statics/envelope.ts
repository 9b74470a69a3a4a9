import { finite, positive, refuseUnless } from '../trace/index.ts';
import type { BeamAnalysis } from './beam-analysis.ts';
import { extremesOf, SAME_VALUE, type Extreme, type Extremes } from './extremes.ts';
import { combine, type Arrangement, type SolvedCases } from './load-cases.ts';
import { arrangementsOf } from './patterns.ts';

/** A load combination: a factor for each kind of load, and the load-duration factor CD (NDS §2.3.2) it is judged with. */
export interface Combination {
  readonly name: string;
  readonly factors: Readonly<Record<string, number>>;
  readonly durationFactor: number;
}

/** One combination in one arrangement of its patterned loads. */
export interface CombinationResult {
  readonly combination: Combination;
  /** Empty where every load is in full. */
  readonly arrangements: readonly Arrangement[];
  readonly analysis: BeamAnalysis;
  readonly extremes: Extremes;
}

/** An extreme value, and what brings it about. */
export interface Governing extends Extreme {
  readonly result: CombinationResult;
}

export interface GoverningRange {
  readonly max: Governing;
  readonly min: Governing;
}

export interface ReactionEnvelope {
  readonly atIn: number;
  readonly forceLb: GoverningRange;
  readonly momentLbIn: GoverningRange;
}

export interface SectionEnvelope {
  readonly shearLb: GoverningRange;
  readonly momentLbIn: GoverningRange;
  readonly slopeRad: GoverningRange;
  readonly deflectionIn: GoverningRange;
}

export interface Envelope extends SectionEnvelope {
  /** In the order of the model's supports. */
  readonly reactions: readonly ReactionEnvelope[];
  readonly results: readonly CombinationResult[];
}

export interface CombinationEnvelope extends Envelope {
  readonly combination: Combination;
}

export interface BeamEnvelope extends Envelope {
  /** One for each combination, in the order given: members are judged by each with its own CD. */
  readonly byCombination: readonly CombinationEnvelope[];
}

/**
 * The extremes of all combinations in all arrangements of their patterned loads. Of equal extremes the
 * first combination, the fuller arrangement and the leftmost place is named. Refuses an empty list.
 */
export function envelopeOf(solved: SolvedCases, combinations: readonly Combination[]): BeamEnvelope {
  const byCombination = combinations.map((combination, index): CombinationEnvelope => {
    positive(combination.durationFactor, `combinations.${index}.durationFactor`);
    for (const [kind, factor] of Object.entries(combination.factors)) {
      finite(factor, `combinations.${index}.factors.${kind}`);
    }
    const results = arrangementsFor(solved, combination).map((arrangements): CombinationResult => {
      const analysis = combine(solved, combination.factors, arrangements);
      return { combination, arrangements, analysis, extremes: extremesOf(analysis) };
    });
    return { combination, ...envelope(results) };
  });
  return { byCombination, ...envelope(byCombination.flatMap(({ results }) => results)) };
}

/** The extremes of some results between two places: the deflection of one span, the shear of one panel. */
export function envelopeWithin(
  results: readonly CombinationResult[],
  fromIn: number,
  toIn: number,
): SectionEnvelope {
  const sections = new SectionTally();
  for (const result of results) sections.take(extremesOf(result.analysis, fromIn, toIn), result);
  return sections.ranges();
}

/** Every joint arrangement of the kinds that this combination holds and that have a pattern; full load first. */
function arrangementsFor(solved: SolvedCases, combination: Combination): readonly (readonly Arrangement[])[] {
  let joint: (readonly Arrangement[])[] = [[]];
  for (const { kind, pattern } of solved.cases) {
    if (pattern === 'none' || (combination.factors[kind] ?? 0) === 0) continue;
    const [, ...partial] = arrangementsOf(pattern, solved.panels.length);
    joint = joint.flatMap((others) => [others, ...partial.map((shares) => [...others, { kind, shares }])]);
  }
  return joint;
}

class Tally {
  max: Governing | undefined;
  min: Governing | undefined;

  take(max: Extreme, min: Extreme, result: CombinationResult): void {
    if (this.max === undefined || max.value - this.max.value > SAME_VALUE * Math.abs(max.value)) {
      this.max = { value: max.value, atIn: max.atIn, result };
    }
    if (this.min === undefined || this.min.value - min.value > SAME_VALUE * Math.abs(min.value)) {
      this.min = { value: min.value, atIn: min.atIn, result };
    }
  }

  range(): GoverningRange {
    const { max, min } = this;
    refuseUnless(
      max !== undefined && min !== undefined,
      'combinations',
      'combinations: an envelope needs at least one combination.',
    );
    return { max, min };
  }
}

class SectionTally {
  readonly #shearLb = new Tally();
  readonly #momentLbIn = new Tally();
  readonly #slopeRad = new Tally();
  readonly #deflectionIn = new Tally();

  take({ shearLb, momentLbIn, slopeRad, deflectionIn }: Extremes, result: CombinationResult): void {
    this.#shearLb.take(shearLb.max, shearLb.min, result);
    this.#momentLbIn.take(momentLbIn.max, momentLbIn.min, result);
    this.#slopeRad.take(slopeRad.max, slopeRad.min, result);
    this.#deflectionIn.take(deflectionIn.max, deflectionIn.min, result);
  }

  ranges(): SectionEnvelope {
    return {
      shearLb: this.#shearLb.range(),
      momentLbIn: this.#momentLbIn.range(),
      slopeRad: this.#slopeRad.range(),
      deflectionIn: this.#deflectionIn.range(),
    };
  }
}

function envelope(results: readonly CombinationResult[]): Envelope {
  const sections = new SectionTally();
  const forces: Tally[] = [];
  const moments: Tally[] = [];
  for (const result of results) {
    sections.take(result.extremes, result);
    result.analysis.reactions.forEach(({ atIn, forceLb, momentLbIn }, index) => {
      const force = { value: forceLb, atIn };
      (forces[index] ??= new Tally()).take(force, force, result);
      const moment = { value: momentLbIn, atIn };
      (moments[index] ??= new Tally()).take(moment, moment, result);
    });
  }
  const reactions = forces.map((force, index): ReactionEnvelope => {
    const forceLb = force.range();
    return { atIn: forceLb.max.atIn, forceLb, momentLbIn: (moments[index] ?? force).range() };
  });
  return { ...sections.ranges(), reactions, results };
}
