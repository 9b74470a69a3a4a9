import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeCheck, qty } from '../../../src/engineering/trace/index.ts';
import { diffContent } from '../../../src/record/diff/content.ts';
import { plainName, plainValue } from '../../../src/record/diff/labels.ts';
import { changeLine, diffVersions } from '../../../src/record/diff/versions.ts';
import { diffWords } from '../../../src/record/diff/words.ts';
import { testKinds } from '../support/kinds.ts';

describe('diffWords', () => {
  test('finds the word that changed', () => {
    expect(diffWords('two rows at 12 in, both faces', 'three rows at 12 in, both faces')).toEqual([
      { is: 'removed', text: 'two' },
      { is: 'added', text: 'three' },
      { is: 'same', text: ' rows at 12 in, both faces' },
    ]);
  });

  test('keeps what stayed on both sides of what went', () => {
    expect(diffWords('a b c d', 'a c d')).toEqual([
      { is: 'same', text: 'a ' },
      { is: 'removed', text: 'b ' },
      { is: 'same', text: 'c d' },
    ]);
  });

  test('takes fastener sizes and lengths as one word', () => {
    const runs = diffWords('.128x3 at 12\'-6"', '.162x3½ at 12\'-6"');
    expect(runs.filter((run) => run.is !== 'same').map((run) => run.text)).toEqual(['.128x3', '.162x3½']);
  });

  const text = fc.array(fc.constantFrom('jack', 'king', '2', '3', ' ', ',', '.162x3', '\n'), {
    maxLength: 30,
  });

  test('gives back both texts, whatever they are', () => {
    fc.assert(
      fc.property(text, text, (one, other) => {
        const [was, now] = [one.join(''), other.join('')];
        const runs = diffWords(was, now);
        const side = (gone: string) =>
          runs
            .filter((run) => run.is !== gone)
            .map((run) => run.text)
            .join('');
        expect(side('added')).toBe(was);
        expect(side('removed')).toBe(now);
      }),
    );
  });

  test('keeps as much as can be kept: against a search of all subsequences', () => {
    const words = fc.array(fc.constantFrom('a', 'b', 'c'), { maxLength: 7 });
    const longest = (one: readonly string[], other: readonly string[]): number => {
      if (one.length === 0 || other.length === 0) return 0;
      if (one[0] === other[0]) return 1 + longest(one.slice(1), other.slice(1));
      return Math.max(longest(one.slice(1), other), longest(one, other.slice(1)));
    };
    fc.assert(
      fc.property(words, words, (one, other) => {
        // Punctuation between: every word and every comma is a word of its own.
        const runs = diffWords(one.join(','), other.join(','));
        const kept = runs
          .filter((run) => run.is === 'same')
          .map((run) => run.text)
          .join('').length;
        const parts = (list: readonly string[]) => list.join(',').split('');
        expect(kept).toBe(longest(parts(one), parts(other)));
      }),
      { numRuns: 60 },
    );
  });
});

describe('diffContent', () => {
  test('names the place in trade words, with units', () => {
    expect(diffContent({ member: { plies: 2 }, spanIn: 144 }, { member: { plies: 3 }, spanIn: 152 })).toEqual(
      [
        { path: 'member.plies', label: 'member, plies', was: '2', now: '3' },
        { path: 'spanIn', label: 'span', was: '12\'-0"', now: '12\'-8"' },
      ],
    );
  });

  test('takes the kind’s own names first', () => {
    const labels = { 'strips.*.frontSpanIn': 'span to the front' };
    const strip = (frontSpanIn: number) => ({ strips: [{ id: 's1', frontSpanIn }] });
    expect(diffContent(strip(144), strip(150), labels)[0]?.label).toBe('strips s1, span to the front');
  });

  test('follows rows by their id, not by their place', () => {
    const was = {
      braces: [
        { id: 'b1', positionIn: 21 },
        { id: 'b2', positionIn: 69 },
      ],
    };
    const now = { braces: [{ id: 'b2', positionIn: 70 }] };
    expect(diffContent(was, now)).toEqual([
      { path: 'braces.b2.positionIn', label: 'braces b2, position', was: '5\'-9"', now: '5\'-10"' },
      { path: 'braces.b1.id', label: 'braces b1, id', was: 'b1', now: null },
      { path: 'braces.b1.positionIn', label: 'braces b1, position', was: '1\'-9"', now: null },
    ]);
  });

  test('two rows of one name hide nothing', () => {
    const was = {
      rows: [
        { id: 'x', n: 1 },
        { id: 'x', n: 2 },
      ],
    };
    const now = {
      rows: [
        { id: 'x', n: 9 },
        { id: 'x', n: 2 },
      ],
    };
    expect(diffContent(was, now).map((change) => [change.was, change.now])).toEqual([['1', '9']]);
  });

  test('shows a long text word by word', () => {
    const [change] = diffContent({ note: 'crown up, no notches here' }, { note: 'crown up, no holes here' });
    expect(change?.words?.filter((run) => run.is !== 'same')).toEqual([
      { is: 'removed', text: 'notches' },
      { is: 'added', text: 'holes' },
    ]);
  });

  test('tells two figures apart that round alike', () => {
    const [change] = diffContent({ loadLb: 4120.1 }, { loadLb: 4120.2 });
    expect([change?.was, change?.now]).toEqual(['4,120.1 lb', '4,120.2 lb']);
  });

  test('a group that came is told leaf by leaf', () => {
    expect(diffContent({}, { pad: { widthIn: 30, thicknessIn: 12 } }).map((change) => change.path)).toEqual([
      'pad.widthIn',
      'pad.thicknessIn',
    ]);
  });

  test('is empty exactly where the contents are equal', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (one, other) => {
        expect(diffContent(one, one)).toEqual([]);
        const plain = (value: unknown) => JSON.stringify(value);
        const leafless = /^(\{\}|\[\])$/.test(plain(one)) || /^(\{\}|\[\])$/.test(plain(other));
        if (!leafless && typeof one !== 'object' && typeof other !== 'object' && one !== other) {
          expect(diffContent(one, other)).not.toEqual([]);
        }
      }),
    );
  });
});

test('names and values', () => {
  expect(plainName('bearingLeftIn')).toBe('bearing left');
  expect(plainName('roofRiseIn12')).toBe('roof rise');
  expect(plainName('plies')).toBe('plies');
  expect(plainName('In')).toBe('in');
  expect(plainValue('roofRiseIn12', 8)).toBe('8 in 12');
  expect(plainValue('thicknessIn', 1.75)).toBe('1.75 in');
  expect(plainValue('wet', false)).toBe('no');
});

test('a unit that both have is said once', () => {
  expect(changeLine('reaction', '4,120 lb', '5,310 lb')).toBe('reaction 4,120 → 5,310 lb');
  expect(changeLine('jacks', '2', '3')).toBe('jacks 2 → 3');
  expect(changeLine('load', '10 plf', '120 lb')).toBe('load 10 plf → 120 lb');
  expect(changeLine('note', null, 'x')).toBe('note added: x');
  expect(changeLine('note', 'x', null)).toBe('note removed (was x)');
});

describe('diffVersions', () => {
  const clause = { standard: 'Mechanics', edition: '', section: 'none' } as const;
  const side = (jacks: number, demandLb: number) => ({
    content: { jacks },
    restsOn: [],
    engineVersion: '1',
    calculation: {
      checks: [
        makeCheck({
          id: 'plate',
          title: 'Plate bearing',
          clause,
          demand: qty(demandLb, 'lb'),
          capacity: qty(jacks * 2000, 'lb'),
        }),
      ],
      steps: [],
      notices: [],
      outputs: { reaction: qty(demandLb, 'lb') },
    },
  });

  test('says what was typed, what came of it, and which verdict turned', () => {
    const diff = diffVersions(testKinds(), 'support', side(2, 4120), side(3, 5310));
    expect(diff.summary).toEqual([
      'jacks 2 → 3',
      'reaction 4,120 → 5,310 lb',
      'Plate bearing: not met → met',
    ]);
    expect(diff.checks[0]?.was?.ratio).toBeCloseTo(4120 / 4000, 12);
    expect(diff.checks[0]?.now?.ratio).toBeCloseTo(5310 / 6000, 12);
    expect(diff.engine).toBeNull();
  });

  test('is empty between equal sides', () => {
    const diff = diffVersions(testKinds(), 'support', side(2, 4120), side(2, 4120));
    expect(diff).toEqual({ content: [], checks: [], outputs: [], grounds: [], engine: null, summary: [] });
  });

  test('tells checks that came and went, and another engine', () => {
    const bare = { ...side(2, 4120), calculation: null, engineVersion: '2' };
    const diff = diffVersions(testKinds(), 'support', side(2, 4120), bare);
    expect(diff.checks).toMatchObject([{ id: 'plate', now: null }]);
    expect(diff.outputs).toEqual([{ name: 'reaction', was: '4,120 lb', now: null }]);
    expect(diff.engine).toEqual({ was: '1', now: '2' });
  });
});
