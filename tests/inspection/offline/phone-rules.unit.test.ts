import { describe, expect, it } from 'vitest';

interface Waiting {
  findings: number;
  photos: number;
}
interface Kept {
  id: string;
  checkId: string;
  order: number;
  state: string;
  result: string;
  inCopy?: boolean;
}
/** The browser's module; plain script, so it is imported by address and its functions are named here. */
const rules = (await import(new URL('../../../src/web/assets/offline-rules.js', import.meta.url).href)) as {
  AT_ONCE: number;
  mayTakeBack: (finding: { state: string; offered?: boolean }) => boolean;
  waitingWords: (waiting: Waiting) => string;
  countWaiting: (findings: { state: string }[], photos: { state: string }[]) => Waiting;
  meaningOf: (response: { type: string; status: number }) => string;
  nextDelivery: (findings: Kept[]) => { after: string | null; findings: Kept[] };
  stateOf: (check: { checkId: string; state: string }, findings: Kept[]) => string;
  problemOf: (said: { result: string; reason: string; location: string }) => string | null;
  photoProblem: (files: { name: string; type: string; size: number }[], largest: number) => string | null;
  troubleWords: Record<string, string>;
};

const kept = (order: number, over: Partial<Kept> = {}): Kept => ({
  id: `f${order}`,
  checkId: 'beam',
  order,
  state: 'waiting',
  result: 'pass',
  ...over,
});

describe('what may be taken back', () => {
  it.each([
    ['waiting', undefined, true],
    ['waiting', true, false],
    ['kept', true, false],
    ['late', true, false],
    ['refused', true, false],
  ])('a finding that is %s, offered %s: %s', (state, offered, may) => {
    expect(rules.mayTakeBack({ state, ...(offered === undefined ? {} : { offered }) })).toBe(may);
  });
});

describe('what waits', () => {
  it.each([
    [3, 2, '3 findings and 2 photos wait to be sent.'],
    [1, 0, '1 finding waits to be sent.'],
    [0, 1, '1 photo waits to be sent.'],
    [1, 1, '1 finding and 1 photo wait to be sent.'],
    [0, 0, 'Everything is sent.'],
  ])('%d findings, %d photos: %s', (findings, photos, words) => {
    expect(rules.waitingWords({ findings, photos })).toBe(words);
  });

  it('is neither what is sent nor what was refused', () => {
    const states = ['waiting', 'kept', 'late', 'refused'].map((state) => ({ state }));
    expect(rules.countWaiting(states, states)).toEqual({ findings: 1, photos: 1 });
  });
});

describe('an answer of the service', () => {
  it.each([
    ['basic', 200, 'done'],
    ['basic', 201, 'done'],
    ['opaqueredirect', 0, 'sign in'],
    ['basic', 404, 'not a member'],
    ['basic', 403, 'role'],
    ['basic', 409, 'order'],
    ['basic', 422, 'refused'],
    ['basic', 413, 'refused'],
    ['basic', 429, 'later'],
    ['basic', 500, 'later'],
    ['basic', 503, 'later'],
    ['basic', 507, 'later'],
  ])('%s %d means “%s”', (type, status, meaning) => {
    expect(rules.meaningOf({ type, status })).toBe(meaning);
    if (meaning !== 'done') expect(rules.troubleWords[meaning]).toMatch(/\.$/);
  });
});

describe('what goes next', () => {
  it('goes in the order in which it was found, and names what arrived before', () => {
    const all = [kept(4), kept(1, { state: 'kept' }), kept(3), kept(2, { state: 'late' })];
    expect(rules.nextDelivery(all)).toMatchObject({ after: 'f2', findings: [{ id: 'f3' }, { id: 'f4' }] });
  });
  it('does not wait for what was refused, nor names it', () => {
    expect(rules.nextDelivery([kept(1, { state: 'refused' }), kept(2)])).toMatchObject({
      after: null,
      findings: [{ id: 'f2' }],
    });
  });
  it('is no more than the service takes at once', () => {
    const many = Array.from({ length: 60 }, (_, index) => kept(index + 1));
    expect(rules.nextDelivery(many).findings).toHaveLength(rules.AT_ONCE);
  });
});

describe('where a check stands on the phone', () => {
  const check = { checkId: 'beam', state: 'open' };
  it.each([
    ['as the copy says, where the phone found nothing', [], 'open'],
    ['as found last', [kept(2, { result: 'correction' }), kept(1)], 'correction'],
    ['as the copy says, once it holds what was found', [kept(1, { inCopy: true, state: 'kept' })], 'open'],
    ['without what was refused', [kept(1), kept(2, { state: 'refused', result: 'correction' })], 'pass'],
    ['without other checks', [kept(1, { checkId: 'row' })], 'open'],
  ])('%s', (_words, findings, state) => {
    expect(rules.stateOf(check, findings)).toBe(state);
  });
});

describe('what is not kept', () => {
  it.each([
    ['pass', '', '', null],
    ['correction', ' ', '', 'Say what has to be put right.'],
    ['not_applicable', '', '', 'Say why it does not apply.'],
    ['correction', 'x'.repeat(4001), '', 'That is longer than 4000 characters; shorten it.'],
    ['pass', '', 'x'.repeat(201), 'Place: use at most 200 characters.'],
    ['correction', 'Gap', 'north', null],
  ])('%s, “%s”, “%s”', (result, reason, location, problem) => {
    expect(rules.problemOf({ result, reason, location })).toBe(problem);
  });
  const photo = { name: 'a.jpg', type: 'image/jpeg', size: 9 };
  it.each([
    [[photo], null],
    [[{ ...photo, type: 'application/pdf' }], 'a.jpg: photos are JPEG, HEIC, PNG or WebP.'],
    [[{ ...photo, size: 0 }], 'a.jpg is empty.'],
    [[{ ...photo, size: 3 * 1024 * 1024 }], 'a.jpg is larger than 2 MB, the most that is kept.'],
    [Array.from({ length: 21 }, () => photo), 'A finding takes at most 20 photos.'],
  ])('photos %#', (files, problem) => {
    expect(rules.photoProblem(files, 2 * 1024 * 1024)).toBe(problem);
  });
});
