import { finite, refuseUnless } from '../trace/index.ts';
import { refuseOverflow, type BeamAnalysis } from './beam-analysis.ts';
import { layOutBeam, type BeamLine } from './beam-line.ts';
import { loadWithin, refuseBadLoads, type BeamLoad } from './beam-loads.ts';
import { panelsOf, refuseBadBeam, type BeamModel, type Panel } from './beam-model.ts';
import type { PanelShares, PatternRule } from './patterns.ts';
import { solveCase } from './solve-case.ts';
import { Superposition } from './superposition.ts';

/** All loads of one kind (D, L, Lr, S, W, E …) at their nominal size. */
export interface LoadCase {
  readonly kind: string;
  readonly loads: readonly BeamLoad[];
  /** How the load may be left off parts of a continuous beam; `none` if omitted. */
  readonly pattern?: PatternRule;
}

/** Every kind of load solved once, by itself; combinations are sums of these. */
export interface SolvedCases {
  readonly line: BeamLine;
  readonly panels: readonly Panel[];
  readonly cases: readonly SolvedCase[];
  /** What the settlements alone do; joins every combination with factor 1. Undefined where there are none. */
  readonly settlements: BeamAnalysis | undefined;
}

export interface SolvedCase {
  readonly kind: string;
  readonly pattern: PatternRule;
  /** The whole load, or for a kind with a pattern on several panels the load of each panel. */
  readonly parts: readonly BeamAnalysis[];
}

/** How a patterned kind is arranged in one combination. */
export interface Arrangement {
  readonly kind: string;
  readonly shares: PanelShares;
}

/** Solves each kind of load once. Refuses what `analyseBeam` refuses, and a kind given twice. */
export function solveLoadCases(model: BeamModel, loadCases: readonly LoadCase[]): SolvedCases {
  refuseBadBeam(model);
  loadCases.forEach(({ kind, loads }, index) => {
    const path = `loadCases.${index}`;
    const first = loadCases.findIndex((other) => other.kind === kind);
    refuseUnless(first === index, `${path}.kind`, `${path}.kind ${kind} is already loadCases.${first}.`);
    refuseBadLoads(model, loads, `${path}.loads`);
  });
  const panels = panelsOf(model);
  const line = layOutBeam(
    model,
    loadCases.flatMap(({ loads }) => loads),
  );
  const cases = loadCases.map(({ kind, loads, pattern = 'none' }): SolvedCase => {
    const split = pattern === 'none' ? [loads] : splitByPanel(loads, panels);
    return { kind, pattern, parts: split.map((part) => solveCase(line, part, false)) };
  });
  const settles = model.supports.some(({ settlementIn = 0 }) => settlementIn !== 0);
  return { line, panels, cases, settlements: settles ? solveCase(line, [], true) : undefined };
}

/** The loads of each panel; a point load or couple over a support goes with the panel left of it. */
function splitByPanel(
  loads: readonly BeamLoad[],
  panels: readonly Panel[],
): readonly (readonly BeamLoad[])[] {
  const split = panels.map((): BeamLoad[] => []);
  for (const load of loads) {
    if (load.kind === 'point' || load.kind === 'couple') {
      const holder = panels.findIndex(({ toIn }) => load.atIn <= toIn);
      split.at(holder)?.push(load);
      continue;
    }
    panels.forEach(({ fromIn, toIn }, index) => {
      const part = loadWithin(load, fromIn, toIn);
      if (part !== undefined) split[index]?.push(part);
    });
  }
  return split;
}

/**
 * The sum of the solved kinds times their factors, with the settlements once. A kind without a factor is
 * left out, a factor without a kind has nothing to multiply. Arrangements set the panels of patterned kinds;
 * a kind without one is loaded everywhere.
 */
export function combine(
  solved: SolvedCases,
  factors: Readonly<Record<string, number>>,
  arrangements: readonly Arrangement[] = [],
): BeamAnalysis {
  const sum = new Superposition(solved.line);
  for (const { kind, parts } of solved.cases) {
    const factor = finite(factors[kind] ?? 0, `factors.${kind}`);
    const shares = arrangements.find((arrangement) => arrangement.kind === kind)?.shares;
    parts.forEach((part, index) => {
      sum.add(part, factor * (shares?.[index] ?? 1));
    });
  }
  if (solved.settlements !== undefined) sum.add(solved.settlements, 1);
  refuseOverflow(sum);
  return sum;
}

/** What is known already, with one more load on it. */
export function superpose(known: BeamAnalysis, more: BeamAnalysis, factor: number): BeamAnalysis {
  const sum = new Superposition(known.line);
  sum.add(known, 1);
  sum.add(more, finite(factor, 'factor'));
  refuseOverflow(sum);
  return sum;
}
