import { describe, expect, it } from 'vitest';
import {
  analyseBeam,
  extremesOf,
  valueAt,
  type BeamAnalysis,
  type BeamLoad,
  type BeamModel,
  type BeamSupport,
  type Extremes,
  type Section,
} from '../../src/engineering/statics/index.ts';
import { Refusal } from '../../src/engineering/trace/index.ts';
import { firmness, solveByStiffness, type ReferencePlace } from './direct-stiffness.ts';

/**
 * 500 random beams against the direct stiffness method on ml-matrix, to 1e-9 of the largest value of each
 * quantity; and 1,500 random arrangements of supports and hinges, in which the engine has to tell mechanisms
 * from beams exactly where the stiffness matrix is singular.
 */
const BEAMS = 500;
const ARRANGEMENTS = 1500;
/** Places are drawn from so many divisions, each moved a little. */
const GRID = 24;
const AGREEMENT = 1e-9;
const QUANTITIES = ['shearLb', 'momentLbIn', 'slopeRad', 'deflectionIn'] as const;

/** mulberry32: small, seeded, the same on every machine. */
class Chance {
  #state: number;

  constructor(seed: number) {
    this.#state = seed;
  }

  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  whole(from: number, to: number): number {
    return from + Math.floor(this.next() * (to - from + 1));
  }

  between(from: number, to: number): number {
    return from + this.next() * (to - from);
  }

  /** Spread evenly over the orders of magnitude, either sign. */
  size(from: number, to: number): number {
    return (this.next() < 0.25 ? -1 : 1) * Math.exp(this.between(Math.log(from), Math.log(to)));
  }
}

/** Places of one beam: different ones keep at least 1/40 of its length between them. */
class Places {
  readonly #length: number;
  readonly #chance: Chance;
  readonly #offsets: readonly number[];

  constructor(chance: Chance, length: number) {
    this.#chance = chance;
    this.#length = length;
    this.#offsets = Array.from({ length: GRID + 1 }, (_, i) =>
      i % GRID === 0 ? i / GRID : (i + chance.between(-0.2, 0.2)) / GRID,
    );
  }

  at(index: number): number {
    return this.#length * this.#offsets[index]!;
  }

  any(): number {
    return this.at(this.#chance.whole(0, GRID));
  }

  /** From left to right. */
  distinct(count: number, from: number, to: number): number[] {
    const chosen = new Set<number>();
    while (chosen.size < count) chosen.add(this.#chance.whole(from, to));
    return [...chosen].sort((a, b) => a - b).map((index) => this.at(index));
  }
}

function arrangement(chance: Chance): { model: BeamModel; places: Places } {
  const lengthIn = chance.next() < 0.1 ? chance.between(1, 2) : Math.abs(chance.size(1, 2400));
  const places = new Places(chance, lengthIn);
  const supports = places.distinct(chance.whole(1, 6), 0, GRID).map((atIn): BeamSupport => ({
    atIn,
    kind: chance.next() < 0.25 ? 'fixed' : 'pin',
  }));
  const hinges = places.distinct(chance.next() < 0.5 ? 0 : chance.whole(1, 3), 1, GRID - 1);
  // Some hinges go to a support, where they part the beam.
  const pins = supports.filter(({ kind, atIn }) => kind === 'pin' && atIn > 0 && atIn < lengthIn);
  if (pins.length > 0 && chance.next() < 0.15) hinges.push(pins[chance.whole(0, pins.length - 1)]!.atIn);
  const ei = Math.abs(chance.size(1e2, 1e11));
  return { model: { lengthIn, supports, hinges: [...new Set(hinges)], ei }, places };
}

function loadsOn(model: BeamModel, places: Places, chance: Chance): BeamLoad[] {
  const { lengthIn, hinges = [] } = model;
  // 1 lb to 1,000,000 lb from beam to beam; within one beam two orders of magnitude, because the reference
  // reads the shear out of differences that a couple a thousand times larger would drown.
  const most = Math.abs(chance.size(1, 1e6));
  const size = (): number => chance.size(most / 100, most);
  // Something always acts everywhere, so that no quantity is zero throughout.
  const loads: BeamLoad[] = [{ kind: 'uniform', loadLbPerIn: size() / lengthIn }];
  for (let count = chance.whole(0, 6); count > 0; count--) {
    const [fromIn, toIn] = places.distinct(2, 0, GRID) as [number, number];
    const atIn = places.any();
    switch (chance.whole(0, 3)) {
      case 0:
        loads.push({ kind: 'partial', fromIn, toIn, loadLbPerIn: size() / lengthIn });
        break;
      case 1:
        loads.push({
          kind: 'trapezoidal',
          fromIn,
          toIn,
          startLbPerIn: chance.next() < 0.3 ? 0 : size() / lengthIn,
          endLbPerIn: size() / lengthIn,
        });
        break;
      case 2:
        loads.push({ kind: 'point', atIn, loadLb: size() });
        break;
      default:
        if (!hinges.includes(atIn))
          loads.push({ kind: 'couple', atIn, coupleLbIn: (size() * lengthIn) / 10 });
    }
  }
  return loads;
}

/**
 * Supports give way by about as much as the beam bends. Were the beam to tilt a million times as far as it
 * bends, the reference would lose six digits: it reads forces out of differences of deflections.
 */
function settle(model: BeamModel, loads: readonly BeamLoad[], chance: Chance): BeamModel {
  const { lengthIn, ei, supports } = model;
  const size = Math.max(
    ...loads.map((load) => {
      if (load.kind === 'point') return Math.abs(load.loadLb);
      if (load.kind === 'couple') return Math.abs(load.coupleLbIn) / lengthIn;
      const most = load.kind === 'trapezoidal' ? load.endLbPerIn : load.loadLbPerIn;
      return Math.abs(most) * lengthIn;
    }),
  );
  const bendIn = (size * lengthIn ** 3) / (100 * ei);
  return {
    ...model,
    supports: supports.map((support) =>
      chance.next() < 0.5 ? { ...support, settlementIn: chance.between(-1, 1) * bendIn } : support,
    ),
  };
}

function tryAnalyse(model: BeamModel, loads: readonly BeamLoad[]): BeamAnalysis | undefined {
  try {
    return analyseBeam(model, loads);
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

function largest(places: readonly ReferencePlace[], field: keyof Section): number {
  return Math.max(...places.flatMap(({ left, right }) => [Math.abs(left[field]), Math.abs(right[field])]));
}

/**
 * Places to be read besides those that the beam itself asks for, none closer than 1/60 of the length to
 * another: an element of no length would spoil the reference. The named peaks come first.
 */
function readingPlaces(model: BeamModel, loads: readonly BeamLoad[], extremes: Extremes): number[] {
  const taken = [0, model.lengthIn, ...model.supports.map(({ atIn }) => atIn), ...model.hinges!];
  for (const load of loads) {
    if ('atIn' in load) taken.push(load.atIn);
    if ('fromIn' in load) taken.push(load.fromIn, load.toIn);
  }
  const peaks = QUANTITIES.flatMap((field) => [extremes[field].max.atIn, extremes[field].min.atIn]);
  const evenly = Array.from({ length: 10 }, (_, i) => (model.lengthIn * (i + 0.5)) / 10);
  const chosen: number[] = [];
  for (const place of [...peaks, ...evenly]) {
    if ([...taken, ...chosen].every((other) => Math.abs(other - place) > model.lengthIn / 60)) {
      chosen.push(place);
    }
  }
  return chosen;
}

interface Comparison {
  /** The worst disagreement, as a part of the largest value of its quantity. */
  readonly worst: number;
  readonly peaksInside: number;
}

function compare(model: BeamModel, loads: readonly BeamLoad[], analysis: BeamAnalysis): Comparison {
  const extremes = extremesOf(analysis);
  const reference = solveByStiffness(model, loads, readingPlaces(model, loads, extremes));
  let worst = 0;
  let peaksInside = 0;
  for (const field of QUANTITIES) {
    const scale = largest(reference.places, field);
    const range = extremes[field];
    for (const { atIn, left, right } of reference.places) {
      const off = Math.max(
        Math.abs(valueAt(analysis, atIn, 'left')[field] - left[field]),
        Math.abs(valueAt(analysis, atIn, 'right')[field] - right[field]),
        // No value of the reference lies beyond the extremes that the engine names.
        left[field] - range.max.value,
        right[field] - range.max.value,
        range.min.value - left[field],
        range.min.value - right[field],
      );
      worst = Math.max(worst, off / scale);
    }
    // The extremes themselves are reached, on one side of the place named.
    for (const { value, atIn } of [range.max, range.min]) {
      const place = reference.places.find((other) => Math.abs(other.atIn - atIn) <= 1e-8 * model.lengthIn);
      if (place === undefined) continue;
      const off = Math.min(Math.abs(place.left[field] - value), Math.abs(place.right[field] - value));
      worst = Math.max(worst, off / scale);
      peaksInside++;
    }
  }
  const scaleForce = Math.max(...reference.reactions.map(({ forceLb }) => Math.abs(forceLb)));
  const scaleMoment = largest(reference.places, 'momentLbIn');
  reference.reactions.forEach(({ forceLb, momentLbIn }, index) => {
    const own = analysis.reactions[index]!;
    worst = Math.max(worst, Math.abs(own.forceLb - forceLb) / scaleForce);
    worst = Math.max(worst, Math.abs(own.momentLbIn - momentLbIn) / scaleMoment);
  });
  return { worst, peaksInside };
}

describe('random beams against direct stiffness (ml-matrix)', () => {
  it(`agrees to ${AGREEMENT} of the largest value on ${BEAMS} beams`, () => {
    const chance = new Chance(20240611);
    const failures: string[] = [];
    const seen = { solved: 0, hinged: 0, settled: 0, fixed: 0, overhung: 0, spans: 0, peaks: 0 };
    while (seen.solved < BEAMS) {
      const { model: level, places } = arrangement(chance);
      const loads = loadsOn(level, places, chance);
      const model = chance.next() < 0.4 ? settle(level, loads, chance) : level;
      const analysis = tryAnalyse(model, loads);
      if (analysis === undefined) continue;
      seen.solved++;
      if (model.hinges!.length > 0) seen.hinged++;
      if (model.supports.some(({ settlementIn }) => settlementIn !== undefined)) seen.settled++;
      if (model.supports.some(({ kind }) => kind === 'fixed')) seen.fixed++;
      if (model.supports[0]!.atIn > 0) seen.overhung++;
      if (model.supports.length > 2) seen.spans++;
      const { worst, peaksInside } = compare(model, loads, analysis);
      seen.peaks += peaksInside;
      if (!(worst <= AGREEMENT)) failures.push(`${worst}: ${JSON.stringify({ model, loads })}`);
    }
    expect(failures).toEqual([]);
    expect(seen.peaks).toBeGreaterThan(BEAMS * 5);
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(100);
  });

  it(`refuses exactly the arrangements whose stiffness is singular, of ${ARRANGEMENTS}`, () => {
    const chance = new Chance(7);
    const wrong: string[] = [];
    let refused = 0;
    for (let count = 0; count < ARRANGEMENTS; count++) {
      const { model } = arrangement(chance);
      const onFixed = model.hinges!.some((h) =>
        model.supports.some(({ atIn, kind }) => kind === 'fixed' && atIn === h),
      );
      if (onFixed) continue;
      const stands = tryAnalyse(model, []) !== undefined;
      if (!stands) refused++;
      if (firmness(model) > 1e-12 !== stands) wrong.push(`${firmness(model)} ${JSON.stringify(model)}`);
    }
    expect(wrong).toEqual([]);
    expect(refused).toBeGreaterThan(100);
    expect(refused).toBeLessThan(ARRANGEMENTS - 100);
  });
});
