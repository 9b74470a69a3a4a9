import { describe, expect, test } from 'vitest';
import { NotAllowed, Refused } from '../../../src/problems.ts';
import type { MarkReference, MarkWord } from '../../../src/record/items/state.ts';
import { decideMark, type MarkQuestion, type SayableWord } from '../../../src/record/marks/rules.ts';

function said(...words: readonly MarkWord[]): MarkReference[] {
  return words.map((word, index) => ({
    markId: `mark ${index + 1}`,
    number: index + 1,
    word,
    reason: word === 'approved' ? '' : 'because',
    byId: 'engineer',
    byName: 'K. O.',
    at: new Date(0),
  }));
}

interface Case {
  marks?: readonly MarkWord[];
  word?: SayableWord;
  reason?: string;
  expected?: number;
  version?: Partial<MarkQuestion['version']>;
  rest?: Partial<MarkQuestion>;
  hash?: string;
}

function question({ marks = [], word = 'approved', reason = '', expected, version, rest, hash }: Case = {}) {
  return decideMark({
    role: 'engineer',
    personId: 'engineer',
    title: 'Beam',
    reviewable: true,
    version: { number: 2, hash: 'h2', submitted: true, marks: said(...marks), failing: [], ...version },
    newestNumber: 2,
    stale: [],
    asked: { hash: hash ?? 'h2', expectedMarkNumber: expected ?? marks.length, word, reason },
    ...rest,
  });
}

describe('who may say what', () => {
  test.each(['contractor', 'inspector', 'owner'] as const)('a %s may not mark', (role) => {
    expect(() => question({ rest: { role } })).toThrow(NotAllowed);
  });

  test('the engineer may', () => {
    expect(question()).toBe('mark');
  });

  test('bases are not marked', () => {
    expect(() => question({ rest: { reviewable: false } })).toThrow(Refused);
  });

  test('what was not submitted is not marked', () => {
    expect(() => question({ version: { submitted: false } })).toThrow('not submitted');
  });
});

describe('only what was seen', () => {
  test('another hash than the version has', () => {
    expect(question({ hash: 'h1' })).toBe('other content');
  });

  test('a newer version meanwhile', () => {
    expect(question({ rest: { newestNumber: 3 } })).toBe('newer version');
    expect(question({ rest: { newestNumber: 3 }, word: 'returned', reason: 'no' })).toBe('newer version');
  });

  test('a mark meanwhile', () => {
    expect(question({ marks: ['returned'], expected: 0 })).toBe('marked meanwhile');
  });

  test('an older page of one’s own, two marks ago', () => {
    expect(question({ marks: ['approved', 'withdrawn'], expected: 0 })).toBe('marked meanwhile');
  });
});

describe('a double tap is one mark', () => {
  test('the same word again', () => {
    expect(question({ marks: ['approved'], expected: 0 })).toBe('repeated');
    expect(question({ marks: ['returned'], expected: 0, word: 'returned', reason: 'because' })).toBe(
      'repeated',
    );
  });

  test('also when a newer version came in between', () => {
    expect(question({ marks: ['approved'], expected: 0, rest: { newestNumber: 3 } })).toBe('repeated');
  });

  test('not by somebody else, not another word, not another reason', () => {
    expect(question({ marks: ['approved'], expected: 0, rest: { personId: 'second' } })).toBe(
      'marked meanwhile',
    );
    expect(question({ marks: ['returned'], expected: 0, reason: 'because' })).toBe('marked meanwhile');
    expect(question({ marks: ['returned'], expected: 0, word: 'returned', reason: 'other' })).toBe(
      'marked meanwhile',
    );
  });
});

describe('one word follows another', () => {
  const allowed: Readonly<Record<string, readonly SayableWord[]>> = {
    '': ['approved', 'returned'],
    approved: ['withdrawn'],
    revised: ['withdrawn'],
    returned: ['approved'],
    withdrawn: ['approved', 'returned'],
  };
  for (const [last, words] of Object.entries(allowed)) {
    for (const word of ['approved', 'returned', 'withdrawn'] as const) {
      const marks = last === '' ? [] : [last as MarkWord];
      test(`${word} after ${last === '' ? 'nothing' : last}: ${words.includes(word) ? 'yes' : 'no'}`, () => {
        const decide = () => question({ marks, word, reason: 'because' });
        if (words.includes(word)) expect(decide()).toBe('mark');
        else expect(decide).toThrow(Refused);
      });
    }
  }

  test('an approval of an older version can be withdrawn', () => {
    expect(
      question({ marks: ['approved'], word: 'withdrawn', reason: 'wrong load', rest: { newestNumber: 5 } }),
    ).toBe('mark');
  });
});

describe('reasons', () => {
  test.each<[string, Case]>([
    ['returned', { word: 'returned' }],
    ['withdrawn', { marks: ['approved'], word: 'withdrawn' }],
    ['approved after returned', { marks: ['returned'] }],
    ['approved with a check that is not met', { version: { failing: ['Bending'] } }],
  ])('%s needs one, and blanks are none', (_name, asked) => {
    expect(() => question(asked)).toThrow(Refused);
    expect(() => question({ ...asked, reason: '  \n' })).toThrow(Refused);
    expect(question({ ...asked, reason: 'because' })).toBe('mark');
  });
});

describe('what is stale', () => {
  test('is not approved, whatever the reason; it can be returned', () => {
    const stale = ['demand was 4,120 lb, is 5,310 lb'];
    expect(() => question({ rest: { stale }, reason: 'still fine' })).toThrow(
      'demand was 4,120 lb, is 5,310 lb',
    );
    expect(question({ rest: { stale }, word: 'returned', reason: 'recalculate' })).toBe('mark');
  });
});
