import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Facts } from '../../src/notify/rules/facts.ts';
import { hearersOf, told, toldTo } from '../../src/notify/rules/told.ts';
import { permissions, type Rule } from '../../src/people/permissions.ts';
import { roles, type Role } from '../../src/people/roles.ts';
import type { EventPayloads, EventType } from '../../src/record/events/payloads.ts';
import { startTestApp, type TestApp } from '../support/app.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

const id = '00000000-0000-4000-8000-000000000001';
const facts: Facts = {
  projectId: id,
  actorName: 'K. O.',
  openingId: id,
  openingName: 'Den wall',
  itemId: id,
  itemTitle: 'Left support',
  versionNumber: 2,
  visitKind: 'framing',
  movedDays: ['The wall comes out: now Sat, May 9, 2026; it was to be Thu, May 7, 2026.'],
};
/** Words that only the log's readers may see; the owner is none of them. */
const inner = 'INNER WORDS';

const samples: { readonly [Type in EventType]?: EventPayloads[Type] } = {
  'member.joined': { personId: id, name: 'D. V.', role: 'inspector' },
  'versions.submitted': {
    submissionId: id,
    openingId: id,
    number: 1,
    note: inner,
    versions: [{ versionId: id, hash: 'a' }],
  },
  'version.marked': {
    markId: id,
    itemId: id,
    versionId: id,
    versionHash: 'a',
    // The first word on version 2.
    number: 1,
    word: 'returned',
    reason: inner,
    byId: id,
  },
  'set.issued': { setId: id, openingId: id, number: 3, hash: 'a', entries: [] },
  'finding.recorded': {
    findingId: id,
    visitId: id,
    checkId: id,
    clientKey: 'one',
    result: 'correction',
    reason: inner,
    location: '',
    sheetId: null,
    square: '',
    at: '',
  },
  'visit.closed': {
    visitId: id,
    outcome: 'correction_needed',
    portion: '',
    summary: inner,
    signedName: 'D. V.',
  },
  'correction.answered': { answerId: id, findingId: id, note: inner, disturbs: [] },
  'visit.called': { callId: id, openingId: id, setId: id, visitKey: 'framing', note: inner, shared: '' },
  'hold_point.closed': {
    openingId: id,
    setId: id,
    step: 'take the shoring out',
    itemIds: [id],
    missing: [inner],
  },
  'work.logged': {
    workEntryId: id,
    openingId: id,
    number: 1,
    step: 'wall_out',
    title: 'Wall taken out',
    doneOn: '2026-05-09',
    who: 'R. T.',
    note: inner,
    outOfOrder: `["${inner}"]`,
  },
  'work.withdrawn': {
    workWithdrawalId: id,
    workEntryId: id,
    openingId: id,
    title: 'Wall taken out',
    reason: inner,
  },
  'sequence.planned': { planId: id, openingId: id, number: 2, content: '{}', reason: 'The yard is late.' },
  'salvage.listed': {
    salvageLineId: id,
    openingId: id,
    number: 1,
    what: 'Oak flooring',
    howMany: '40 sq ft',
    condition: 'sound',
    keptAt: 'garage',
  },
  'salvage.worded': {
    salvageWordId: id,
    salvageLineId: id,
    openingId: id,
    what: 'Oak flooring',
    number: 2,
    word: 'gone',
    note: inner,
  },
  'question.asked': {
    questionId: id,
    threadId: null,
    itemId: id,
    versionId: null,
    text: inner,
    closes: false,
    byId: id,
  },
  'question.answered': {
    questionId: id,
    threadId: id,
    itemId: id,
    versionId: null,
    text: inner,
    closes: false,
    byId: id,
  },
  // Between the owner and the contractor alone, so that the words themselves are for them.
  'owner.said': {
    ownerWordId: id,
    openingId: id,
    threadId: null,
    text: 'Which colour?',
    byRole: 'contractor',
  },
  'delivery.mismatched': {
    deliveryLineId: id,
    deliveryId: id,
    clientKey: 'one',
    setId: id,
    lineId: 'beam',
    calledFor: '{}',
    delivered: '{}',
    count: 3,
    offGround: true,
    covered: true,
    differences: `["${inner}"]`,
    note: inner,
  },
  'note.saved': { sheetNoteId: id, noteId: id, attachmentId: id, number: 1, content: '{}', itemId: null },
  'attachment.shared': { attachmentId: id, shared: true },
};

function lines(role: Role) {
  return (Object.keys(told) as EventType[]).flatMap((type) => {
    const payload = samples[type];
    if (payload === undefined) throw new Error(`No sample of ${type}: add one.`);
    const line = toldTo(role, type, payload, facts);
    return line === null ? [] : [{ type, ...line }];
  });
}

/** Who may open the page at an address, by the table that the running service has. */
function mayOpen(path: string, role: Role): boolean {
  const route = test.app
    .routeTable()
    .filter(({ method }) => method === 'GET')
    // The plain address before the one with a placeholder in its place.
    .sort((one, other) => (one.url.match(/:/g) ?? []).length - (other.url.match(/:/g) ?? []).length)
    .find(({ url }) => new RegExp(`^${url.replace(/:[A-Za-z]+/g, '[^/]+').replace('*', '.*')}$`).test(path));
  if (route === undefined) return false;
  const rule: Rule = permissions[route.access];
  return rule.who !== 'members' || rule.roles.includes(role);
}

describe('who is told what', () => {
  it.each(roles)('every line for the %s leads to a page that this role may open', (role) => {
    for (const { type, path } of lines(role))
      expect({ type, path, may: mayOpen(path, role) }).toMatchObject({ may: true });
  });

  it('who hears at all is known before anything is looked up', () => {
    for (const type of Object.keys(told) as EventType[]) {
      const payload = samples[type] as never;
      const hear = roles.filter((role) => toldTo(role, type, payload, facts) !== null);
      expect([type, hearersOf(type, payload)]).toEqual([type, hear]);
    }
  });

  it('nothing is told to a role that could not open where it leads (the check itself can fail)', () => {
    expect(mayOpen(`/projects/${id}/items/${id}`, 'owner')).toBe(false);
    expect(mayOpen(`/projects/${id}/openings/${id}/checklist`, 'owner')).toBe(false);
  });

  it('the owner reads plain words: no reason, note, question, hash or name of a state', () => {
    const owners = lines('owner');
    expect(owners.map(({ type }) => type).sort()).toEqual([
      'attachment.shared',
      'owner.said',
      'salvage.listed',
      'salvage.worded',
      'sequence.planned',
      'set.issued',
      'versions.submitted',
      'visit.closed',
      'work.logged',
    ]);
    for (const { type, line } of owners) {
      // A house may have several openings. What comes out of a wall says itself what it is.
      if (!type.startsWith('salvage.')) expect(line).toContain('“Den wall”');
      expect(line).not.toContain(inner);
      expect(line).not.toMatch(/_|submission|version|mark/);
    }
  });

  it('the owner reads which day moved, to when, and why', () => {
    const planned = (facts: Facts) =>
      toldTo('owner', 'sequence.planned', samples['sequence.planned']!, facts)?.line;
    expect(planned(facts)).toBe(
      '“Den wall”: A day of the work moved. The wall comes out: now Sat, May 9, 2026; it was to be Thu, May 7, 2026. Why: “The yard is late.”',
    );
    expect(planned({ ...facts, movedDays: Array<string>(6).fill('One.') })).toContain(
      'Days of the work moved. One. One. One. One. And 2 other days. Why: ',
    );
    expect(planned({ ...facts, movedDays: [] })).not.toContain('moved');
  });

  it('the others get the words', () => {
    expect(lines('inspector').find(({ type }) => type === 'visit.called')?.line).toMatch(
      /^K\. O\. calls for “Framing, before cover” of “Den wall”: /,
    );
    expect(lines('contractor').find(({ type }) => type === 'version.marked')?.line).toBe(
      `K. O. marked Left support of “Den wall”, version 2, as returned: “${inner}”`,
    );
    expect(lines('engineer').find(({ type }) => type === 'versions.submitted')?.line).toBe(
      `K. O. handed over 1 item of “Den wall” for your review: “${inner}”`,
    );
    expect(lines('inspector').map(({ type }) => type)).toEqual([
      'set.issued',
      'correction.answered',
      'visit.called',
      'hold_point.closed',
      'work.logged',
      'work.withdrawn',
    ]);
  });

  it('work in its order, and a decision about what comes out, are no news where they ask for nothing', () => {
    const inOrder = { ...samples['work.logged']!, outOfOrder: '[]' };
    expect(toldTo('engineer', 'work.logged', inOrder, facts)).toBeNull();
    expect(toldTo('owner', 'work.logged', { ...inOrder, step: 'dig' }, facts)).toBeNull();
    const decided = { ...samples['salvage.worded']!, word: 'keep' as const };
    expect(toldTo('owner', 'salvage.worded', decided, facts)).toBeNull();
  });

  it('a pass, a second state of a note and a file taken back are no news', () => {
    const pass = { ...samples['finding.recorded']!, result: 'pass' };
    expect(toldTo('contractor', 'finding.recorded', pass, facts)).toBeNull();
    expect(toldTo('engineer', 'note.saved', { ...samples['note.saved']!, number: 2 }, facts)).toBeNull();
    expect(toldTo('owner', 'attachment.shared', { attachmentId: id, shared: false }, facts)).toBeNull();
  });

  it('long words are cut', () => {
    const long = { ...samples['correction.answered']!, note: 'word '.repeat(400) };
    expect(toldTo('inspector', 'correction.answered', long, facts)!.line.length).toBeLessThan(260);
  });
});
