import { describe, expect, test } from 'vitest';
import { Conflict, Refused } from '../../../src/problems.ts';
import { decideSubmission } from '../../../src/record/submissions/rules.ts';
import { standing } from '../support/standings.ts';

describe('decideSubmission', () => {
  test('everything new, and nothing else', () => {
    const standings = [
      standing('beam', 'not submitted'),
      standing('left', 'awaiting mark'),
      standing('right', 'approved'),
      standing('N1', 'returned'),
      standing('N2', 'empty'),
      standing('survey', 'basis'),
    ];
    const { submit, leftOut } = decideSubmission(standings, null);
    expect(submit.map((version) => version.itemId)).toEqual(['beam']);
    expect(leftOut).toEqual([]);
  });

  test('stale ones stay behind and are named; the others go', () => {
    const standings = [
      standing('beam', 'not submitted'),
      standing('left', 'not submitted', ['demand moved']),
    ];
    const { submit, leftOut } = decideSubmission(standings, null);
    expect(submit.map((version) => version.itemId)).toEqual(['beam']);
    expect(leftOut.map((item) => item.sentence)).toEqual([
      'left is out of date (demand moved). Recalculate it first.',
    ]);
  });

  test('a stale one that is named, or the only one, is refused', () => {
    const standings = [standing('left', 'not submitted', ['demand moved'])];
    expect(() => decideSubmission(standings, [{ itemId: 'left', versionId: 'left v1' }])).toThrow(Refused);
    expect(() => decideSubmission(standings, null)).toThrow('demand moved');
  });

  test('a version that is no longer the newest is a conflict', () => {
    const standings = [standing('beam', 'not submitted')];
    expect(() => decideSubmission(standings, [{ itemId: 'beam', versionId: 'beam v0' }])).toThrow(Conflict);
  });

  test('nothing new is refused', () => {
    expect(() => decideSubmission([standing('beam', 'approved')], null)).toThrow(Refused);
    expect(() => decideSubmission([], null)).toThrow(Refused);
  });
});
