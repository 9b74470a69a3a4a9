import { describe, expect, it } from 'vitest';
import { visitTitles, type VisitKind } from '../../src/inspection/checks/check.ts';
import { holdPointStates, mayStart } from '../../src/inspection/hold-points.ts';
import {
  checksOfVisit,
  checkStatuses,
  closingProblems,
  inVisitOrder,
  type CheckOfSet,
  type CheckStatus,
  type Closing,
  type FindingOnCheck,
} from '../../src/inspection/status.ts';

const check = (key: string, over: Partial<CheckOfSet> = {}): CheckOfSet => ({
  checkId: `id-${key}`,
  key,
  versionId: 'v1',
  versionNumber: 1,
  ordinal: 1,
  visitKind: 'framing',
  title: key,
  criterion: '',
  clause: '',
  howToLook: '',
  photoRequired: false,
  holdPoint: 'take the shoring out',
  ...over,
});
let clock = 0;
const finding = (
  key: string,
  result: FindingOnCheck['result'],
  over: Partial<FindingOnCheck> = {},
): FindingOnCheck => ({
  findingId: `f${(clock += 1)}`,
  checkId: `id-${key}`,
  key,
  versionId: 'v1',
  versionNumber: 1,
  visitNumber: 1,
  setNumber: 1,
  result,
  reason: '',
  location: '',
  byName: 'I',
  at: new Date(clock),
  receivedAt: new Date(clock),
  answers: [],
  ...over,
});
const closeAs = (
  kind: VisitKind,
  statuses: readonly CheckStatus[],
  as: Closing,
  withoutPhoto: string[] = [],
) => closingProblems({ title: visitTitles[kind], own: checksOfVisit(kind, statuses), withoutPhoto }, as);
const closing = { outcome: 'passed', portion: '', summary: '', signedName: 'D. V.' } as const;

describe('where checks stand', () => {
  it('the latest finding speaks; earlier ones stay in its history', () => {
    const [status] = checkStatuses(
      1,
      [check('beam')],
      [finding('beam', 'correction'), finding('beam', 'pass', { visitNumber: 2 })],
    );
    expect(status?.state).toBe('pass');
    expect(status?.history.map((one) => one.result)).toEqual(['correction', 'pass']);
  });

  it('findings on the same version carry over to a later set', () => {
    const [status] = checkStatuses(3, [check('beam')], [finding('beam', 'pass', { setNumber: 1 })]);
    expect(status).toMatchObject({ state: 'pass', carriedFromSet: 1, reopened: null });
  });

  it('a changed version is open again and says why', () => {
    const changed = check('beam', { versionId: 'v2', versionNumber: 2 });
    const [status] = checkStatuses(2, [changed], [finding('beam', 'pass', { visitNumber: 4 })]);
    expect(status).toMatchObject({
      state: 'open',
      finding: null,
      reopened: 'Looked at in visit 4 as version 1; version 2 is approved now.',
    });
  });

  it('a re-inspection begins with the corrections, then what nobody looked at; what it did itself comes after', () => {
    const checks = ['a', 'b', 'c', 'd', 'e'].map((key, index) => check(key, { ordinal: index }));
    const statuses = checkStatuses(1, checks, [
      finding('a', 'correction', { visitNumber: 2 }),
      finding('c', 'correction'),
      finding('d', 'not_applicable'),
      finding('e', 'pass'),
    ]);
    expect(inVisitOrder(statuses, 2).map((status) => status.key)).toEqual(['c', 'b', 'a', 'd', 'e']);
  });

  it('the latest to arrive speaks where two visits are open at once, whatever their numbers', () => {
    const [status] = checkStatuses(
      1,
      [check('beam')],
      [finding('beam', 'pass', { visitNumber: 2 }), finding('beam', 'correction', { visitNumber: 1 })],
    );
    expect(status?.state).toBe('correction');
  });
});

describe('hold points', () => {
  it('hold until every check that guards them passes or does not apply, and say what is missing', () => {
    const checks = [check('a'), check('b'), check('c', { holdPoint: '' })];
    const held = checkStatuses(1, checks, [finding('a', 'pass')]);
    expect(holdPointStates(held)).toEqual([
      { step: 'take the shoring out', released: false, missing: ['b'], undecided: [] },
    ]);
    const free = checkStatuses(1, checks, [finding('a', 'pass'), finding('b', 'not_applicable')]);
    expect(holdPointStates(free)).toEqual([
      { step: 'take the shoring out', released: true, missing: [], undecided: [] },
    ]);
  });
});

describe('an inspection that the project does not have', () => {
  const off = { visitName: 'Shoring', decidedBy: 'engineer' } as const;
  const guard = (over: Partial<CheckOfSet>) =>
    check('walls', { visitKind: 'shoring', holdPoint: 'take the wall out', switchedOff: off, ...over });

  it('leaves its step held, named, and asks who decides', () => {
    const held = checkStatuses(1, [guard({})], []);
    expect(holdPointStates(held)).toEqual([
      {
        step: 'take the wall out',
        released: false,
        missing: ['walls'],
        undecided: [{ ...off, missing: ['walls'] }],
      },
    ]);
    expect(mayStart('take the wall out', held)).toMatchObject({
      mayStart: false,
      waitsFor: 'Waits for 1: walls. “Shoring” is switched off in this project: the engineer decides.',
    });
  });

  it('is released by the engineer’s word on it', () => {
    const accepted = { byName: 'E', at: new Date(1), basis: 'Seen on Tuesday' };
    const free = checkStatuses(1, [guard({ accepted })], []);
    expect(holdPointStates(free)[0]).toMatchObject({ released: true, undecided: [] });
    expect(mayStart('take the wall out', free)).toMatchObject({ mayStart: true, waitsFor: '' });
  });

  it('is not looked at in the final visit', () => {
    const statuses = checkStatuses(1, [guard({}), check('beam')], []);
    expect(checksOfVisit('final', statuses).map((status) => status.key)).toEqual(['beam']);
  });
});

describe('may a step start', () => {
  it('not without a set, and not where the set says nothing about it', () => {
    expect(mayStart('take the wall out', null).mayStart).toBe(false);
    const framing = checkStatuses(1, [check('a')], [finding('a', 'pass')]);
    expect(mayStart('take the wall out', framing)).toMatchObject({
      mayStart: false,
      waitsFor: 'The approved set holds nothing that would let anybody take the wall out.',
    });
    expect(mayStart('take the shoring out', framing).mayStart).toBe(true);
  });
});

describe('a requirement of no version', () => {
  const local = (key: string) => check(key, { versionId: '', versionNumber: 0, source: 'local requirement' });
  const on = (key: string) => finding(key, 'pass', { versionId: '', versionNumber: 0 });

  it('keeps its finding while it says the same, and is open again where it says something else', () => {
    const [same] = checkStatuses(2, [local('local:a#1')], [on('local:a#1')]);
    expect(same).toMatchObject({ state: 'pass', carriedFromSet: 1 });
    const [other] = checkStatuses(2, [local('local:a#2')], [on('local:a#1')]);
    expect(other).toMatchObject({ state: 'open' });
    expect(other?.reopened).toContain('when it said something else');
  });
});

describe('closing a visit', () => {
  const checks = [check('a'), check('b'), check('other', { visitKind: 'footing' })];
  const all = (result: FindingOnCheck['result']) =>
    checkStatuses(1, checks, [finding('a', 'pass'), finding('b', result)]);

  it('passes where all of its own checks are settled', () => {
    expect(closeAs('framing', all('pass'), closing)).toEqual({});
  });
  it('does not pass with an open correction or something not looked at', () => {
    expect(closeAs('framing', all('correction'), closing).outcome).toContain('A correction is open (b)');
    const open = checkStatuses(1, checks, [finding('a', 'pass')]);
    expect(closeAs('framing', open, closing).outcome).toContain('1 of “Framing, before cover” not looked at');
  });
  it('does not pass while a photo that a check asks for is missing; closes as something else', () => {
    expect(closeAs('framing', all('pass'), closing, ['a']).outcome).toContain('A photo is missing');
    const portion = { ...closing, outcome: 'partial', portion: 'left half' } as const;
    expect(closeAs('framing', all('pass'), portion, ['a'])).toEqual({});
  });
  it('as final, passes only where the whole set is settled', () => {
    expect(closeAs('final', all('pass'), closing).outcome).toContain('1 of “Final” not looked at');
    expect(closeAs('final', all('correction'), closing).outcome).toContain('A correction is open (b)');
  });
  it('names a portion with a partial outcome and with no other', () => {
    const portion = 'left of the post';
    expect(closeAs('framing', all('pass'), { ...closing, outcome: 'partial', portion })).toEqual({});
    expect(closeAs('framing', all('pass'), { ...closing, portion }).portion).toContain('“Partial”');
  });
  it('needs a correction to say so, a portion to pass in part, words for the rest, and a name', () => {
    const say = (outcome: 'correction_needed' | 'partial' | 'not_ready' | 'no_access' | 'stop_work') =>
      closeAs('framing', all('pass'), { ...closing, outcome });
    expect(say('correction_needed').outcome).toBe(
      'No correction is recorded: record what has to be put right.',
    );
    expect(say('partial').portion).toBe('Name the portion that may go on.');
    for (const outcome of ['not_ready', 'no_access', 'stop_work'] as const)
      expect(say(outcome).summary).toBe('Say why.');
    expect(closeAs('framing', all('pass'), { ...closing, signedName: '  ' }).signedName).toBe(
      'Type your name.',
    );
  });
});
