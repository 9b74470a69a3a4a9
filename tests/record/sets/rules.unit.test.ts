import { describe, expect, test } from 'vitest';
import { Conflict, Refused } from '../../../src/problems.ts';
import type { ItemState } from '../../../src/record/items/state.ts';
import { decideEntries, enterable, gapsOf, judgeOpenQuestions } from '../../../src/record/sets/rules.ts';
import { standing } from '../support/standings.ts';

const shown = (...ids: readonly string[]) =>
  ids.map((itemId) => ({ itemId, versionId: `${itemId} v1`, hash: `${itemId} h1` }));

const standings = [
  standing('survey', 'basis'),
  standing('beam', 'approved'),
  standing('left', 'revised'),
  standing('right', 'approved', ['demand was 4,120 lb, is 5,310 lb']),
  standing('footing', 'returned'),
  standing('N1', 'awaiting mark'),
  standing('N2', 'not submitted'),
  standing('N3', 'withdrawn'),
  standing('N4', 'empty'),
];

describe('what may enter a set', () => {
  test('approved and revised, unless stale', () => {
    expect(enterable(standings).map((entry) => entry.versionId)).toEqual(['beam v1', 'left v1']);
  });

  test('exactly what was shown enters', () => {
    const ids = (list: readonly string[]) => decideEntries(standings, shown(...list)).map((e) => e.versionId);
    expect(ids(['beam', 'left'])).toEqual(['beam v1', 'left v1']);
    expect(ids(['left'])).toEqual(['left v1']);
  });

  test('an empty set is refused, and an item twice', () => {
    expect(() => decideEntries(standings, [])).toThrow(Refused);
    expect(() => decideEntries(standings, shown('beam', 'beam'))).toThrow(Refused);
  });

  test.each(['right', 'footing', 'N1', 'N2', 'N3', 'survey'])('%s is refused by name', (id) => {
    expect(() => decideEntries(standings, shown('beam', id))).toThrow(
      new RegExp(`^This can't be in a set: ${id}:`),
    );
  });

  test('an item of another opening is refused', () => {
    expect(() => decideEntries(standings, shown('elsewhere'))).toThrow(Refused);
  });

  test('a version that is no longer the newest, or another content, is a conflict', () => {
    const older = { itemId: 'beam', versionId: 'beam v0', hash: 'beam h0' };
    expect(() => decideEntries(standings, [older])).toThrow(Conflict);
    expect(() => decideEntries(standings, [{ ...shown('beam')[0]!, hash: 'x' }])).toThrow(Conflict);
  });
});

test('gaps name everything left open, with the reason', () => {
  const entries = decideEntries(standings, shown('left'));
  expect(gapsOf(standings, entries).map((gap) => gap.sentence)).toEqual([
    'beam: version 1 approved by K. O., left out of this set',
    'right: version 1 approved by K. O., but out of date: demand was 4,120 lb, is 5,310 lb',
    'footing: version 1 returned by K. O.: because',
    "N1: version 1 awaits the engineer's mark",
    'N2: version 1 is not submitted',
    'N3: approval of version 1 withdrawn by K. O.: because',
    'N4: nothing entered yet',
  ]);
});

test('whatever the states: entries and gaps together are the reviewable items, none twice', () => {
  const states: ItemState['is'][] = ['approved', 'revised', 'returned', 'empty', 'basis', 'withdrawn'];
  for (const one of states) {
    for (const other of states) {
      const two = [standing('a', one), standing('b', other, ['moved'])];
      const entries = enterable(two);
      const named = [
        ...entries.map((entry) => entry.standing.facts.itemId),
        ...gapsOf(two, entries).map((gap) => gap.itemId),
      ];
      const reviewable = two.filter((each) => each.facts.reviewable).map((each) => each.facts.itemId);
      expect([...named].sort()).toEqual(reviewable);
    }
  }
});

test('open questions must be confirmed, each of them', () => {
  const question = { itemId: 'beam', itemTitle: 'Beam', byName: 'R. T.', at: new Date(0) };
  const open = [
    { ...question, threadId: 'q1', text: 'Which grade?' },
    { ...question, threadId: 'q2', text: 'Which side?' },
  ];
  expect(() => {
    judgeOpenQuestions(open, ['q1']);
  }).toThrow('“Which side?” (Beam)');
  expect(() => {
    judgeOpenQuestions(open, ['q1', 'q2']);
  }).not.toThrow();
});
