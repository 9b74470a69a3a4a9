import { demoBeam, demoCriteria, demoFootings, demoSupports, demoSurvey } from '../src/demo/cinder-ferry.ts';
import { analyseBeamActions, OWN_WEIGHT, withOwnWeight } from '../src/engineering/proposal/beam-actions.ts';
import { calculateOpening } from '../src/engineering/proposal/opening.ts';
import { searchBeams } from '../src/engineering/proposal/search/search-beams.ts';
import type { BeamLoad } from '../src/engineering/statics/index.ts';
import { solveByStiffness } from '../tests/published/direct-stiffness.ts';

/**
 * Medians within one run, as ratios to an independent reference on the same case: the beam of the demo house solved
 * by direct stiffness with a linear-algebra package, once for each of its combinations.
 */
const WARM_UP = 30;
const RUNS = 61;

function medianMs(work: () => void, runs = RUNS): number {
  for (let run = 0; run < Math.min(WARM_UP, runs); run += 1) work();
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
const actions = analyseBeamActions(demoSurvey, demoCriteria, demoBeam, 14.55, 9.5);
const { model } = actions.solved.line;

/** All loads of one combination, factored, for the reference. */
const combined = actions.combinations.map(({ factors }): BeamLoad[] =>
  actions.solved.cases.flatMap(({ kind }) => {
    const factor = withOwnWeight(factors, actions.weightPlf)[kind] ?? 0;
    if (factor === 0) return [];
    const lb = kind === OWN_WEIGHT ? 1 : 100;
    return [
      { kind: 'uniform', loadLbPerIn: (factor * lb) / 12 },
      { kind: 'point', atIn: model.lengthIn / 3, loadLb: factor * lb },
    ];
  }),
);

const reference = medianMs(() => {
  for (const loads of combined) solveByStiffness(model, loads, []);
});
const whole = medianMs(() => {
  calculateOpening(opening);
});
const input = {
  survey: demoSurvey,
  criteria: demoCriteria,
  beam: { placement: 'flush' as const, bearingLeftIn: 4.5, bearingRightIn: 4.5 },
};
const { judged } = searchBeams(input);
const search = medianMs(() => {
  searchBeams(input);
}, 11);

const row = (name: string, ms: number) => {
  console.log(
    `${name.padEnd(58)} ${ms.toFixed(3).padStart(9)} ms ${(ms / reference).toFixed(2).padStart(9)} x`,
  );
};
console.log(`${''.padEnd(58)} ${'median'.padStart(12)} ${'reference'.padStart(11)}`);
row(`reference: direct stiffness, ${combined.length} combinations of one beam`, reference);
row('one whole opening: loads to soil, every check with its trace', whole);
row(`catalogue search, ${judged} members on every check`, search);
console.log(`per member of the search: ${((search / judged) * 1000).toFixed(1)} us`);
