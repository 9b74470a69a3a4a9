import { beforeAll, describe, expect, it } from 'vitest';
import {
  analyseBeam,
  combine,
  envelopeOf,
  envelopeWithin,
  extremesOf,
  solveLoadCases,
  superpose,
  valueAt,
  type BeamEnvelope,
  type BeamLoad,
  type BeamModel,
  type BeamSupport,
  type Combination,
  type LoadCase,
  type SolvedCases,
} from '../../../src/engineering/statics/index.ts';
import { arrangementsOf } from '../../../src/engineering/statics/patterns.ts';

const pin = (atIn: number, settlementIn = 0): BeamSupport => ({ atIn, kind: 'pin', settlementIn });
const SIMPLE: BeamModel = { lengthIn: 120, supports: [pin(0), pin(120)], ei: 1e6 };
const TWO_SPANS: BeamModel = { lengthIn: 120, supports: [pin(0), pin(60), pin(120)], ei: 1e6 };
const uniform = (loadLbPerIn: number): BeamLoad => ({ kind: 'uniform', loadLbPerIn });
const combination = (
  name: string,
  factors: Readonly<Record<string, number>>,
  durationFactor = 1,
): Combination => ({ name, factors, durationFactor });

function close(actual: number, expected: number): void {
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    1e-9 * Math.max(Math.abs(expected), 1e-3),
  );
}

describe('arrangements', () => {
  it('without a pattern: the load as it is', () => {
    expect(arrangementsOf('none', 3)).toEqual([[1, 1, 1]]);
  });

  it('partial live load on few panels: every choice, the full one first', () => {
    expect(arrangementsOf('partial live', 1)).toEqual([[1]]);
    expect(arrangementsOf('partial live', 2)).toEqual([
      [1, 1],
      [0, 1],
      [1, 0],
    ]);
    const four = arrangementsOf('partial live', 4);
    expect(four).toHaveLength(15);
    expect(four[0]).toEqual([1, 1, 1, 1]);
    expect(new Set(four.map((shares) => shares.join()))).toHaveProperty('size', 15);
  });

  it('partial live load on five panels: all, every other, and each pair with every other beyond', () => {
    expect(arrangementsOf('partial live', 5)).toEqual([
      [1, 1, 1, 1, 1],
      [1, 0, 1, 0, 1],
      [0, 1, 0, 1, 0],
      [1, 1, 0, 1, 0],
      [0, 1, 1, 0, 1],
      [1, 0, 1, 1, 0],
      [0, 1, 0, 1, 1],
    ]);
  });

  it('partial snow: the three cases of ASCE 7 §7.5.1', () => {
    expect(arrangementsOf('partial snow', 1)).toEqual([[1]]);
    expect(arrangementsOf('partial snow', 3)).toEqual([
      [1, 1, 1],
      [1, 0.5, 0.5],
      [0.5, 1, 1],
      [0.5, 0.5, 1],
      [1, 1, 0.5],
      [1, 1, 0.5],
      [0.5, 1, 1],
    ]);
  });
});

describe('load cases', () => {
  const cases: readonly LoadCase[] = [
    { kind: 'D', loads: [uniform(10), { kind: 'point', atIn: 40, loadLb: 200 }] },
    {
      kind: 'L',
      loads: [{ kind: 'partial', fromIn: 20, toIn: 90, loadLbPerIn: 15 }],
      pattern: 'partial live',
    },
    { kind: 'S', loads: [uniform(8)] },
  ];

  it('combine to what the factored loads give together', () => {
    const sum = combine(solveLoadCases(SIMPLE, cases), { D: 1.2, L: -0.5, W: 7 });
    const direct = analyseBeam(SIMPLE, [
      uniform(12),
      { kind: 'point', atIn: 40, loadLb: 240 },
      { kind: 'partial', fromIn: 20, toIn: 90, loadLbPerIn: -7.5 },
    ]);
    for (const atIn of [0, 13, 40, 70, 111]) {
      const [one, other] = [valueAt(sum, atIn), valueAt(direct, atIn)];
      close(one.shearLb, other.shearLb);
      close(one.momentLbIn, other.momentLbIn);
      close(one.slopeRad, other.slopeRad);
      close(one.deflectionIn, other.deflectionIn);
    }
    direct.reactions.forEach(({ forceLb, atIn }, index) => {
      close(sum.reactions[index]!.forceLb, forceLb);
      expect(sum.reactions[index]!.atIn).toBe(atIn);
    });
  });

  it('share one line, whose pieces every case has', () => {
    const solved = solveLoadCases(SIMPLE, cases);
    expect(solved.line.breaksIn).toEqual([0, 20, 40, 90, 120]);
    expect(solved.cases.map(({ kind, pattern, parts }) => [kind, pattern, parts.length])).toEqual([
      ['D', 'none', 1],
      ['L', 'partial live', 1],
      ['S', 'none', 1],
    ]);
    expect(combine(solved, { L: 1 }).pieces.map(({ loadLbPerIn }) => loadLbPerIn)).toEqual([0, 15, 15, 0]);
    const taper = solveLoadCases(SIMPLE, [
      { kind: 'L', loads: [{ kind: 'trapezoidal', fromIn: 0, toIn: 120, startLbPerIn: 2, endLbPerIn: 6 }] },
    ]);
    expect(combine(taper, { L: 2 }).pieces.map((piece) => piece.loadChangeLbPerIn)).toEqual([8]);
  });

  it('take settlements once, whatever the factors', () => {
    const settling = { ...SIMPLE, supports: [pin(0), pin(120, 0.4)] };
    const solved = solveLoadCases(settling, cases);
    close(valueAt(combine(solved, { D: 3 }), 120).deflectionIn, 0.4);
    close(valueAt(combine(solved, {}), 60).deflectionIn, 0.2);
    expect(solveLoadCases(SIMPLE, cases).settlements).toBeUndefined();
  });

  it('carry fixing moments', () => {
    const cantilever: BeamModel = { lengthIn: 10, ei: 1e6, supports: [{ atIn: 0, kind: 'fixed' }] };
    const solved = solveLoadCases(cantilever, [
      { kind: 'D', loads: [{ kind: 'point', atIn: 10, loadLb: 4 }] },
    ]);
    expect(combine(solved, { D: 2.5 }).reactions).toEqual([{ atIn: 0, forceLb: 10, momentLbIn: -100 }]);
    const { reactions } = envelopeOf(solved, [combination('D', { D: 1 }), combination('2D', { D: 2 })]);
    expect(reactions[0]!.momentLbIn.min.value).toBe(-80);
    expect(reactions[0]!.momentLbIn.max.value).toBe(-40);
  });

  it('take one more load on top of what is known', () => {
    const solved = solveLoadCases(SIMPLE, cases);
    const known = combine(solved, { D: 1 });
    const snow = combine(solved, { S: 1 });
    const both = superpose(known, snow, 0.75);
    expect(both.line).toBe(solved.line);
    close(valueAt(both, 50).momentLbIn, valueAt(combine(solved, { D: 1, S: 0.75 }), 50).momentLbIn);
    close(both.reactions[0]!.forceLb, known.reactions[0]!.forceLb + 360);
    expect(() => superpose(known, snow, NaN)).toThrow(
      expect.objectContaining({ path: 'factor', message: 'factor must be a finite number.' }),
    );
    expect(() => superpose(known, snow, 1e308)).toThrow('too large');
  });

  it('keep what acts over a fixed support, couple and all, in its panel', () => {
    const model: BeamModel = { ...SIMPLE, supports: [pin(0), { atIn: 60, kind: 'fixed' }, pin(120)] };
    const solved = solveLoadCases(model, [
      { kind: 'L', pattern: 'partial live', loads: [{ kind: 'couple', atIn: 60, coupleLbIn: 90 }] },
    ]);
    expect(solved.cases[0]!.parts.map(({ reactions }) => Math.round(reactions[1]!.momentLbIn))).toEqual([
      -90, 0,
    ]);
    const arranged = combine(solved, { L: 2 }, [{ kind: 'L', shares: [0.5, 1] }]);
    close(arranged.reactions[1]!.momentLbIn, -90);
  });

  it('split a patterned kind by panels; what stands over a support goes left', () => {
    const solved = solveLoadCases(TWO_SPANS, [
      {
        kind: 'L',
        pattern: 'partial live',
        loads: [
          uniform(6),
          { kind: 'trapezoidal', fromIn: 30, toIn: 90, startLbPerIn: 0, endLbPerIn: 12 },
          { kind: 'partial', fromIn: 70, toIn: 80, loadLbPerIn: 3 },
          { kind: 'point', atIn: 60, loadLb: 100 },
          { kind: 'point', atIn: 120, loadLb: 40 },
          { kind: 'couple', atIn: 70, coupleLbIn: 11 },
        ],
      },
    ]);
    const [left, right] = solved.cases[0]!.parts as [(typeof solved.cases)[0]['parts'][0], never];
    const pieces = (part: typeof left): number[][] =>
      part.pieces.map((piece) => [piece.fromIn, piece.loadLbPerIn, piece.loadChangeLbPerIn]);
    expect(pieces(left)).toEqual([
      [0, 6, 0],
      [30, 6, 6],
      [60, 0, 0],
      [70, 0, 0],
      [80, 0, 0],
      [90, 0, 0],
    ]);
    expect(pieces(right).map(([from]) => from)).toEqual([0, 30, 60, 70, 80, 90]);
    close(pieces(right)[3]![1]!, 6 + 8 + 3);
    close(pieces(right)[3]![2]!, 2);
    expect(pieces(right)[5]).toEqual([90, 6, 0]);
    const total = (part: typeof left): number =>
      part.reactions.reduce((sum, { forceLb }) => sum + forceLb, 0);
    close(total(left), 360 + 90 + 100);
    close(total(right), 360 + 270 + 30 + 40);
  });

  it('refuse what a beam and its loads would, and a kind given twice', () => {
    expect(() => solveLoadCases({ ...SIMPLE, ei: 0 }, [])).toThrow('ei must be more than zero.');
    const off: LoadCase = { kind: 'W', loads: [{ kind: 'point', atIn: 130, loadLb: 1 }] };
    expect(() => solveLoadCases(SIMPLE, [cases[0]!, off])).toThrow(
      'loadCases.1.loads.0.atIn is 130 in, outside the beam (0 to 120 in).',
    );
    expect(() => solveLoadCases(SIMPLE, [cases[0]!, cases[2]!, cases[0]!])).toThrow(
      expect.objectContaining({
        path: 'loadCases.2.kind',
        message: 'loadCases.2.kind D is already loadCases.0.',
      }),
    );
    expect(() => combine(solveLoadCases(SIMPLE, cases), { D: NaN })).toThrow(
      'factors.D must be a finite number.',
    );
    expect(() => combine(solveLoadCases(SIMPLE, cases), { D: 1e308, S: 1e308 })).toThrow('too large');
  });
});

describe('envelope', () => {
  let solved: SolvedCases;
  let envelope: BeamEnvelope;
  const [dead, live, wind] = [
    combination('D', { D: 1 }, 0.9),
    combination('D + L', { D: 1, L: 1 }),
    combination('0.6D + 0.6W', { D: 0.6, W: 0.6 }, 1.6),
  ];
  beforeAll(() => {
    solved = solveLoadCases(SIMPLE, [
      { kind: 'D', loads: [uniform(10)] },
      { kind: 'L', loads: [uniform(20)] },
      { kind: 'W', loads: [uniform(-30)] },
    ]);
    envelope = envelopeOf(solved, [dead, live, wind]);
  });

  it('names the combination behind each extreme', () => {
    const { shearLb, momentLbIn, slopeRad, deflectionIn, reactions } = envelope;
    close(momentLbIn.max.value, 54000);
    expect(momentLbIn.max.result.combination).toBe(live);
    close(momentLbIn.max.atIn, 60);
    close(momentLbIn.min.value, -21600);
    expect(momentLbIn.min.result.combination).toBe(wind);
    close(shearLb.max.value, 1800);
    expect([shearLb.max.atIn, shearLb.min.atIn]).toEqual([0, 120]);
    expect(shearLb.min.result.combination).toBe(live);
    close(slopeRad.max.value, 2.16);
    close(deflectionIn.max.value, 81);
    expect(deflectionIn.max.result.combination).toBe(live);
    close(deflectionIn.min.value, -32.4);
    expect(reactions.map(({ atIn }) => atIn)).toEqual([0, 120]);
    close(reactions[1]!.forceLb.max.value, 1800);
    expect(reactions[1]!.forceLb.max.atIn).toBe(120);
    close(reactions[1]!.forceLb.min.value, -720);
    expect(reactions[1]!.forceLb.min.result.combination).toBe(wind);
    expect(reactions[0]!.momentLbIn.max.value).toBe(0);
  });

  it('keeps each combination apart, with its own duration factor', () => {
    expect(envelope.byCombination.map((one) => one.combination)).toEqual([dead, live, wind]);
    close(envelope.byCombination[0]!.momentLbIn.max.value, 18000);
    close(envelope.byCombination[2]!.reactions[0]!.forceLb.max.value, -720);
    expect(envelope.results).toHaveLength(3);
    expect(envelope.results[1]!.extremes).toEqual(extremesOf(envelope.results[1]!.analysis));
    expect(envelope.results[0]!.arrangements).toEqual([]);
  });

  it('names the first of equals', () => {
    const twice = envelopeOf(solved, [live, combination('again', { D: 1, L: 1 })]);
    expect(twice.momentLbIn.max.result.combination).toBe(live);
    expect(twice.shearLb.min.result.combination).toBe(live);
    const later = envelopeOf(solved, [live, combination('more', { D: 1, L: 1.001 })]);
    expect(later.momentLbIn.max.result.combination.name).toBe('more');
    expect(later.shearLb.min.result.combination.name).toBe('more');
  });

  it('looks at a part of the beam', () => {
    const within = envelopeWithin(envelope.results, 0, 30);
    close(within.momentLbIn.max.value, (30 * 30 * 90) / 2);
    close(within.momentLbIn.max.atIn, 30);
    close(within.shearLb.min.value, -720);
    expect(within.shearLb.min.result.combination).toBe(wind);
    close(within.deflectionIn.max.value, valueAt(envelope.results[1]!.analysis, 30).deflectionIn);
    close(within.slopeRad.max.value, 2.16);
  });

  it('refuses no combination, a factor or a duration that is no number', () => {
    const refusal = (combinations: readonly Combination[]) => () => envelopeOf(solved, combinations);
    expect(refusal([])).toThrow(
      expect.objectContaining({
        path: 'combinations',
        message: 'combinations: an envelope needs at least one combination.',
      }),
    );
    expect(refusal([dead, combination('x', { D: 1, Q: NaN })])).toThrow(
      'combinations.1.factors.Q must be a finite number.',
    );
    expect(refusal([combination('x', { D: 1 }, 0)])).toThrow(
      'combinations.0.durationFactor must be more than zero.',
    );
    expect(() => envelopeWithin([], 0, 10)).toThrow('an envelope needs at least one combination.');
  });
});

describe('pattern loading', () => {
  let solved: SolvedCases;
  beforeAll(() => {
    solved = solveLoadCases(TWO_SPANS, [
      { kind: 'D', loads: [uniform(5)] },
      { kind: 'L', loads: [uniform(10)], pattern: 'partial live' },
      { kind: 'S', loads: [uniform(4)], pattern: 'partial snow' },
    ]);
  });

  it('finds the sag and uplift of one span loaded, and says which', () => {
    const { momentLbIn, reactions } = envelopeOf(solved, [combination('L', { L: 1 })]);
    // One of two equal spans loaded: 49wl²/512, reactions 7/16, 5/8, −1/16 wl.
    close(momentLbIn.max.value, (49 * 10 * 3600) / 512);
    expect(momentLbIn.max.result.arrangements).toEqual([{ kind: 'L', shares: [0, 1] }]);
    close(momentLbIn.min.value, -(10 * 3600) / 8);
    expect(momentLbIn.min.result.arrangements).toEqual([]);
    close(reactions[0]!.forceLb.max.value, (7 / 16) * 600);
    close(reactions[0]!.forceLb.min.value, -600 / 16);
    close(reactions[1]!.forceLb.max.value, 750);
  });

  it('arranges two patterned kinds in every way, full first', () => {
    const { results } = envelopeOf(solved, [combination('all', { D: 1, L: 0.75, S: 0.75 })]);
    // Live 3 arrangements, snow full, two halves on either end given twice over, and the pair (full again).
    expect(results).toHaveLength(3 * 6);
    expect(results[0]!.arrangements).toEqual([]);
    expect(results[1]!.arrangements).toEqual([{ kind: 'S', shares: [1, 0.5] }]);
    expect(results.at(-1)!.arrangements).toEqual([
      { kind: 'L', shares: [1, 0] },
      { kind: 'S', shares: [1, 1] },
    ]);
  });

  it('leaves kinds alone that the combination does not hold or that have no pattern', () => {
    expect(envelopeOf(solved, [combination('D', { D: 1 })]).results).toHaveLength(1);
    expect(envelopeOf(solved, [combination('D', { D: 1, L: 0 })]).results).toHaveLength(1);
    expect(envelopeOf(solved, [combination('D', { D: 1, L: 1 })]).results).toHaveLength(3);
  });

  it('sets the shares of one kind only', () => {
    const half = combine(solved, { D: 1, L: 1, S: 1 }, [{ kind: 'S', shares: [0.5, 1] }]);
    expect(half.pieces.map(({ loadLbPerIn }) => loadLbPerIn)).toEqual([17, 19]);
  });
});
