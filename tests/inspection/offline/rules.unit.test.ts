import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CLOCK_TOLERANCE_MS,
  differencesBetween,
  judgePhoneTime,
  placeFor,
  saysTheSame,
  type OpenVisit,
} from '../../../src/inspection/offline/rules.ts';
import type { CheckOfSet } from '../../../src/inspection/status.ts';

const time = (clock: string) => new Date(`2026-03-05T${clock}:00.000Z`);
const minute = 60_000;

describe('the time of a finding that a phone kept', () => {
  const times = {
    claimedAt: time('09:30'),
    phoneNowAt: time('17:00'),
    receivedAt: time('17:00'),
    openedAt: time('09:00'),
    previousAt: null,
  };
  it.each([
    ['is the phone’s where its clock is right', {}, '09:30', 'as_told'],
    [
      'is the phone’s where its clock is off by two minutes',
      { phoneNowAt: time('16:58') },
      '09:30',
      'as_told',
    ],
    [
      'leaves a slow clock’s hour out',
      { claimedAt: time('08:30'), phoneNowAt: time('16:00') },
      '09:30',
      'clock_corrected',
    ],
    [
      'leaves a fast clock’s hour out',
      { claimedAt: time('10:30'), phoneNowAt: time('18:00') },
      '09:30',
      'clock_corrected',
    ],
    ['is not before the visit was opened', { claimedAt: time('07:00') }, '09:00', 'bounded'],
    ['is not after it arrived', { claimedAt: time('18:00') }, '17:00', 'bounded'],
    ['is not before the finding made before it', { previousAt: time('10:00') }, '10:00', 'bounded'],
    ['takes a minute before the opening for its opening', { claimedAt: time('08:59') }, '09:00', 'as_told'],
  ])('%s', (_words, over, at, word) => {
    expect(judgePhoneTime({ ...times, ...over })).toEqual({ at: time(at), word });
  });

  it('lies between opening and arrival, and in the phone’s order, whatever the clock says', () => {
    const clock = fc.integer({ min: -1e12, max: 4e12 });
    const day = 24 * 60 * minute;
    fc.assert(
      fc.property(
        clock,
        clock,
        fc.integer({ min: 0, max: day }),
        fc.integer({ min: 0, max: day }),
        (claimed, now, open, before) => {
          const receivedAt = time('12:00');
          const openedAt = new Date(receivedAt.getTime() - open);
          const previousAt = new Date(Math.max(openedAt.getTime(), receivedAt.getTime() - before));
          const { at, word } = judgePhoneTime({
            claimedAt: new Date(claimed),
            phoneNowAt: new Date(now),
            receivedAt,
            openedAt,
            previousAt,
          });
          expect(at.getTime()).toBeGreaterThanOrEqual(previousAt.getTime());
          expect(at.getTime()).toBeLessThanOrEqual(receivedAt.getTime());
          if (word === 'as_told')
            expect(Math.abs(at.getTime() - claimed)).toBeLessThanOrEqual(CLOCK_TOLERANCE_MS);
        },
      ),
    );
  });
});

describe('a second delivery', () => {
  const words = {
    checkId: 'c',
    result: 'correction',
    reason: 'shim',
    location: 'north',
    sheetId: null,
    square: '',
  };
  it('says the same', () => {
    expect(saysTheSame(words, { ...words })).toBe(true);
  });
  it.each([
    { checkId: 'd' },
    { result: 'pass' },
    { reason: 'nail' },
    { location: 'south' },
    { sheetId: 's' },
    { square: 'C4' },
  ])('says something else with %j', (over) => {
    expect(saysTheSame(words, { ...words, ...over })).toBe(false);
  });
});

const check = (key: string, version: number, over: Partial<CheckOfSet> = {}): CheckOfSet => ({
  checkId: `${key}-${version}`,
  key,
  versionId: `${key} v${version}`,
  versionNumber: version,
  ordinal: 1,
  visitKind: 'framing',
  title: key,
  criterion: `${key} as of ${version}`,
  clause: '',
  howToLook: '',
  photoRequired: false,
  holdPoint: '',
  ...over,
});

describe('what a later set asks otherwise', () => {
  it('names changed versions, what is gone and what is new, and nothing else', () => {
    const own = [check('beam', 1), check('left', 1), check('row', 1)];
    const later = [check('beam', 2), check('left', 1), check('pad', 1)];
    expect(differencesBetween(own, later)).toEqual([
      {
        key: 'beam',
        title: 'beam',
        is: 'changed',
        before: 'version 1: beam as of 1',
        now: 'version 2: beam as of 2',
      },
      { key: 'row', title: 'row', is: 'gone', before: 'version 1: row as of 1', now: '' },
      { key: 'pad', title: 'pad', is: 'new', before: '', now: 'version 1: pad as of 1' },
    ]);
  });
});

describe('where a late finding may go', () => {
  const late = { key: 'beam', versionId: 'beam v1', visitKind: 'framing' } as const;
  const visit = (number: number, over: Partial<OpenVisit> = {}): OpenVisit => ({
    visitId: `visit ${number}`,
    number,
    kind: 'framing',
    checks: [check('beam', 1)],
    ...over,
  });
  it('goes into the open visit of its kind', () => {
    expect(placeFor(late, [visit(3, { kind: 'footing' }), visit(4)])).toEqual({
      is: 'fits',
      visitId: 'visit 4',
      number: 4,
      checkId: 'beam-1',
    });
  });
  it('goes into a final one where none of its kind is open', () => {
    expect(placeFor(late, [visit(5, { kind: 'final' }), visit(4)])).toMatchObject({ number: 4 });
    expect(placeFor(late, [visit(5, { kind: 'final' })])).toMatchObject({ is: 'fits', number: 5 });
  });
  it('waits where none is open', () => {
    expect(placeFor(late, [visit(4, { kind: 'cover' })])).toEqual({ is: 'no visit' });
  });
  it('does not count for another version, nor where the check is gone', () => {
    expect(placeFor(late, [visit(4, { checks: [check('beam', 2)] })])).toEqual({
      is: 'changed',
      versionNumber: 2,
    });
    expect(placeFor(late, [visit(4, { checks: [] })])).toEqual({ is: 'gone' });
  });
});
