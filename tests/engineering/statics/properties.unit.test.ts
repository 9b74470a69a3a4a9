import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  analyseBeam,
  extremesOf,
  valueAt,
  type BeamAnalysis,
  type BeamLoad,
  type BeamModel,
  type BeamSupport,
  type Section,
} from '../../../src/engineering/statics/index.ts';

/** What must hold for every beam, whatever its numbers (fast-check; a fixed seed, so a failure repeats). */
const RUNS = { numRuns: 150, seed: 314159 };

interface Case {
  readonly model: BeamModel;
  readonly loads: readonly BeamLoad[];
}

/** In a million steps: no numbers so small that they lose digits of their own. */
const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1e6 }).map((step) => min + ((max - min) * step) / 1e6);

function loadsOf(lengthIn: number): fc.Arbitrary<readonly BeamLoad[]> {
  const place = fc.integer({ min: 0, max: 20 }).map((part) => (part / 20) * lengthIn);
  const stretch = fc
    .tuple(fc.integer({ min: 0, max: 18 }), fc.integer({ min: 1, max: 20 }))
    .map(([from, more]) => [(from / 20) * lengthIn, (Math.min(20, from + more) / 20) * lengthIn] as const);
  const intensity = number(-20, 50);
  return fc.array(
    fc.oneof(
      intensity.map((loadLbPerIn): BeamLoad => ({ kind: 'uniform', loadLbPerIn })),
      fc
        .tuple(stretch, intensity)
        .map(([[fromIn, toIn], loadLbPerIn]): BeamLoad => ({ kind: 'partial', fromIn, toIn, loadLbPerIn })),
      fc.tuple(stretch, intensity, intensity).map(([[fromIn, toIn], startLbPerIn, endLbPerIn]): BeamLoad => ({
        kind: 'trapezoidal',
        fromIn,
        toIn,
        startLbPerIn,
        endLbPerIn,
      })),
      fc
        .tuple(place, number(-3000, 5000))
        .map(([atIn, loadLb]): BeamLoad => ({ kind: 'point', atIn, loadLb })),
      fc
        .tuple(place, number(-9000, 9000))
        .map(([atIn, coupleLbIn]): BeamLoad => ({ kind: 'couple', atIn, coupleLbIn })),
    ),
    { minLength: 1, maxLength: 5 },
  );
}

const model: fc.Arbitrary<BeamModel> = fc
  .record({
    lengthIn: number(1, 2400),
    ei: number(1e5, 1e9),
    places: fc.uniqueArray(fc.integer({ min: 0, max: 10 }), { minLength: 2, maxLength: 4 }),
    fixed: fc.integer({ min: 0, max: 5 }),
    settlement: number(-1, 1),
  })
  .map(({ lengthIn, ei, places, fixed, settlement }) => ({
    lengthIn,
    ei,
    supports: places.map((place, index): BeamSupport => ({
      atIn: (place / 10) * lengthIn,
      kind: index === fixed ? 'fixed' : 'pin',
      settlementIn: index === 1 ? (settlement * lengthIn) / 1000 : 0,
    })),
  }));

const beam: fc.Arbitrary<Case> = model.chain((given) =>
  loadsOf(given.lengthIn).map((loads) => ({ model: given, loads })),
);

const FIELDS = ['shearLb', 'momentLbIn', 'slopeRad', 'deflectionIn'] as const;
const PLACES = [0, 0.03, 0.17, 0.31, 0.5, 0.52, 0.77, 0.94, 1];

/** The sizes against which rounding is judged: what is in the beam anywhere. */
function sizes(...analyses: readonly BeamAnalysis[]): Section {
  const size = { shearLb: 0, momentLbIn: 0, slopeRad: 0, deflectionIn: 0 };
  for (const analysis of analyses) {
    const extremes = extremesOf(analysis);
    for (const field of FIELDS) {
      const { max, min } = extremes[field];
      size[field] = Math.max(size[field], Math.abs(max.value), Math.abs(min.value));
    }
    const { lengthIn, ei } = analysis.line.model;
    // A beam that bears everything on its supports is straight up to rounding.
    size.shearLb = Math.max(size.shearLb, size.momentLbIn / lengthIn, ...forces(analysis));
    size.momentLbIn = Math.max(size.momentLbIn, size.shearLb * lengthIn * 0.01);
    size.slopeRad = Math.max(size.slopeRad, (size.momentLbIn * lengthIn) / ei / 100);
    size.deflectionIn = Math.max(size.deflectionIn, size.slopeRad * lengthIn);
  }
  return size;
}

function forces({ reactions }: BeamAnalysis): number[] {
  return reactions.map(({ forceLb }) => Math.abs(forceLb));
}

function same(one: number, other: number, size: number, what: string): void {
  expect(Math.abs(one - other), `${what}: ${one} against ${other}`).toBeLessThanOrEqual(1e-9 * size + 1e-12);
}

/** Force and moment about the left end (clockwise) of one load. */
function resultant(load: BeamLoad, lengthIn: number): readonly [number, number] {
  switch (load.kind) {
    case 'uniform':
      return [load.loadLbPerIn * lengthIn, (load.loadLbPerIn * lengthIn * lengthIn) / 2];
    case 'partial': {
      const force = load.loadLbPerIn * (load.toIn - load.fromIn);
      return [force, (force * (load.toIn + load.fromIn)) / 2];
    }
    case 'trapezoidal': {
      const reach = load.toIn - load.fromIn;
      const [a, b] = [load.startLbPerIn, load.endLbPerIn];
      const force = (reach * (a + b)) / 2;
      return [force, force * load.fromIn + (reach * reach * (a + 2 * b)) / 6];
    }
    case 'point':
      return [load.loadLb, load.loadLb * load.atIn];
    case 'couple':
      return [0, load.coupleLbIn];
  }
}

function mirrored(load: BeamLoad, lengthIn: number): BeamLoad {
  switch (load.kind) {
    case 'uniform':
      return load;
    case 'partial':
      return { ...load, fromIn: lengthIn - load.toIn, toIn: lengthIn - load.fromIn };
    case 'trapezoidal':
      return {
        kind: 'trapezoidal',
        fromIn: lengthIn - load.toIn,
        toIn: lengthIn - load.fromIn,
        startLbPerIn: load.endLbPerIn,
        endLbPerIn: load.startLbPerIn,
      };
    case 'point':
      return { ...load, atIn: lengthIn - load.atIn };
    case 'couple':
      return { kind: 'couple', atIn: lengthIn - load.atIn, coupleLbIn: -load.coupleLbIn };
  }
}

/** The same beam in units of length and force that are `length` and `force` times as small. */
function rescaled(load: BeamLoad, length: number, force: number): BeamLoad {
  switch (load.kind) {
    case 'uniform':
      return { kind: 'uniform', loadLbPerIn: (load.loadLbPerIn * force) / length };
    case 'partial':
      return {
        kind: 'partial',
        fromIn: load.fromIn * length,
        toIn: load.toIn * length,
        loadLbPerIn: (load.loadLbPerIn * force) / length,
      };
    case 'trapezoidal':
      return {
        kind: 'trapezoidal',
        fromIn: load.fromIn * length,
        toIn: load.toIn * length,
        startLbPerIn: (load.startLbPerIn * force) / length,
        endLbPerIn: (load.endLbPerIn * force) / length,
      };
    case 'point':
      return { kind: 'point', atIn: load.atIn * length, loadLb: load.loadLb * force };
    case 'couple':
      return { kind: 'couple', atIn: load.atIn * length, coupleLbIn: load.coupleLbIn * force * length };
  }
}

describe('every beam', () => {
  it('is in equilibrium', () => {
    fc.assert(
      fc.property(beam, ({ model: given, loads }) => {
        const analysis = analyseBeam(given, loads);
        let force = 0;
        let moment = 0;
        let size = 0;
        for (const load of loads) {
          const [own, about] = resultant(load, given.lengthIn);
          force += own;
          moment += about;
          size = Math.max(size, Math.abs(own), Math.abs(about) / given.lengthIn);
        }
        for (const { atIn, forceLb, momentLbIn } of analysis.reactions) {
          force -= forceLb;
          moment -= forceLb * atIn - momentLbIn;
          size = Math.max(size, Math.abs(forceLb));
        }
        same(force, 0, size, 'force');
        same(moment, 0, size * given.lengthIn, 'moment');
      }),
      RUNS,
    );
  });

  it('meets its supports where they have gone, level where they are fixed', () => {
    fc.assert(
      fc.property(beam, ({ model: given, loads }) => {
        const analysis = analyseBeam(given, loads);
        const size = sizes(analysis);
        for (const { atIn, kind, settlementIn = 0 } of given.supports) {
          for (const side of ['left', 'right'] as const) {
            const { deflectionIn, slopeRad } = valueAt(analysis, atIn, side);
            same(deflectionIn, settlementIn, size.deflectionIn, 'deflection');
            if (kind === 'fixed') same(slopeRad, 0, size.slopeRad, 'slope');
          }
        }
      }),
      RUNS,
    );
  });

  it('answers loads together as it answers them one by one', () => {
    fc.assert(
      fc.property(beam, ({ model: given, loads }) => {
        const level = { ...given, supports: given.supports.map(({ atIn, kind }) => ({ atIn, kind })) };
        const parts = loads.map((load) => analyseBeam(level, [load]));
        const settled = analyseBeam(given, []);
        const all = analyseBeam(given, loads);
        const size = sizes(all, settled, ...parts);
        for (const part of PLACES) {
          // Clear of breaks, where the two sides would have to be told apart.
          const atIn = Math.min(given.lengthIn, (part + 0.001) * given.lengthIn);
          for (const field of FIELDS) {
            const sum = [settled, ...parts].reduce((total, one) => total + valueAt(one, atIn)[field], 0);
            same(valueAt(all, atIn)[field], sum, size[field], field);
          }
        }
      }),
      RUNS,
    );
  });

  it('is mirrored when everything on it is', () => {
    fc.assert(
      fc.property(beam, ({ model: given, loads }) => {
        const { lengthIn } = given;
        const supports = given.supports.map((support) => ({ ...support, atIn: lengthIn - support.atIn }));
        const one = analyseBeam(given, loads);
        const other = analyseBeam(
          { ...given, supports },
          loads.map((load) => mirrored(load, lengthIn)),
        );
        const size = sizes(one);
        for (const part of PLACES) {
          const here = valueAt(one, part * lengthIn, 'right');
          const there = valueAt(other, lengthIn - part * lengthIn, 'left');
          same(here.shearLb, -there.shearLb, size.shearLb, 'shear');
          same(here.momentLbIn, there.momentLbIn, size.momentLbIn, 'moment');
          same(here.slopeRad, -there.slopeRad, size.slopeRad, 'slope');
          same(here.deflectionIn, there.deflectionIn, size.deflectionIn, 'deflection');
        }
        one.reactions.forEach(({ forceLb, momentLbIn }, index) => {
          same(forceLb, other.reactions[index]!.forceLb, size.shearLb, 'reaction');
          same(momentLbIn, -other.reactions[index]!.momentLbIn, size.momentLbIn, 'fixing moment');
        });
      }),
      RUNS,
    );
  });

  it('does not mind the units', () => {
    fc.assert(
      fc.property(
        beam,
        number(1 / 12, 25.4),
        number(0.001, 4.448),
        ({ model: given, loads }, length, force) => {
          const one = analyseBeam(given, loads);
          const other = analyseBeam(
            {
              lengthIn: given.lengthIn * length,
              ei: given.ei * force * length * length,
              supports: given.supports.map((support) => ({
                ...support,
                atIn: support.atIn * length,
                settlementIn: (support.settlementIn ?? 0) * length,
              })),
            },
            loads.map((load) => rescaled(load, length, force)),
          );
          const size = sizes(one);
          for (const part of PLACES) {
            const here = valueAt(one, part * given.lengthIn);
            const there = valueAt(other, part * given.lengthIn * length);
            same(here.shearLb, there.shearLb / force, size.shearLb, 'shear');
            same(here.momentLbIn, there.momentLbIn / force / length, size.momentLbIn, 'moment');
            same(here.slopeRad, there.slopeRad, size.slopeRad, 'slope');
            same(here.deflectionIn, there.deflectionIn / length, size.deflectionIn, 'deflection');
          }
        },
      ),
      RUNS,
    );
  });

  it('bends half as far when it is twice as stiff, with the same forces, if no support settles', () => {
    fc.assert(
      fc.property(beam, ({ model: given, loads }) => {
        const supports = given.supports.map(({ atIn, kind }) => ({ atIn, kind }));
        const soft = analyseBeam({ ...given, supports }, loads);
        const stiff = analyseBeam({ ...given, supports, ei: 2 * given.ei }, loads);
        const size = sizes(soft);
        for (const field of FIELDS) {
          const share = field === 'slopeRad' || field === 'deflectionIn' ? 0.5 : 1;
          const [more, less] = [extremesOf(soft)[field], extremesOf(stiff)[field]];
          same(less.max.value, share * more.max.value, size[field], field);
          same(less.min.value, share * more.min.value, size[field], field);
        }
      }),
      RUNS,
    );
  });

  it('on two supports sags more, nowhere less, for every load added', () => {
    fc.assert(
      fc.property(number(1, 2400), number(1, 50), number(0, 1), number(1, 5000), (lengthIn, w, part, p) => {
        const simple: BeamModel = {
          lengthIn,
          ei: 1e7,
          supports: [
            { atIn: 0, kind: 'pin' },
            { atIn: lengthIn, kind: 'pin' },
          ],
        };
        const uniform: BeamLoad = { kind: 'uniform', loadLbPerIn: w };
        const less = analyseBeam(simple, [uniform]);
        const more = analyseBeam(simple, [uniform, { kind: 'point', atIn: part * lengthIn, loadLb: p }]);
        for (const place of PLACES) {
          const [a, b] = [valueAt(less, place * lengthIn), valueAt(more, place * lengthIn)];
          expect(b.momentLbIn).toBeGreaterThanOrEqual(a.momentLbIn - 1e-9 * w * lengthIn ** 2);
          expect(b.deflectionIn).toBeGreaterThanOrEqual(a.deflectionIn - 1e-9 * sizes(more).deflectionIn);
        }
      }),
      RUNS,
    );
  });

  it('holds no value beyond its extremes', () => {
    fc.assert(
      fc.property(
        beam,
        fc.array(number(0, 1), { minLength: 20, maxLength: 20 }),
        ({ model: given, loads }, at) => {
          const analysis = analyseBeam(given, loads);
          const extremes = extremesOf(analysis);
          const size = sizes(analysis);
          for (const part of at) {
            const section = valueAt(analysis, part * given.lengthIn);
            for (const field of FIELDS) {
              expect(section[field]).toBeLessThanOrEqual(extremes[field].max.value + 1e-9 * size[field]);
              expect(section[field]).toBeGreaterThanOrEqual(extremes[field].min.value - 1e-9 * size[field]);
            }
          }
        },
      ),
      RUNS,
    );
  });
});
