import { describe, expect, test } from 'vitest';
import { makeCheck, qty } from '../../../src/engineering/trace/index.ts';
import { NotAllowed, Refused } from '../../../src/problems.ts';
import {
  comesToTheSame,
  decideSave,
  isSubmitted,
  type SaveQuestion,
} from '../../../src/record/versions/rules.ts';

const newest = { number: 2, authorId: 'other', submitted: true, sameAsNew: false };

function save(change: Partial<SaveQuestion> = {}) {
  return decideSave({
    role: 'contractor',
    personId: 'me',
    reviewable: true,
    newest,
    expectedNumber: 2,
    ...change,
  });
}

describe('decideSave', () => {
  test('the contractor’s save is a version, the engineer’s on a reviewable item a revision', () => {
    expect(save()).toBe('version');
    expect(save({ role: 'engineer' })).toBe('revision');
    expect(save({ role: 'engineer', reviewable: false })).toBe('version');
  });

  test('the first save of an empty item', () => {
    expect(save({ newest: null, expectedNumber: 0 })).toBe('version');
    expect(save({ newest: null, expectedNumber: 0, role: 'engineer' })).toBe('revision');
  });

  test.each(['inspector', 'owner'] as const)('a %s writes no versions', (role) => {
    expect(() => save({ role })).toThrow(NotAllowed);
  });

  test('against another version than the newest: a conflict', () => {
    expect(save({ expectedNumber: 1 })).toBe('conflict');
    expect(save({ expectedNumber: 3 })).toBe('conflict');
    expect(save({ expectedNumber: 0 })).toBe('conflict');
    expect(save({ newest: null, expectedNumber: 1 })).toBe('conflict');
  });

  test('the same save twice is one; only one’s own, only the very next', () => {
    const mine = { ...newest, authorId: 'me', sameAsNew: true };
    expect(save({ newest: mine, expectedNumber: 1 })).toBe('repeated');
    expect(save({ newest: { ...mine, sameAsNew: false }, expectedNumber: 1 })).toBe('conflict');
    expect(save({ newest: { ...mine, authorId: 'other' }, expectedNumber: 1 })).toBe('conflict');
    expect(save({ newest: mine, expectedNumber: 0 })).toBe('conflict');
  });

  test('nothing changed: no new version', () => {
    expect(() => save({ newest: { ...newest, sameAsNew: true } })).toThrow(Refused);
  });

  test('the engineer revises what was submitted only', () => {
    expect(() => save({ role: 'engineer', newest: { ...newest, submitted: false } })).toThrow(Refused);
    expect(save({ newest: { ...newest, submitted: false } })).toBe('version');
  });
});

test('a version is before the engineer when handed over, made or marked by the engineer', () => {
  const version = { submittedAt: null, authorRole: 'contractor', marks: [] } as const;
  expect(isSubmitted(version)).toBe(false);
  expect(isSubmitted({ ...version, submittedAt: new Date(0) })).toBe(true);
  expect(isSubmitted({ ...version, authorRole: 'engineer' })).toBe(true);
  expect(isSubmitted({ ...version, marks: ['a word'] })).toBe(true);
});

describe('comesToTheSame', () => {
  const clause = { standard: 'Mechanics', edition: '', section: 'none' } as const;
  const side = (demandLb: number, title = 'Bearing', reactionLb = 100) => ({
    content: { jacks: 2 },
    restsOn: [],
    calculation: {
      checks: [makeCheck({ id: 'a', title, clause, demand: qty(demandLb, 'lb'), capacity: qty(9, 'lb') })],
      steps: [],
      notices: [],
      outputs: { reaction: qty(reactionLb, 'lb') },
    },
  });

  test('equal checks in other words come to the same', () => {
    expect(comesToTheSame(side(5), side(5, 'Bearing of the plate'))).toBe(true);
  });

  test('another demand, output, content or calculation does not', () => {
    expect(comesToTheSame(side(5), side(6))).toBe(false);
    expect(comesToTheSame(side(5), side(5, 'Bearing', 101))).toBe(false);
    expect(comesToTheSame(side(5), { ...side(5), content: { jacks: 3 } })).toBe(false);
    expect(comesToTheSame(side(5), { ...side(5), calculation: null })).toBe(false);
  });
});
