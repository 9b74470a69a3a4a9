import { randomUUID } from 'node:crypto';
import { afterAll, beforeEach, afterEach, describe, expect, it } from 'vitest';
import { demoBeam } from '../../src/demo/cinder-ferry.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { compareChecks } from '../../src/inspection/visits/set-change.ts';
import { checksOfSet } from '../../src/inspection/store.ts';
import { testPhoto } from '../support/test-files.ts';
import { buildSite, type Site } from './support/site.ts';

/** A set is issued while an inspector is on site: told, shown what it changes, and nothing moved before a choice. */
let site: Site;
let visit = '';
const photo = await testPhoto(8);
beforeEach(async () => {
  site = await buildSite();
  await site.issue();
  visit = String(
    (await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' })).headers.location,
  );
});
afterEach(async () => {
  expect((await verifyProject(site.test.deps.prisma, site.projectId)).broken).toBeNull();
  await site.test.close();
});
afterAll(() => undefined);

async function checksOf(number: number) {
  const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({
    where: { openingId: site.openingId, number },
  });
  const all = await checksOfSet(site.test.deps.prisma, set.id);
  return all.filter((check) => check.visitKind === 'framing');
}
const find = (checkId: string, fields: Record<string, string> = { result: 'pass' }) =>
  site.inspector.upload(`${visit}/findings`, { checkId, clientKey: randomUUID(), ...fields }, [
    { field: 'photo', ...photo },
  ]);
const choose = (setNumber: string, choice: string, who = site.inspector) =>
  who.post(`${visit}/set-choice`, { setNumber, choice });
const close = (outcome: string, more: Record<string, string> = {}) =>
  site.inspector.post(`${visit}/closing`, { signedName: 'In Spector', outcome, ...more });
const page = async () => (await site.inspector.get(visit)).body;

async function changeTheBeam(bearingLeftIn = 4.5): Promise<number> {
  await site.change('Beam', { ...demoBeam, bearingLeftIn });
  return site.issue();
}

describe('a set issued during a visit', () => {
  it('is shown with what it asks for otherwise; findings go on against the set the visit is on', async () => {
    const [first] = await checksOf(1);
    expect((await find(first!.checkId)).statusCode).toBe(303);
    await changeTheBeam();
    const shown = await page();
    expect(shown).toContain('Set 2 was issued during your visit');
    const { changed, added, gone, unchanged } = compareChecks(await checksOf(1), await checksOf(2));
    expect(changed.length).toBeGreaterThan(0);
    expect(shown).toContain(`${unchanged} of this visit’s checks are as they were`);
    for (const { check } of changed) expect(shown).toContain(check.title);
    expect(added).toEqual([]);
    // What rests on the beam is out of date, and so not in the set.
    expect(gone.length).toBeGreaterThan(0);
    for (const check of gone) expect(shown).toContain(`<li>${check.title}</li>`);
    expect(shown).toContain('4 1/2&quot; of beam');
    // Nothing moved: the next finding is still against set 1, and is kept.
    const [, second] = await checksOf(1);
    expect((await find(second!.checkId)).statusCode).toBe(303);
    expect(await site.test.deps.prisma.finding.count({ where: { check: { set: { number: 1 } } } })).toBe(2);
  });

  it('is not closed as looked at before the inspector has chosen, and comes back filled', async () => {
    for (const check of await checksOf(1)) await find(check.checkId);
    await changeTheBeam();
    const answer = await close('passed', { summary: 'All as drawn.' });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain('Choose first whether you go on with it.');
    expect(answer.body).toContain('All as drawn.');
    // Who could not look needs no choice.
    expect((await close('no_access', { summary: 'Locked.' })).statusCode).toBe(303);
  });

  it('gone on with: unchanged versions keep what was found, changed ones are open, and it closes against that set', async () => {
    for (const check of await checksOf(1)) await find(check.checkId);
    await changeTheBeam();
    const { changed } = compareChecks(await checksOf(1), await checksOf(2));
    expect((await choose('2', 'go on')).statusCode).toBe(303);
    // The same press again is one choice.
    expect((await choose('2', 'go on')).statusCode).toBe(303);
    expect(await site.test.deps.prisma.visitSetChoice.count()).toBe(1);
    const shown = await page();
    expect(shown).toContain('Begun with set 1, gone on with set 2.');
    // What a phone takes along is of the set the visit is on.
    const kept = (await site.inspector.get(`${visit}/kept`)).json<{ set: object; later: unknown }>();
    expect([kept.set, kept.later]).toMatchObject([{ number: 2 }, null]);
    expect(shown).toContain(`${changed.length} to look at, 0 corrections open.`);
    expect((await close('passed')).statusCode).toBe(422);
    // A phone that still holds the list of set 1 may deliver on it.
    expect((await find((await checksOf(1))[0]!.checkId)).statusCode).toBe(303);
    for (const { check } of changed) expect((await find(check.checkId)).statusCode).toBe(303);
    expect((await close('passed')).statusCode).toBe(303);
    expect(await page()).toContain('Passed');
  });

  it('ended with the one it was on: closes against that, and the newest list has the changed checks open', async () => {
    for (const check of await checksOf(1)) await find(check.checkId);
    await changeTheBeam();
    expect((await choose('2', 'end')).statusCode).toBe(303);
    expect(await page()).toContain('A later set is in force');
    expect((await close('passed')).statusCode).toBe(303);
    const list = (await site.inspector.get(`${site.inOpening}/checklist`)).body;
    expect(list).toContain('Open again.');
  });

  it('a still later set asks once more; a choice about another one than shown is refused', async () => {
    await changeTheBeam();
    expect((await choose('2', 'end')).statusCode).toBe(303);
    await changeTheBeam(5);
    expect(await page()).toContain('Set 3 was issued during your visit');
    expect((await choose('2', 'go on')).body).toContain('Another set was issued meanwhile');
    expect((await choose('3', 'go on')).statusCode).toBe(303);
    expect((await choose('3', 'end')).body).toContain('went on with set 3 already');
  });

  it('is the inspector’s to choose and nobody else’s', async () => {
    await changeTheBeam();
    for (const who of [site.contractor, site.engineer]) {
      expect((await choose('2', 'go on', who)).statusCode).toBe(403);
    }
    expect([403, 404]).toContain((await choose('2', 'go on', site.owner)).statusCode);
    expect((await site.contractor.get(visit)).body).not.toContain('Go on with set');
  });
});
