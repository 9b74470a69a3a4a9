import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  allowableStressCombinations,
  kindsPresent,
  LOAD_KINDS,
  loadFactor,
  serviceSnowFactor,
  snowCasesOf,
  strengthCombinations,
  type Load,
  type LoadKind,
} from '../../../src/engineering/loads/index.ts';

const of16 = { asce7: '7-16' } as const;
const of22 = { asce7: '7-22' } as const;

function asd(edition: typeof of16 | typeof of22, ...kinds: LoadKind[]): [string, number][] {
  return allowableStressCombinations(edition, new Set(kinds)).map((combination) => [
    combination.name,
    combination.durationFactor,
  ]);
}

function point(kind: LoadKind, loadLb: number, snowCase?: Load['snowCase']): Load {
  return {
    form: 'point',
    source: { kind: 'landing', id: 'p' },
    label: 'p',
    kind,
    ...(snowCase === undefined ? {} : { snowCase }),
    positionIn: 0,
    loadLb,
    steps: [],
  };
}

describe('allowable stress combinations with their duration factors', () => {
  test('7-16, floor and snow', () => {
    expect(asd(of16, 'D', 'L', 'S')).toEqual([
      ['D', 0.9],
      ['D + L', 1],
      ['D + S', 1.15],
      ['D + 0.75L + 0.75S', 1.15],
    ]);
  });

  test('7-22, the same loads: 0.7S and 0.525S of a strength-level snow', () => {
    expect(asd(of22, 'D', 'L', 'S')).toEqual([
      ['D', 0.9],
      ['D + L', 1],
      ['D + 0.7S', 1.15],
      ['D + 0.75L + 0.525S', 1.15],
    ]);
  });

  test('roof live and wind bring their own durations', () => {
    expect(asd(of16, 'D', 'L', 'Lr', 'S', 'W')).toEqual([
      ['D', 0.9],
      ['D + L', 1],
      ['D + Lr', 1.25],
      ['D + S', 1.15],
      ['D + 0.75L + 0.75Lr', 1.25],
      ['D + 0.75L + 0.75S', 1.15],
      ['D + 0.6W', 1.6],
      ['D + 0.75L + 0.75Lr + 0.45W', 1.6],
      ['D + 0.75L + 0.75S + 0.45W', 1.6],
      ['0.6D + 0.6W', 1.6],
    ]);
  });

  test('a load that is not there lends neither its name nor its short duration', () => {
    expect(asd(of16, 'D', 'L')).toEqual([
      ['D', 0.9],
      ['D + L', 1],
    ]);
    expect(asd(of16, 'D')).toEqual([['D', 0.9]]);
    expect(asd(of16)).toEqual([]);
  });
});

describe('strength combinations', () => {
  const names = (edition: typeof of16 | typeof of22, ...kinds: LoadKind[]): string[] =>
    strengthCombinations(edition, new Set(kinds)).map((combination) => combination.name);

  test('without floor load the roof is not had together with half an uplift alone', () => {
    const roofOnly = names(of16, 'D', 'S', 'W');
    expect(roofOnly).toContain('1.2D + 1.6S');
    expect(roofOnly).toContain('1.2D + 1.6S + 0.5W');
  });

  test('7-16: 1.6S and 0.5S; 7-22: 1.0S and 0.3S', () => {
    expect(names(of16, 'D', 'L', 'S')).toEqual([
      '1.4D',
      '1.2D + 1.6L + 0.5S',
      '1.2D + L + 1.6S',
      '1.2D + L + 0.5S',
    ]);
    expect(names(of22, 'D', 'L', 'S')).toEqual([
      '1.4D',
      '1.2D + 1.6L + 0.3S',
      '1.2D + L + S',
      '1.2D + L + 0.3S',
    ]);
  });

  test('wind: 0.9D + W for uplift', () => {
    expect(names(of16, 'D', 'W')).toContain('0.9D + W');
    expect(names(of16, 'D', 'Lr', 'W')).toContain('1.2D + 1.6Lr + 0.5W');
  });
});

describe('properties', () => {
  const kinds = fc.subarray([...LOAD_KINDS], { minLength: 1 });
  const editions = fc.constantFrom(of16, of22);

  test('ids and names are single; no factor for a kind that is absent', () => {
    fc.assert(
      fc.property(kinds, editions, (present, edition) => {
        for (const list of [
          allowableStressCombinations(edition, new Set(present)),
          strengthCombinations(edition, new Set(present)),
        ]) {
          expect(new Set(list.map((combination) => combination.name)).size).toBe(list.length);
          expect(new Set(list.map((combination) => combination.id)).size).toBe(list.length);
          for (const combination of list) {
            for (const kind of LOAD_KINDS) {
              if (!present.includes(kind)) expect(combination.factors[kind]).toBe(0);
            }
          }
        }
      }),
    );
  });

  test('what is left out as covered never governs: wood stress ratio over all printed combinations', () => {
    // Ratio of a downward effect to CD, as for a wood member: Σ factor · load ÷ CD.
    fc.assert(
      fc.property(
        fc.record({
          D: fc.double({ min: 1, max: 1e4, noNaN: true }),
          L: fc.double({ min: 0, max: 1e4, noNaN: true }),
        }),
        (loads) => {
          const listed = allowableStressCombinations(of16, new Set<LoadKind>(['D', 'L']));
          const worst = Math.max(
            ...listed.map((c) => (c.factors.D * loads.D + c.factors.L * loads.L) / c.durationFactor),
          );
          for (const [d, l, factor] of [
            [1, 0, 0.9],
            [1, 1, 1],
            [1, 0.75, 1],
            [0.6, 0, 0.9],
          ] as const) {
            expect((d * loads.D + l * loads.L) / factor).toBeLessThanOrEqual(worst);
          }
        },
      ),
    );
  });
});

describe('which loads act', () => {
  const loads = [point('D', 1), point('L', 0), point('S', 5, 'balanced'), point('S', 7, 'rear leeward')];

  test('kinds and snow cases that are really there', () => {
    expect([...kindsPresent(loads)]).toEqual(['D', 'S']);
    expect(snowCasesOf(loads)).toEqual(['balanced', 'rear leeward']);
    expect(snowCasesOf([point('D', 1)])).toEqual([undefined]);
  });

  test('snow of another case does not act', () => {
    const combination = allowableStressCombinations(of22, new Set<LoadKind>(['D', 'S'])).at(-1)!;
    const factors = loads.map((load) => loadFactor(load, combination, 'rear leeward'));
    expect(factors).toEqual([1, 0, 0, 0.7]);
  });

  test('service snow of 7-22 is 0.7 of the mapped one', () => {
    expect([serviceSnowFactor(of16), serviceSnowFactor(of22)]).toEqual([1, 0.7]);
  });
});
