import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { governingCheck } from '../../../src/engineering/trace/step.ts';
import {
  checkWoodBeam,
  judgeWoodBeam,
  utilization,
  type WoodBeamInput,
  type WoodMember,
} from '../../../src/engineering/wood/index.ts';
import { glulam, header, lvl, sawn, simpleBeam } from './wood-fixtures.ts';

describe('the fast path and the calculation sheet', () => {
  const member = fc.oneof(
    fc
      .record({
        species: fc.constantFrom('DF-L', 'HF', 'SPF', 'SP'),
        grade: fc.constantFrom('SS', 'No.1', 'No.2', 'No.3'),
        size: fc.constantFrom('2x6', '2x8', '2x10', '2x12', '4x10', '4x14'),
        plies: fc.integer({ min: 1, max: 4 }),
      })
      .map(({ species, grade, size, plies }) => sawn(species, grade, size, plies)),
    fc
      .record({ depth: fc.constantFrom(7.25, 9.5, 11.875, 16, 24), plies: fc.integer({ min: 1, max: 4 }) })
      .map(({ depth, plies }) => lvl(depth, plies)),
    fc.constantFrom(9, 12, 18, 27).map((depth) => glulam('24F-V4', 5.125, depth)),
  );

  it('agree in every ratio, verdict and governing check', () => {
    fc.assert(
      fc.property(
        member,
        fc.double({ min: 24, max: 360, noNaN: true }),
        fc.array(
          fc.record({
            name: fc.string(),
            loadDuration: fc.constantFrom(0.9, 1, 1.15, 1.25, 1.6),
            plf: fc.double({ min: 0, max: 3000, noNaN: true }),
          }),
          { minLength: 1, maxLength: 5 },
        ),
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.boolean(),
        (beam, spanIn, loads, unbracedIn, notched) => {
          const base = simpleBeam(beam, spanIn, loads, 200, 400);
          const input: WoodBeamInput = {
            ...base,
            // Reactions and shears stay positive for beams deeper than half their span.
            combinations: base.combinations.map((c) => ({
              ...c,
              shearLb: Math.max(0, c.shearLb),
              momentNegativeLbIn: c.momentLbIn / 3,
            })),
            bracing: { topIn: unbracedIn, bottomIn: spanIn },
            ...(notched
              ? { notch: { location: 'end', edge: 'tension', depthIn: beam.depthIn / 8, reachIn: 0 } }
              : {}),
          };
          const verdict = judgeWoodBeam(input);
          const checks = checkWoodBeam(input);
          expect(verdict.states.map((state) => [state.id, state.ratio])).toEqual(
            checks.map((check) => [check.id, check.ratio]),
          );
          expect(verdict.passes).toBe(checks.every((check) => check.passes));
          expect(verdict.ratio).toBe(governingCheck(checks)!.ratio);
          expect(verdict.governedBy).toBe(governingCheck(checks)!.id);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('count "exactly full" as passing and the first of equals as governing', () => {
    const input = { ...header(sawn('DF-L', 'No.2', '2x10', 3)), bracing: { topIn: 0 } };
    const { ratio } = judgeWoodBeam(input);
    const scaled: WoodBeamInput = {
      ...input,
      deflections: [],
      combinations: [
        { name: 'full', loadDuration: 1, momentLbIn: 0, shearLb: (180 * 41.625) / 1.5, reactionsLb: [0, 0] },
      ],
    };
    expect(ratio).toBeLessThan(1);
    expect(judgeWoodBeam(scaled)).toMatchObject({ passes: true, governedBy: 'beam.shear' });
    expect(judgeWoodBeam(scaled).ratio).toBeCloseTo(1, 12);
    const over = { ...scaled.combinations[0]!, shearLb: scaled.combinations[0]!.shearLb * 1.001 };
    expect(judgeWoodBeam({ ...scaled, combinations: [over] }).passes).toBe(false);
    const idle = { name: 'none', loadDuration: 1, momentLbIn: 0, shearLb: 0, reactionsLb: [0, 0] };
    expect(judgeWoodBeam({ ...scaled, combinations: [idle] })).toMatchObject({
      ratio: 0,
      governedBy: 'beam.bending',
    });
  });

  it('take a demand on no capacity as endless', () => {
    expect(utilization(1, 0)).toBe(Infinity);
    expect(utilization(0, 0)).toBe(0);
    expect(utilization(-1, 0)).toBe(0);
    expect(utilization(-1, 2)).toBe(0);
    expect(utilization(1, 2)).toBe(0.5);
  });
});

describe('monotony', () => {
  /**
   * NDS is not monotone in depth as such: the size factor steps down with width (a 2x4's Fb is 1.5 times, a
   * 2x14's 0.9 times the table), CV falls with depth and RB rises. What holds: strength of the whole member,
   * capacity × section, rises from size to size in stiffness and shear always, in moment while the edge is
   * held (S grows with d², the steps of CF by less).
   */
  const depths = ['2x4', '2x6', '2x8', '2x10', '2x12', '2x14'];

  it('a deeper beam whose edge is held never fails what a shallower one passes', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('DF-L', 'HF', 'SPF', 'SP'),
        fc.constantFrom('SS', 'No.1', 'No.2', 'No.3', 'Stud'),
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 0, max: depths.length - 2 }),
        fc.double({ min: 36, max: 240, noNaN: true }),
        fc.double({ min: 1, max: 2000, noNaN: true }),
        (species, grade, plies, at, spanIn, plf) => {
          const judge = (size: string) =>
            judgeWoodBeam({
              ...simpleBeam(
                sawn(species, grade, size, plies),
                spanIn,
                // Full shear for both: d left out would favour the deeper one.
                [{ name: 'D + L', loadDuration: 1, plf }],
                plf / 3,
                (2 * plf) / 3,
              ),
              bracing: { topIn: 0 },
            });
          const shallow = judge(depths[at]!);
          const deep = judge(depths[at + 1]!);
          if (shallow.passes) expect(deep.passes).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('Stud to No.3 at 8 in is a step down in stress, not in moment', () => {
    const moment = (size: string) => {
      const member = sawn('DF-L', 'Stud', size);
      const { capacity } = judgeWoodBeam({ ...header(member), bracing: { topIn: 0 } }).states[0]!;
      return [capacity, capacity * member.section.sectionModulusIn3] as const;
    };
    const [stress6, moment6] = moment('2x6');
    const [stress8, moment8] = moment('2x8');
    expect(stress8).toBeLessThan(stress6);
    expect(moment8).toBeGreaterThan(moment6);
  });

  it('a deeper beam may fail what a shallower one passes where its edge is free: NDS CL falls with d', () => {
    // One ply, unbraced 20 ft: RB grows with d, and over 50 the standard refuses the deeper one.
    const judge = (size: string) =>
      judgeWoodBeam({
        ...simpleBeam(sawn('DF-L', 'SS', size), 240, [{ name: 'D', loadDuration: 0.9, plf: 1 }], 1, 0),
        bracing: { topIn: 240 },
      });
    expect(judge('2x10').passes).toBe(true);
    expect(judge('2x14')).toMatchObject({ passes: false, governedBy: 'beam.slenderness' });
  });

  it('more load never lowers a ratio, more plies never raise one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 2000, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        fc.integer({ min: 1, max: 3 }),
        (plf, more, plies) => {
          const judge = (load: number, count: number) =>
            judgeWoodBeam(
              simpleBeam(
                sawn('HF', 'No.2', '2x12', count),
                120,
                [{ name: 'D + L', loadDuration: 1, plf: load }],
                load / 2,
                load / 2,
              ),
            ).states;
          const light = judge(plf, plies);
          judge(plf * more, plies).forEach((state, at) => {
            expect(state.ratio).toBeGreaterThanOrEqual(light[at]!.ratio - 1e-12);
          });
          const wide = new Map(judge(plf, plies + 1).map((state) => [state.id, state.ratio]));
          for (const state of light) expect(wide.get(state.id)!).toBeLessThanOrEqual(state.ratio + 1e-12);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('keeps its units: lengths twice, loads four times leave stresses alike', () => {
    // A beam twice as large in every direction under the same stresses carries four times the load.
    const one = glulam('24F-V8', 3, 12);
    const two = glulam('24F-V8', 6, 24);
    const stress = (member: WoodMember, spanIn: number, totalLb: number) =>
      judgeWoodBeam(
        simpleBeam(member, spanIn, [{ name: 'D + L', loadDuration: 1, plf: (totalLb / spanIn) * 12 }], 1, 1),
      ).states.filter((state) => state.kind !== 'bearing');
    const small = stress(one, 120, 4000);
    const large = stress(two, 240, 16_000);
    for (const kind of ['bending', 'shear'] as const)
      expect(large.find((s) => s.kind === kind)!.demand).toBeCloseTo(
        small.find((s) => s.kind === kind)!.demand,
        9,
      );
  });
});
