import { describe, expect, test } from 'vitest';
import { isApproved, itemState, stateWords } from '../../../src/record/items/state.ts';
import { judgeNewItem } from '../../../src/record/items/rules.ts';
import { type Invalid, Refused } from '../../../src/problems.ts';
import { standing } from '../support/standings.ts';

const all = [
  'empty',
  'basis',
  'not submitted',
  'awaiting mark',
  'approved',
  'revised',
  'returned',
  'withdrawn',
] as const;

describe('itemState', () => {
  test.each(all)('%s', (is) => {
    expect(standing('beam', is).state.is).toBe(is);
  });

  test('waits since the last thing that happened to it', () => {
    expect(standing('beam', 'not submitted').state).toMatchObject({ since: new Date(1000) });
    expect(standing('beam', 'awaiting mark').state).toMatchObject({ since: new Date(2000) });
    expect(standing('beam', 'returned').state).toMatchObject({ since: new Date(3000) });
  });

  test('the engineer’s own unmarked version awaits a mark without being handed over', () => {
    const { facts } = standing('beam', 'not submitted');
    expect(itemState({ ...facts, newest: { ...facts.newest!, authorRole: 'engineer' } }).is).toBe(
      'awaiting mark',
    );
  });

  test('only approved and revised are approved', () => {
    expect(all.filter((is) => isApproved(standing('beam', is).state))).toEqual(['approved', 'revised']);
  });

  test('has words for every state', () => {
    expect(all.map((is) => stateWords(standing('beam', is).state))).toEqual([
      'nothing entered yet',
      'version 1',
      'version 1 is not submitted',
      "version 1 awaits the engineer's mark",
      'version 1 approved by K. O.',
      'version 1 revised by K. O.',
      'version 1 returned by K. O.: because',
      'approval of version 1 withdrawn by K. O.: because',
    ]);
  });
});

describe('judgeNewItem', () => {
  const item = { kind: 'fastening', key: 'N1', title: 'Row N1', openingId: 'o', keysThere: ['N2'] } as const;
  const fieldsOf = (change: object) => {
    try {
      judgeNewItem({ ...item, ...change });
      return [];
    } catch (error) {
      return Object.keys((error as Invalid).fields);
    }
  };

  test('takes a proper one', () => {
    expect(fieldsOf({})).toEqual([]);
    expect(fieldsOf({ kind: 'criteria', openingId: null, keysThere: [] })).toEqual([]);
  });

  test.each([
    [{ key: '' }, ['key']],
    [{ key: 'N 1' }, ['key']],
    [{ key: 'N2' }, ['key']],
    [{ title: '' }, ['title']],
    [{ title: 'x'.repeat(121) }, ['title']],
    [{ openingId: null }, ['openingId']],
    [{ kind: 'criteria', keysThere: [] }, ['openingId']],
  ])('%j: a message at %j', (change, fields) => {
    expect(fieldsOf(change)).toEqual(fields);
  });

  test('an opening has one beam', () => {
    expect(() => {
      judgeNewItem({ ...item, kind: 'beam', keysThere: ['beam'] });
    }).toThrow(Refused);
  });
});
