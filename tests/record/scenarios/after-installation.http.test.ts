import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings, demoSupports } from '../../../src/demo/cinder-ferry.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { standingsOfOpening } from '../../../src/record/items/standings.ts';
import { markMany, markVersion } from '../../../src/record/marks/service.ts';
import { upperFirst } from '../../../src/record/prose.ts';
import { issueSet, previewSet } from '../../../src/record/sets/service.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { asMember } from '../../../src/record/use-case.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { readItem } from '../../../src/record/versions/read.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';

/** What holds the work when the engineer's word moves on after something was built and looked at. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
});
afterAll(() => site.test.close());

const said = (word: 'approved' | 'returned' | 'withdrawn', reason: string) => async (itemId: string) => {
  const judge = site.actor(site.engineer, 'engineer');
  const { newest } = await readItem(site.test.deps, judge, { itemId });
  const { versionId, hash, marks } = newest!;
  const shown = { versionId, hash, expectedMarkNumber: marks.length };
  await markVersion(site.test.deps, judge, { ...shown, word, reason });
};

/** Approves whatever waits and issues the next set; answers its number. */
async function issue(): Promise<number> {
  const { deps } = site.test;
  const { projectId, openingId } = site;
  const judge = site.actor(site.engineer, 'engineer');
  const standings = await asMember(deps, judge, 'item.read', (tx) =>
    standingsOfOpening(tx, deps.kinds, { projectId }, openingId),
  );
  const versions = standings.flatMap(({ state }) =>
    state.is === 'awaiting mark' ? [{ ...state.version, expectedMarkNumber: 0 }] : [],
  );
  if (versions.length > 0) {
    await markMany(deps, judge, { versions, word: 'approved', reason: 'Looked at by hand' });
  }
  const { expectedLastNumber, content } = await previewSet(deps, judge, { openingId });
  const asked = { openingId, expectedLastNumber, entries: content.entries, confirmedQuestions: [] };
  return (await issueSet(deps, judge, asked)).number;
}

/** The line of a step in the list of steps that are held until checks pass. */
async function step(name: string): Promise<string> {
  const page = (await site.contractor.get(`${site.inOpening}/checklist`)).body;
  const shown = `<strong>${upperFirst(name)}</strong>`;
  return page.split('<li class="line">').find((part) => part.startsWith(shown)) ?? '';
}
const heldEvents = () =>
  site.test.deps.prisma.event.findMany({
    where: { projectId: site.projectId, type: 'hold_point.closed' },
    orderBy: { seq: 'asc' },
  });

describe('scenario 4: a footing is returned, the rest is approved, and a partial set is issued', () => {
  it('lists the footing as open, has no check of it, and keeps the pour held', async () => {
    const builder = site.actor(site.contractor, 'contractor');
    const { item } = await createItem(site.test.deps, builder, {
      openingId: site.openingId,
      kind: 'footing',
      key: 'right',
      title: 'Right footing',
      content: demoFootings[1],
    });
    await submitVersions(site.test.deps, builder, { openingId: site.openingId });
    await said('returned', 'Cores show 4 1/4 in: a pad, please')(item.itemId);
    expect(await issue()).toBe(1);
    const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({ where: { number: 1 } });
    const page = (await site.inspector.get(`${site.inProject}/sets/${set.id}`)).body;
    expect(page).toContain('Left open by it');
    expect(page).toContain('Right footing: version 1 returned by Eng Ineer');
    expect(await site.test.deps.prisma.check.count({ where: { version: { itemId: item.itemId } } })).toBe(0);
    const pour = await step('pour the footing');
    expect(pour).toContain('Left open by this set: Right footing');
    expect(pour).not.toContain('released');
    await said('approved', 'Left as it is after all')(item.itemId);
    expect(await issue()).toBe(2);
    expect(await step('pour the footing')).not.toContain('Left open');
  });
});

describe('scenario 16: the beam is in and passed, and the engineer raises the jacks from two to three', () => {
  it('is released once everything passed', async () => {
    const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({ where: { number: 2 } });
    const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'final' });
    for (const check of await site.test.deps.prisma.check.findMany({ where: { setId: set.id } })) {
      const fields = { checkId: check.id, clientKey: randomUUID(), result: 'pass' };
      await site.inspector.upload(`${String(begun.headers.location)}/findings`, fields, []);
    }
    expect(await step('take the shoring out')).toContain('released');
    expect(await heldEvents()).toEqual([]);
  });

  it('is held again at once; the log and the first page tell the contractor', async () => {
    await saveVersion(site.test.deps, site.actor(site.engineer, 'engineer'), {
      itemId: site.items['Support left']!,
      expectedNumber: 1,
      content: { ...demoSupports[0], jacks: 3 },
      reason: 'The plate crushes under two',
    });
    const shoring = await step('take the shoring out');
    expect(shoring).toContain('Support left: version 2 is approved since, and in no set yet');
    expect(shoring).not.toContain('released');
    const [event] = await heldEvents();
    expect(JSON.parse(event!.payload)).toMatchObject({
      step: 'take the shoring out',
      // And the nailing of the pack, which was for two jacks: it went out of date with it.
      itemIds: [site.items['Support left'], site.items['Jacks and king']],
    });
    const home = (await site.contractor.get('/')).body;
    expect(home).toContain('Held again: 1');
    expect(home).toContain('Changed after it was looked at: Support left');
    expect(home).toContain('Changed by the engineer: 1');
    expect((await site.contractor.get(`${site.inProject}/log`)).body).toContain(
      '“take the shoring out” is held again',
    );
  });

  it('stays held by the next set, whose checks of the support are open again; it is said once', async () => {
    expect(await issue()).toBe(3);
    const page = (await site.inspector.get(`${site.inOpening}/checklist`)).body;
    expect(page).toContain('Open again.');
    expect(page).toContain('Carried over from set 2');
    expect(await step('take the shoring out')).toContain('Pack at the left end');
    expect(await heldEvents()).toHaveLength(1);
    const home = (await site.contractor.get('/')).body;
    expect(home).toContain('Held again: 1');
    expect(home).not.toContain('Changed by the engineer');
  });
});

describe('scenario 19: the engineer takes an approval given in error back and returns the version', () => {
  it('shows the old mark, flags the set that holds it, and holds the step', async () => {
    const itemId = site.items['Support right']!;
    await said('withdrawn', 'Looked at the wrong sheet')(itemId);
    await said('returned', 'Three jacks here, too')(itemId);
    const item = (await site.contractor.get(`${site.inProject}/items/${itemId}`)).body;
    for (const words of ['approved', 'withdrawn', 'returned']) {
      expect(item).toContain(`<strong>${words}</strong> by Eng Ineer`);
    }
    const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({ where: { number: 3 } });
    expect((await site.inspector.get(`${site.inProject}/sets/${set.id}`)).body).toContain(
      'Support right: the approval of version 1 was withdrawn by Eng Ineer: Looked at the wrong sheet',
    );
    expect(await step('take the shoring out')).toContain('the approval of version 1 was taken back');
  });

  it('leaves a record that holds', async () => {
    expect((await verifyProject(site.test.deps.prisma, site.projectId)).broken).toBeNull();
  });
});
