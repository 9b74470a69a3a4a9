import { loadsOnBeam, selfWeight } from '../loads/beam-interval.ts';
import {
  allowableStressCombinations,
  kindsPresent,
  snowCasesOf,
  type LoadCombination,
} from '../loads/combinations.ts';
import type { Load, LoadKind, SnowCase } from '../loads/load.ts';
import { takeOffLoads, type LoadTakeOff } from '../loads/take-off/take-off.ts';
import {
  envelopeOf,
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
  /** Statics with E·I = 1 lb-in²: deflections are E·I·δ, lb-in³. */
  readonly solved: SolvedCases;
  readonly envelope: BeamEnvelope;
  /** The same with the loads near the supports left out, where NDS 3.4.3.1 lets them be. */
  readonly envelopeForShear: BeamEnvelope;
  /** Unfactored reactions by kind of load, lb, up positive. */
  readonly reactions: Readonly<Record<'left' | 'right', Readonly<Record<string, number>>>>;
}

export function caseName(load: Pick<Load, 'kind' | 'snowCase'>): CaseName {
  return load.kind === 'S' ? `S ${load.snowCase ?? 'balanced'}` : load.kind;
}

/**
 * Everything that acts on the beam. The beam is a simple span between the centres of its bearings; what lies on
 * the outer half of a bearing goes straight down into it.
 *
 * @param weightPlf the member's own weight
 * @param depthIn its depth, for the loads that NDS 3.4.3.1 leaves out of shear
 * @throws Refusal with the path of the survey's or the beam's entry
 */
export function analyseBeamActions(
  survey: Survey,
  criteria: Criteria,
  beam: Pick<Beam, 'placement' | 'bearingLeftIn' | 'bearingRightIn'>,
  weightPlf: number,
  depthIn: number,
): BeamActions {
  const geometry = beamGeometry(survey, beam);
  const takeOff = takeOffLoads(survey, criteria, {
    joistsAtBeam: beam.placement === 'flush' ? 'cut' : 'as surveyed',
  });
  const split = loadsOnBeam(takeOff.loads, geometry);
  const loads = [...split.loads, selfWeight(weightPlf, geometry.lengthIn)];
  const combinations = beamCombinations(loads, criteria);
  const model: BeamModel = {
    lengthIn: geometry.spanIn,
    supports: [
      { atIn: 0, kind: 'pin' },
      { atIn: geometry.spanIn, kind: 'pin' },
    ],
    ei: 1,
  };
  const cases = loadCasesOf(loads, geometry);
  const solved = solveLoadCases(model, cases);
  const envelope = envelopeOf(solved, combinations);
  return {
    geometry,
    takeOff,
    loads,
    beside: split.besideBeam,
    notices: [...takeOff.notices, ...split.notices],
    combinations,
    solved,
    envelope,
    envelopeForShear:
      beam.placement === 'dropped' ? shearEnvelope(model, cases, combinations, geometry, depthIn) : envelope,
    reactions: reactionsByKind(solved),
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

function shearEnvelope(
  model: BeamModel,
  cases: readonly LoadCase[],
  combinations: readonly BeamCombination[],
  geometry: BeamGeometry,
  depthIn: number,
): BeamEnvelope {
  const half = Math.min(geometry.bearingLeftIn, geometry.bearingRightIn) / 2;
  const kept = cases.map((one) => ({ ...one, loads: loadsForShear(model, one.loads, depthIn, half) }));
  return envelopeOf(solveLoadCases(model, kept), combinations);
}

function reactionsByKind(solved: SolvedCases): BeamActions['reactions'] {
  const left: Record<string, number> = {};
  const right: Record<string, number> = {};
  for (const { kind, parts } of solved.cases) {
    left[kind] = parts.reduce((sum, part) => sum + (part.reactions[0]?.forceLb ?? 0), 0);
    right[kind] = parts.reduce((sum, part) => sum + (part.reactions[1]?.forceLb ?? 0), 0);
  }
  return { left, right };
}
