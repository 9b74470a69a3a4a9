import type { Clause, Editions } from '../trace/clause.ts';
import { durationFactor, shortestDuration } from './duration.ts';
import { isZero, LOAD_KINDS, type Load, type LoadKind, type SnowCase } from './load.ts';

/** One combination, spelled out for the loads that are present: 'D + 0.75L + 0.525S'. */
export interface LoadCombination {
  /** 'ASD 4 S': method, number of the basic combination, the roof load chosen. */
  readonly id: string;
  readonly name: string;
  /** The combination as the standard prints it, with its alternatives. */
  readonly basic: string;
  readonly method: 'ASD' | 'strength';
  readonly factors: Readonly<Record<LoadKind, number>>;
  /** CD of NDS Table 2.3.2 by the shortest load present; for wood, ASD only. 1 in strength combinations. */
  readonly durationFactor: number;
  readonly shortest: LoadKind;
  readonly clause: Clause;
}

type RoofLoad = 'Lr' | 'S';

interface BasicCombination {
  readonly number: number;
  /** The standard's own text. Rain (R) is named there and not carried by this program. */
  readonly text: string;
  readonly base: Partial<Record<LoadKind, number>>;
  /** Factors where "(Lr or S)" offers a choice: one combination for each. */
  readonly roof?: Readonly<Record<RoofLoad, number>>;
  /** Where "(L or 0.5W)" offers a choice. */
  readonly companion?: readonly Partial<Record<LoadKind, number>>[];
}

/**
 * ASCE 7 2.4.1. In 7-22 the ground snow load is strength-level, so S enters service combinations as 0.7S
 * (and 0.75 · 0.7 = 0.525; 3a, 4a and 6a seen quoted in a public article). Earthquake (8 to 10) is not part of a beam's gravity proposal.
 */
function basicAsd(asce7: Editions['asce7']): readonly BasicCombination[] {
  const snow = asce7 === '7-22' ? 0.7 : 1;
  const roofText = asce7 === '7-22' ? '(Lr or 0.7S or R)' : '(Lr or S or R)';
  return [
    { number: 1, text: 'D', base: { D: 1 } },
    { number: 2, text: 'D + L', base: { D: 1, L: 1 } },
    { number: 3, text: `D + ${roofText}`, base: { D: 1 }, roof: { Lr: 1, S: snow } },
    {
      number: 4,
      text: `D + 0.75L + 0.75${roofText}`,
      base: { D: 1, L: 0.75 },
      roof: { Lr: 0.75, S: 0.75 * snow },
    },
    { number: 5, text: 'D + 0.6W', base: { D: 1, W: 0.6 } },
    {
      number: 6,
      text: `D + 0.75L + 0.75(0.6W) + 0.75${roofText}`,
      base: { D: 1, L: 0.75, W: 0.75 * 0.6 },
      roof: { Lr: 0.75, S: 0.75 * snow },
    },
    { number: 7, text: '0.6D + 0.6W', base: { D: 0.6, W: 0.6 } },
  ];
}

/**
 * ASCE 7 2.3.1. 7-22 takes 1.0S and 0.3S where 7-16 takes 1.6S and 0.5S. The exception that lets L drop to
 * 0.5 in combinations 3 and 4 is not used: the full L stays, which is never less.
 */
function basicStrength(asce7: Editions['asce7']): readonly BasicCombination[] {
  const is22 = asce7 === '7-22';
  const light = { Lr: 0.5, S: is22 ? 0.3 : 0.5 };
  const lightText = is22 ? '(0.5Lr or 0.3S or 0.5R)' : '0.5(Lr or S or R)';
  const heavyText = is22 ? '(1.6Lr or 1.0S or 1.6R)' : '1.6(Lr or S or R)';
  return [
    { number: 1, text: '1.4D', base: { D: 1.4 } },
    { number: 2, text: `1.2D + 1.6L + ${lightText}`, base: { D: 1.2, L: 1.6 }, roof: light },
    {
      number: 3,
      text: `1.2D + ${heavyText} + (L or 0.5W)`,
      base: { D: 1.2 },
      roof: { Lr: 1.6, S: is22 ? 1 : 1.6 },
      companion: [{ L: 1 }, { W: 0.5 }],
    },
    { number: 4, text: `1.2D + 1.0W + L + ${lightText}`, base: { D: 1.2, W: 1, L: 1 }, roof: light },
    { number: 5, text: '0.9D + 1.0W', base: { D: 0.9, W: 1 } },
  ];
}

function termText(kind: LoadKind, factor: number): string {
  const shown = Number(factor.toFixed(4));
  return shown === 1 ? kind : `${shown}${kind}`;
}

/** Of "(Lr or S)" only what is there is a choice; where nothing is, the combination stands without. */
function choicesPresent<Choice>(
  choices: readonly Choice[],
  isPresent: (choice: Choice) => boolean,
): readonly (Choice | undefined)[] {
  const there = choices.filter(isPresent);
  return there.length === 0 ? [undefined] : there;
}

function combine(
  basic: BasicCombination,
  method: LoadCombination['method'],
  clause: Clause,
  present: ReadonlySet<LoadKind>,
): LoadCombination[] {
  const roofChoices = choicesPresent(basic.roof ? (['Lr', 'S'] as const) : [], (kind) => present.has(kind));
  // Of "(L or 0.5W)" L stays a choice where there is none: 1.2D + 1.6S is not had together with half an uplift alone.
  const companions = (basic.companion ?? [{}]).filter(
    (companion) => companion.W === undefined || present.has('W'),
  );
  const spelled: LoadCombination[] = [];
  for (const roofLoad of roofChoices) {
    for (const companion of companions) {
      const wanted: Partial<Record<LoadKind, number>> = { ...basic.base, ...companion };
      if (roofLoad && basic.roof) wanted[roofLoad] = basic.roof[roofLoad];
      const factors: Record<LoadKind, number> = { D: 0, L: 0, Lr: 0, S: 0, W: 0 };
      for (const kind of LOAD_KINDS) if (present.has(kind)) factors[kind] = wanted[kind] ?? 0;
      const acting = LOAD_KINDS.filter((kind) => factors[kind] !== 0);
      const shortest = shortestDuration(acting);
      const choices = [
        ...LOAD_KINDS.filter((kind) => companion[kind] !== undefined),
        ...(roofLoad ? [roofLoad] : []),
      ];
      spelled.push({
        id: [method, basic.number, ...choices.filter((kind) => factors[kind] !== 0)].join(' '),
        name: acting.map((kind) => termText(kind, factors[kind])).join(' + '),
        basic: basic.text,
        method,
        factors,
        durationFactor: method === 'ASD' ? durationFactor(shortest) : 1,
        shortest,
        clause,
      });
    }
  }
  return spelled;
}

/**
 * Two combinations that differ in nothing count once. Of several with the same D and one and the same variable
 * load ("D + L", "D + 0.75L") only the largest stays: the smaller lies between it and D, and D is judged at its
 * own, stricter CD. Of those with dead load alone ("D", "0.6D") only the heaviest stays.
 */
function withoutRepeats(combinations: readonly LoadCombination[]): LoadCombination[] {
  const byName = new Map<string, LoadCombination>();
  for (const combination of combinations) {
    if (combination.name !== '' && !byName.has(combination.name)) byName.set(combination.name, combination);
  }
  const distinct = [...byName.values()];
  return distinct.filter((candidate) => !distinct.some((other) => covers(other, candidate)));
}

function covers(other: LoadCombination, candidate: LoadCombination): boolean {
  const variable = variableKinds(candidate);
  const [only] = variable;
  if (variable.length > 1 || variableKinds(other).join() !== variable.join()) return false;
  if (only === undefined) return other.factors.D > candidate.factors.D;
  return other.factors.D === candidate.factors.D && other.factors[only] > candidate.factors[only];
}

function variableKinds(combination: LoadCombination): LoadKind[] {
  return LOAD_KINDS.filter((kind) => kind !== 'D' && combination.factors[kind] !== 0);
}

/** The standard's list as printed, for the report and for checking against it. */
export function basicCombinationTexts(asce7: Editions['asce7'], method: LoadCombination['method']): string[] {
  return (method === 'ASD' ? basicAsd(asce7) : basicStrength(asce7)).map((basic) => basic.text);
}

/**
 * Allowable stress combinations for the kinds that are really there. A load that is absent does not lend its
 * short duration: without snow there is no 1.15.
 */
export function allowableStressCombinations(
  editions: Pick<Editions, 'asce7'>,
  present: ReadonlySet<LoadKind>,
): LoadCombination[] {
  const clause: Clause = {
    standard: 'ASCE 7',
    edition: editions.asce7,
    section: '2.4.1',
    provenance: 'from memory',
  };
  return withoutRepeats(basicAsd(editions.asce7).flatMap((basic) => combine(basic, 'ASD', clause, present)));
}

/** Strength combinations, for plain concrete (ACI 318 5.3.1 takes the same factors). */
export function strengthCombinations(
  editions: Pick<Editions, 'asce7'>,
  present: ReadonlySet<LoadKind>,
): LoadCombination[] {
  const clause: Clause = {
    standard: 'ASCE 7',
    edition: editions.asce7,
    section: '2.3.1',
    provenance: 'from memory',
  };
  return withoutRepeats(
    basicStrength(editions.asce7).flatMap((basic) => combine(basic, 'strength', clause, present)),
  );
}

/**
 * What to multiply S by where service-level snow is wanted (deflection, soil pressure): 1 in 7-16; 0.7 in
 * 7-22, the factor of its own service combinations.
 */
export function serviceSnowFactor(editions: Pick<Editions, 'asce7'>): number {
  return editions.asce7 === '7-22' ? 0.7 : 1;
}

export function kindsPresent(loads: readonly Load[]): Set<LoadKind> {
  return new Set(loads.filter((load) => !isZero(load)).map((load) => load.kind));
}

/** The ways snow lies among these loads; [undefined] where there is no snow, so that a loop runs once. */
export function snowCasesOf(loads: readonly Load[]): readonly (SnowCase | undefined)[] {
  const cases = new Set<SnowCase>();
  for (const load of loads) if (load.snowCase !== undefined && !isZero(load)) cases.add(load.snowCase);
  return cases.size === 0 ? [undefined] : [...cases];
}

/** The factor of one load in one combination and one way for the snow to lie; 0 where it does not act. */
export function loadFactor(
  load: Load,
  combination: Pick<LoadCombination, 'factors'>,
  snowCase: SnowCase | undefined,
): number {
  if (load.kind === 'S' && load.snowCase !== snowCase) return 0;
  return combination.factors[load.kind];
}
