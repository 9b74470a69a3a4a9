import { loadsOnBeam, selfWeight, type LoadsOnBeam } from '../loads/beam-interval.ts';
import {
  allowableStressCombinations,
  kindsPresent,
  snowCasesOf,
  type LoadCombination,
} from '../loads/combinations.ts';
import type { Load, LoadKind, SnowCase } from '../loads/load.ts';
import { takeOffLoads, type LoadTakeOff } from '../loads/take-off/take-off.ts';
import {
  combine,
  envelopeOf,
  extremesOf,
  loadsForShear,
  solveLoadCases,
  type BeamEnvelope,
  type BeamLoad,
  type BeamModel,
  type LoadCase,
  type SolvedCases,
} from '../statics/index.ts';
import { poundsPerInchFromPlf } from '../units/conversions.ts';
import { beamGeometry, type BeamGeometry } from './beam-geometry.ts';
import type { Criteria } from './criteria.ts';
import type { Beam } from './design.ts';
import type { Survey } from './survey.ts';

/** A kind of load as the statics keeps it: each way for the snow to lie is a case of its own. */
export type CaseName = Exclude<LoadKind, 'S'> | `S ${SnowCase}`;

/** A combination with one way for the snow to lie. */
export interface BeamCombination {
  readonly name: string;
  readonly durationFactor: number;
  readonly factors: Readonly<Record<string, number>>;
  readonly combination: LoadCombination;
}

export interface BeamActions {
  readonly geometry: BeamGeometry;
  readonly takeOff: LoadTakeOff;
  /** On the beam, from its left end; its own weight among them. */
  readonly loads: readonly Load[];
  /** Point loads that stay on the wall beside it. */
  readonly beside: readonly Load[];
  readonly notices: LoadTakeOff['notices'];
  readonly combinations: readonly BeamCombination[];
  /**
   * Statics with E·I = 1 lb-in²: deflections are E·I·δ, lb-in³. The member's own weight is the case OWN_WEIGHT, of
   * 1 plf, which `withOwnWeight` brings to its size.
   */
  readonly solved: SolvedCases;
  readonly passing: readonly PassingSag[];
  readonly weightPlf: number;
  readonly envelope: BeamEnvelope;
  /** The same with the loads near the supports left out, where NDS 3.4.3.1 lets them be. */
  readonly envelopeForShear: BeamEnvelope;
  /** Unfactored reactions by kind of load, lb, up positive. */
  readonly reactions: Readonly<Record<'left' | 'right', Readonly<Record<string, number>>>>;
}

export function caseName(load: Pick<Load, 'kind' | 'snowCase'>): CaseName {
  return load.kind === 'S' ? `S ${load.snowCase ?? 'balanced'}` : load.kind;
}

/** The case of the member's own weight, solved once for 1 plf. */
export const OWN_WEIGHT = 'own weight';

/** Factors of a combination with the own weight, which goes with D, at its size. */
export function withOwnWeight(
  factors: Readonly<Record<string, number>>,
  weightPlf: number,
): Readonly<Record<string, number>> {
  return { ...factors, [OWN_WEIGHT]: (factors.D ?? 0) * weightPlf };
}

/** The sag under the loads of one combination that come and go, as E·I·δ; the member's weight has no part in it. */
export interface PassingSag {
  /** 'L', '0.75L + 0.75S'; 'D alone' where nothing comes and goes. */
  readonly name: string;
  readonly eiLbIn3: number;
}

/** What does not depend on the member: one take-off and one solution serve every candidate. */
export interface PreparedBeam {
  readonly geometry: BeamGeometry;
  readonly takeOff: LoadTakeOff;
  readonly split: LoadsOnBeam;
  readonly combinations: readonly BeamCombination[];
  readonly model: BeamModel;
  readonly cases: readonly LoadCase[];
  readonly solved: SolvedCases;
  readonly passing: readonly PassingSag[];
  readonly placement: Beam['placement'];
}

/**
 * Loads and statics of an opening, but for the member's own weight. The beam is a simple span between the centres of
 * its bearings; what lies on the outer half of a bearing goes straight down into it.
 *
 * @throws Refusal with the path of the survey's or the beam's entry
 */
export function prepareBeam(
  survey: Survey,
  criteria: Criteria,
  beam: Pick<Beam, 'placement' | 'bearingLeftIn' | 'bearingRightIn'>,
): PreparedBeam {
  const geometry = beamGeometry(survey, beam);
  const takeOff = takeOffLoads(survey, criteria, {
    joistsAtBeam: beam.placement === 'flush' ? 'cut' : 'as surveyed',
  });
  const split = loadsOnBeam(takeOff.loads, geometry);
  const own = selfWeight(1, geometry.lengthIn);
  const model: BeamModel = {
    lengthIn: geometry.spanIn,
    supports: [
      { atIn: 0, kind: 'pin' },
      { atIn: geometry.spanIn, kind: 'pin' },
    ],
    ei: 1,
  };
  const cases = [
    ...loadCasesOf(split.loads, geometry),
    { kind: OWN_WEIGHT, loads: asBeamLoads(own, geometry) },
  ];
  const combinations = beamCombinations([...split.loads, own], criteria);
  const solved = solveLoadCases(model, cases);
  return {
    geometry,
    takeOff,
    split,
    combinations,
    model,
    cases,
    solved,
    passing: passingSags(solved, combinations),
    placement: beam.placement,
  };
}

/** Each combination with the dead load in full, its wind apart, once. */
function passingSags(solved: SolvedCases, combinations: readonly BeamCombination[]): PassingSag[] {
  const sags = new Map<string, PassingSag>();
  for (const { factors, combination, name } of combinations) {
    if ((factors.W ?? 0) !== 0 || combination.factors.D !== 1) continue;
    const words = name.replace(/^D( \+ )?/, '') || 'D alone';
    if (!sags.has(words)) sags.set(words, { name: words, eiLbIn3: peakSag(solved, { ...factors, D: 0 }) });
  }
  return [...sags.values()];
}

/** The largest sag of the span, as E·I·δ; the sign is that of the larger of sag and rise. */
export function peakSag(solved: SolvedCases, factors: Readonly<Record<string, number>>): number {
  const { max, min } = extremesOf(combine(solved, factors)).deflectionIn;
  return max.value >= -min.value ? max.value : min.value;
}

/**
 * Everything that acts on a beam of this weight.
 *
 * @param depthIn the member's depth, for the loads that NDS 3.4.3.1 leaves out of shear
 */
export function actOn(prepared: PreparedBeam, weightPlf: number, depthIn: number): BeamActions {
  const { geometry, takeOff, split, solved, passing, placement } = prepared;
  const combinations = prepared.combinations.map((one) => ({
    ...one,
    factors: withOwnWeight(one.factors, weightPlf),
  }));
  const envelope = envelopeOf(solved, combinations);
  return {
    geometry,
    takeOff,
    loads: [...split.loads, selfWeight(weightPlf, geometry.lengthIn)],
    beside: split.besideBeam,
    notices: [...takeOff.notices, ...split.notices],
    combinations,
    solved,
    passing,
    weightPlf,
    envelope,
    envelopeForShear:
      placement === 'dropped' ? envelopeOf(solvedForShear(prepared, depthIn), combinations) : envelope,
    reactions: reactionsByKind(solved, weightPlf),
  };
}

/** Allowable stress combinations, each with every way for the snow to lie. */
function beamCombinations(loads: readonly Load[], criteria: Criteria): BeamCombination[] {
  const snowCases = snowCasesOf(loads);
  return allowableStressCombinations(criteria.editions, kindsPresent(loads)).flatMap((combination) =>
    (combination.factors.S === 0 ? [undefined] : snowCases).map((snowCase) => {
      const { D, L, Lr, S, W } = combination.factors;
      const factors: Record<string, number> = { D, L, Lr, W };
      if (snowCase !== undefined) factors[`S ${snowCase}`] = S;
      const unbalanced = snowCase !== undefined && snowCase !== 'balanced';
      return {
        name: unbalanced ? `${combination.name}, snow ${snowCase}` : combination.name,
        durationFactor: combination.durationFactor,
        factors,
        combination,
      };
    }),
  );
}

function loadCasesOf(loads: readonly Load[], geometry: BeamGeometry): LoadCase[] {
  const byCase = new Map<string, BeamLoad[]>();
  for (const load of loads) {
    const name = caseName(load);
    const list = byCase.get(name) ?? [];
    list.push(...asBeamLoads(load, geometry));
    byCase.set(name, list);
  }
  return [...byCase].map(([kind, list]) => ({ kind, loads: list }));
}

/** From beam coordinates (its left end) to the span (the centre of the left bearing). */
function asBeamLoads(load: Load, { spanIn, bearingLeftIn }: BeamGeometry): BeamLoad[] {
  const shift = bearingLeftIn / 2;
  if (load.form === 'point') {
    const atIn = Math.min(spanIn, Math.max(0, load.positionIn - shift));
    return load.loadLb === 0 ? [] : [{ kind: 'point', atIn, loadLb: load.loadLb }];
  }
  const loadLbPerIn = poundsPerInchFromPlf(load.loadPlf);
  if (loadLbPerIn === 0) return [];
  const from = load.fromIn - shift;
  const to = load.toIn - shift;
  const inner = { fromIn: Math.max(0, from), toIn: Math.min(spanIn, to) };
  const parts: BeamLoad[] = [];
  if (inner.toIn > inner.fromIn) parts.push({ kind: 'partial', ...inner, loadLbPerIn });
  const leftIn = Math.max(0, Math.min(0, to) - from);
  const rightIn = Math.max(0, to - Math.max(spanIn, from));
  if (leftIn > 0) parts.push({ kind: 'point', atIn: 0, loadLb: loadLbPerIn * leftIn });
  if (rightIn > 0) parts.push({ kind: 'point', atIn: spanIn, loadLb: loadLbPerIn * rightIn });
  return parts;
}

/** The same cases with the loads near the supports left out, as far as NDS 3.4.3.1 lets them be. */
export function solvedForShear(
  { model, cases, geometry }: Pick<PreparedBeam, 'model' | 'cases' | 'geometry'>,
  depthIn: number,
): SolvedCases {
  const half = Math.min(geometry.bearingLeftIn, geometry.bearingRightIn) / 2;
  return solveLoadCases(
    model,
    cases.map((one) => ({ ...one, loads: loadsForShear(model, one.loads, depthIn, half) })),
  );
}

function reactionsByKind(solved: SolvedCases, weightPlf: number): BeamActions['reactions'] {
  const left: Record<string, number> = {};
  const right: Record<string, number> = {};
  for (const { kind, parts } of solved.cases) {
    // The own weight is dead load.
    const [name, share] = kind === OWN_WEIGHT ? ['D', weightPlf] : [kind, 1];
    for (const part of parts) {
      left[name] = (left[name] ?? 0) + share * (part.reactions[0]?.forceLb ?? 0);
      right[name] = (right[name] ?? 0) + share * (part.reactions[1]?.forceLb ?? 0);
    }
  }
  return { left, right };
}
