import { demoBeam, demoCriteria, demoFootings, demoSupports, demoSurvey } from '../src/demo/cinder-ferry.ts';
import { actOn, prepareBeam, withOwnWeight } from '../src/engineering/proposal/beam-actions.ts';
import { calculateOpening } from '../src/engineering/proposal/opening.ts';
import { searchBeams } from '../src/engineering/proposal/search/search-beams.ts';
import type { BeamLoad } from '../src/engineering/statics/index.ts';
import { solveByStiffness } from '../tests/published/direct-stiffness.ts';

/**
 * Medians within one run, as ratios to an independent reference on the same case: the beam of the demo house solved
 * by direct stiffness with a linear-algebra package, once for each of its combinations. Whatever else runs on the
 * machine slows both; the ratio is what can be compared.
 */
const RUNS = 401;

/** Each run as often again beforehand, until the compiler has done what it does in a server that has been up a while. */
function medianMs(work: () => void, runs = RUNS): number {
  for (let run = 0; run < runs; run += 1) work();
  const times = Array.from({ length: runs }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  }).sort((one, other) => one - other);
  return times[Math.floor(times.length / 2)] ?? 0;
}

const opening = {
  criteria: demoCriteria,
  survey: demoSurvey,
  beam: demoBeam,
  supports: demoSupports,
  footings: demoFootings,
  rows: [],
};
const prepared = prepareBeam(demoSurvey, demoCriteria, demoBeam);
const start = performance.now();
const { weightPlf } = calculateOpening(opening).beam.actions;
const firstMs = performance.now() - start;
const { combinations } = actOn(prepared, weightPlf, 9.5);

/** One load made heavier or lighter. */
function scaled(load: BeamLoad, factor: number): BeamLoad {
  switch (load.kind) {
    case 'point':
      return { ...load, loadLb: load.loadLb * factor };
    case 'couple':
      return { ...load, coupleLbIn: load.coupleLbIn * factor };
    case 'uniform':
    case 'partial':
      return { ...load, loadLbPerIn: load.loadLbPerIn * factor };
    case 'trapezoidal':
      return {
        ...load,
        startLbPerIn: load.startLbPerIn * factor,
        endLbPerIn: load.endLbPerIn * factor,
      };
  }
}

/** The very loads of the opening, factored, for the reference. */
const combined = combinations.map(({ factors }): BeamLoad[] => {
  const all = withOwnWeight(factors, weightPlf);
  return prepared.cases.flatMap(({ kind, loads }) => {
    const factor = all[kind] ?? 0;
    return factor === 0 ? [] : loads.map((load) => scaled(load, factor));
  });
});

/** The reference is only one if it solves the same case: its reactions are those of the engine. */
const largestDifference = Math.max(
  ...combined.map((loads, index) => {
    const [left] = solveByStiffness(prepared.model, loads, []).reactions;
    const ours = combinations[index];
    const engine = prepared.solved.cases.reduce((sum, { kind, parts }) => {
      const factor = ours === undefined ? 0 : (withOwnWeight(ours.factors, weightPlf)[kind] ?? 0);
      return sum + factor * (parts[0]?.reactions[0]?.forceLb ?? 0);
    }, 0);
    return Math.abs((left?.forceLb ?? 0) / engine - 1);
  }),
);

const reference = medianMs(() => {
  for (const loads of combined) solveByStiffness(prepared.model, loads, []);
});
const whole = medianMs(() => {
  calculateOpening(opening);
});
const input = {
  survey: demoSurvey,
  criteria: demoCriteria,
  beam: { placement: 'flush' as const, bearingLeftIn: 4.5, bearingRightIn: 4.5 },
};
const dropped = { ...input, beam: { ...input.beam, placement: 'dropped' as const } };
const { judged } = searchBeams(input);
const search = medianMs(() => {
  searchBeams(input);
}, 21);
const searchDropped = medianMs(() => {
  searchBeams(dropped);
}, 21);

if (!(largestDifference < 1e-9)) {
  throw new Error(`The reference solves another case: its reactions differ by ${largestDifference}.`);
}
const row = (name: string, ms: number) => {
  console.log(
    `${name.padEnd(58)} ${ms.toFixed(3).padStart(9)} ms ${(ms / reference).toFixed(2).padStart(9)} x`,
  );
};
console.log(`${''.padEnd(58)} ${'median'.padStart(12)} ${'reference'.padStart(11)}`);
row(`reference: direct stiffness, ${combined.length} combinations of one beam`, reference);
row('one whole opening: loads to soil, every check with its trace', whole);
row('the same, the first one of a fresh process', firstMs);
row(`catalogue search, flush, ${judged} members on every check`, search);
row('the same, dropped: statics once more for each depth', searchDropped);
console.log(`per member of the search: ${((search / judged) * 1000).toFixed(1)} us`);
