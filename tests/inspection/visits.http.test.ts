import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoBeam } from '../../src/demo/cinder-ferry.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import type { Client } from '../support/app.ts';
import { testPhoto } from '../support/test-files.ts';
import { buildSite, type Site } from './support/site.ts';

/** The inspection room, from an issued set on: what a visit takes, what it refuses, and what stays. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
});
afterAll(() => site.test.close());

async function begin(kind = 'framing', who: Client = site.inspector): Promise<string> {
  const response = await who.post(`${site.inOpening}/visits`, { kind });
  expect(response.statusCode).toBe(303);
  return String(response.headers.location);
}

interface Sent {
  result?: string;
  reason?: string;
  location?: string;
  clientKey?: string;
  seen?: string;
  photo?: Awaited<ReturnType<typeof testPhoto>>;
}
async function find(visit: string, checkId: string, sent: Sent, who: Client = site.inspector) {
  const { photo, ...fields } = sent;
  return who.upload(
    `${visit}/findings`,
    { checkId, clientKey: randomUUID(), ...fields },
    photo === undefined ? [] : [{ field: 'photo', ...photo }],
  );
}
const close = (visit: string, fields: Record<string, string>, who: Client = site.inspector) =>
  who.post(`${visit}/closing`, { signedName: 'In Spector', ...fields });

/** Checks of the newest set, or of the one with this number. */
async function checks(visitKind = 'framing', number?: number) {
  const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({
    where: { openingId: site.openingId, ...(number === undefined ? {} : { number }) },
    orderBy: { number: 'desc' },
  });
  return site.test.deps.prisma.check.findMany({
    where: { setId: set.id, visitKind: visitKind as 'framing' },
    orderBy: { ordinal: 'asc' },
  });
}
async function passAll(visit: string, except: readonly string[] = [], kind = 'framing') {
  const photo = await testPhoto(5);
  for (const check of await checks(kind)) {
    if (except.includes(check.id)) continue;
    await find(visit, check.id, { result: 'pass', ...(check.photoRequired ? { photo } : {}) });
  }
}
const findings = (checkId: string) => site.test.deps.prisma.finding.count({ where: { checkId } });
const inEachCheck = (html: string) => html.split('class="checklist__one"').slice(1);

describe('a visit', () => {
  it('begins once however often it is pressed, and numbers itself', async () => {
    const [one, again] = await Promise.all([begin(), begin()]);
    expect(again).toBe(one);
    expect((await site.inspector.get(one)).body).toContain('Visit 1: Framing, before cover');
  });

  it('records a finding once, however often its form arrives', async () => {
    const visit = await begin();
    const [check] = await checks();
    const sent = { result: 'pass', clientKey: randomUUID(), photo: await testPhoto(10) };
    const answers = await Promise.all([find(visit, check!.id, sent), find(visit, check!.id, sent)]);
    expect(answers.map((answer) => answer.statusCode)).toEqual([303, 303]);
    expect(await findings(check!.id)).toBe(1);
    const photos = await site.test.deps.prisma.attachmentLink.count({ where: { subject: 'finding' } });
    expect(photos).toBe(1);
  });

  it('never drops another word from a form that was sent before', async () => {
    const visit = await begin();
    const check = (await checks())[1]!;
    const clientKey = randomUUID();
    await find(visit, check.id, { result: 'pass', clientKey });
    const other = await find(visit, check.id, { result: 'correction', reason: 'Shim under it', clientKey });
    expect(other.statusCode).toBe(422);
    expect(other.body).toContain('This form was sent before, as “pass”');
    expect(other.body).toContain('Shim under it');
    expect(await findings(check.id)).toBe(1);
  });

  it('takes the return key for nothing', async () => {
    const visit = await begin();
    const check = (await checks())[2]!;
    const response = await find(visit, check.id, { location: 'left end' });
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('Press Pass, Correction needed or Does not apply.');
    expect(response.body).toContain('value="left end"');
    expect(await findings(check.id)).toBe(0);
    // The first button of the form is the one a keyboard presses; it says nothing.
    const page = (await site.inspector.get(visit)).body;
    for (const form of page.split('data-finding').slice(1)) {
      expect(/<button[^>]*>/.exec(form)?.[0]).not.toContain('name="result"');
    }
  });

  it.each([
    ['correction', 'Say what has to be put right.'],
    ['not_applicable', 'Say why it does not apply.'],
  ])(
    'wants a reason for %s, keeps what was typed and says that the photo is to be chosen again',
    async (result, words) => {
      const visit = await begin();
      const check = (await checks())[2]!;
      const response = await find(visit, check.id, {
        result,
        location: 'middle',
        photo: await testPhoto(20),
      });
      expect(response.statusCode).toBe(422);
      expect(response.body).toContain(words);
      expect(response.body).toContain('The photo has to be chosen again.');
      expect(response.body).toContain('value="middle"');
      expect(await findings(check.id)).toBe(0);
    },
  );

  it('says that a wanted photo is missing, and keeps the finding', async () => {
    const visit = await begin();
    const check = (await checks()).find((one) => one.title === 'Bearing at the right end')!;
    expect(check.photoRequired).toBe(true);
    await find(visit, check.id, { result: 'pass' });
    expect(await findings(check.id)).toBe(1);
    const shown = async () =>
      inEachCheck((await site.inspector.get(visit)).body).find((part) => part.includes(check.title)) ?? '';
    expect(await shown()).toContain('no photo');
    await find(visit, check.id, { result: 'pass', photo: await testPhoto(30) });
    expect(await shown()).not.toContain('no photo');
  });

  it('shows what is still to do first, and leads there after each finding', async () => {
    const visit = await begin();
    const check = (await checks())[3]!;
    const response = await find(visit, check.id, { result: 'not_applicable', reason: 'Braced by the deck' });
    expect(response.headers.location).toBe(`${visit}#left`);
    const page = (await site.inspector.get(visit)).body;
    const open = inEachCheck(page).map((part) => part.includes('Record what you found'));
    expect(open.lastIndexOf(true)).toBeLessThan(open.indexOf(false));
    expect(page).toContain('Last recorded:');
    expect(page).toContain('Braced by the deck');
  });

  it('tells the second of two inspectors what the first recorded meanwhile; both stay', async () => {
    const visit = await begin();
    const second = await site.test.person('Second Inspector');
    await site.test.join(second, site.projectId, 'inspector');
    const check = (await checks())[5]!;
    await find(visit, check.id, { result: 'pass', seen: 'none' });
    await find(visit, check.id, { result: 'correction', reason: 'Loose', seen: 'none' }, second);
    expect((await second.get(visit)).body).toContain('In Spector recorded “pass” while you looked.');
    expect(await findings(check.id)).toBe(2);
    const page = inEachCheck((await site.inspector.get(visit)).body).find((part) => part.includes('Loose'));
    expect(page).toContain('correction needed');
    await find(visit, check.id, { result: 'pass' });
  });

  it('refuses a check of another kind of visit and one that is not there', async () => {
    const visit = await begin();
    const footing = await begin('final');
    const [framing] = await checks();
    expect((await find(visit, randomUUID(), { result: 'pass' })).statusCode).toBe(422);
    const electrical = await begin('electrical');
    expect((await find(electrical, framing!.id, { result: 'pass' })).statusCode).toBe(422);
    expect((await find(footing, framing!.id, { result: 'pass' })).statusCode).toBe(303);
    await close(electrical, { outcome: 'no_access', summary: 'Nothing to see' });
    await close(footing, { outcome: 'not_ready', summary: 'Too early' });
  });

  it('takes markup and every script as words, and refuses what can’t be kept', async () => {
    const visit = await begin();
    const check = (await checks())[6]!;
    const hostile = '<img src=x onerror=alert(1)> \u202e {{ 7*7 }} 梁 🪵';
    await find(visit, check.id, { result: 'correction', reason: hostile, location: '"><script>' });
    const page = (await site.inspector.get(visit)).body;
    expect(page).toContain('&lt;img src=x onerror=alert(1)&gt;');
    expect(page).toContain('{{ 7*7 }} 梁 🪵');
    expect(page).not.toContain('<img src=x');
    expect(page).not.toContain('"><script>');
    for (const wrong of [
      { reason: 'a\0b' },
      { location: 'a\0b', reason: 'x' },
      { reason: 'x'.repeat(4001) },
    ]) {
      expect((await find(visit, check.id, { result: 'correction', ...wrong })).statusCode).toBe(422);
    }
    expect((await find(visit, check.id, { result: 'pass', clientKey: 'a\0b' })).statusCode).toBe(422);
    await find(visit, check.id, { result: 'pass' });
  });
});

describe('closing', () => {
  it('fits the findings, and gives back what was typed where it does not', async () => {
    const visit = await begin();
    const all = await checks();
    await passAll(visit, [all[0]!.id, all[1]!.id]);
    await find(visit, all[1]!.id, { result: 'correction', reason: 'Shim under the left end' });
    const refused = await close(visit, { outcome: 'passed', summary: 'Looks good' });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('A correction is open');
    expect(refused.body).toContain('Looks good');
    for (const [fields, words] of [
      [{ outcome: 'partial' }, 'Name the portion that may go on.'],
      [{ outcome: 'stop_work' }, 'Say why.'],
      [{ outcome: 'no_access' }, 'Say why.'],
      [{ outcome: 'not_ready' }, 'Say why.'],
      [{ outcome: 'correction_needed', portion: 'left half' }, 'A portion goes with “Partial”'],
      [{ outcome: 'correction_needed', signedName: ' ' }, 'Type your name.'],
      [{ outcome: 'correction_needed', summary: 'a\0b' }, 'can’t be kept'],
      [{}, 'Choose an outcome.'],
    ] as const) {
      const response = await close(visit, fields);
      expect(response.statusCode, words).toBe(422);
      expect(response.body).toContain(words);
    }
    expect((await close(visit, { outcome: 'correction_needed', summary: 'One shim' })).statusCode).toBe(303);
  });

  it('twice the same is once; otherwise the second one is told', async () => {
    const visit = await begin();
    const fields = { outcome: 'no_access', summary: 'Nobody there' };
    expect((await close(visit, fields)).statusCode).toBe(303);
    expect((await close(visit, fields)).statusCode).toBe(303);
    const other = await close(visit, { outcome: 'stop_work', summary: 'Cracks' });
    expect(other.statusCode).toBe(422);
    expect(other.body).toContain('is closed already, as “no access”');
    const events = await site.test.deps.prisma.event.count({
      where: {
        projectId: site.projectId,
        type: 'visit.closed',
        payload: { contains: visit.split('/').at(-1)! },
      },
    });
    expect(events).toBe(1);
  });

  it('ends findings, but for one whose first arrival was in time', async () => {
    const visit = await begin();
    const [check] = await checks();
    const sent = { result: 'pass', clientKey: randomUUID() };
    await find(visit, check!.id, sent);
    await close(visit, { outcome: 'not_ready', summary: 'Hangers missing' });
    const before = await findings(check!.id);
    expect((await find(visit, check!.id, sent)).statusCode).toBe(303);
    const late = await find(visit, check!.id, { result: 'pass' });
    expect(late.statusCode).toBe(422);
    expect(late.body).toContain('is closed; open another one.');
    expect(await findings(check!.id)).toBe(before);
  });

  it('leaves the page of the visit as it was, whatever is found later', async () => {
    const visit = await begin();
    const check = (await checks())[1]!;
    await find(visit, check.id, { result: 'correction', reason: 'Still a shim there' });
    await close(visit, { outcome: 'correction_needed' });
    await site.inspector.get(visit);
    // The second look: the first one also says what just happened.
    const before = (await site.inspector.get(visit)).body;
    const later = await begin();
    await find(later, check.id, { result: 'pass', photo: await testPhoto(60) });
    const without = (html: string) =>
      html.replaceAll(/name="_csrf" value="[^"]*"/g, '').replace(/Printed <time datetime="[^"]*"/, '');
    expect(without((await site.inspector.get(visit)).body)).toBe(without(before));
    await close(later, { outcome: 'partial', portion: 'Everything left of the stair' });
  });

  it.each([
    ['partial', { portion: 'Left of the stair' }, 'partial: a portion may go on'],
    ['not_ready', { summary: 'No hangers yet' }, 'not ready'],
    ['no_access', { summary: 'Locked' }, 'no access'],
    ['stop_work', { summary: 'Cracks above the shoring' }, 'stop work'],
  ])('as %s is shown in the checklist', async (outcome, words, chip) => {
    const visit = await begin();
    expect((await close(visit, { outcome, ...words })).statusCode).toBe(303);
    const page = (await site.contractor.get(`${site.inOpening}/checklist`)).body;
    expect(page).toContain(chip);
    if (outcome === 'stop_work') expect(page).toContain('Work is stopped since visit');
    else expect(page).not.toContain('Work is stopped');
  });

  it('passes once everything is in order; stopped work goes on', async () => {
    const visit = await begin();
    await passAll(visit);
    expect((await close(visit, { outcome: 'passed' })).statusCode).toBe(303);
    const page = (await site.inspector.get(`${site.inOpening}/checklist`)).body;
    expect(page).not.toContain('Work is stopped');
    expect(page).toContain('released');
  });

  it('as final passes only over the whole set', async () => {
    const visit = await begin('final');
    const [check] = await checks();
    for (const kind of ['electrical', 'cover', 'final']) await passAll(visit, [], kind);
    await find(visit, check!.id, { result: 'correction', reason: 'Notched since' });
    expect((await close(visit, { outcome: 'passed' })).body).toContain('A correction is open');
    await find(visit, check!.id, { result: 'pass' });
    expect((await close(visit, { outcome: 'passed' })).body).toContain('A photo is missing');
    await find(visit, check!.id, { result: 'pass', photo: await testPhoto(61) });
    expect((await close(visit, { outcome: 'passed' })).statusCode).toBe(303);
  });
});

describe('a correction', () => {
  it('is answered by the contractor at its own box, and stands until looked at again', async () => {
    const visit = await begin();
    const [one, two] = await checks();
    for (const check of [one!, two!]) {
      await find(visit, check.id, { result: 'correction', reason: `Wrong: ${check.title}` });
    }
    await close(visit, { outcome: 'correction_needed' });
    const list = `${site.inOpening}/checklist`;
    const page = (await site.contractor.get(list)).body;
    const actions = [...page.matchAll(/action="([^"]+\/answers)"/g)].map((match) => match[1] ?? '');
    expect(actions).toHaveLength(2);
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);

    const empty = await site.contractor.upload(actions[0]!, { note: ' ', back: list }, []);
    expect(empty.statusCode).toBe(422);
    expect(empty.body).toContain('Say what was done.');
    const answered = await site.contractor.upload(actions[0]!, { note: 'Ply replaced', back: list }, [
      { field: 'photo', ...(await testPhoto(70)) },
    ]);
    expect(answered.headers.location).toBe(list);
    const after = (await site.inspector.get(list)).body;
    expect(after).toContain('Ply replaced');
    expect(after).toContain('correction needed');
    expect((await site.inspector.upload(actions[0]!, { note: 'no' }, [])).statusCode).toBe(403);
    const away = await site.contractor.upload(actions[1]!, { note: 'x', back: 'https://evil.example/' }, []);
    expect(away.headers.location).toBe(site.inProject);
  });
});

describe('a set issued during a visit', () => {
  it('is told on the page; unchanged versions carry their findings, changed ones are open again', async () => {
    const visit = await begin();
    await passAll(visit);
    await site.change('Beam', { ...demoBeam, bearingLeftIn: 4.5 });
    expect(await site.issue()).toBe(2);
    const during = (await site.inspector.get(visit)).body;
    expect(during).toContain('Set 2 was issued during your visit');
    const old = (await checks('framing', 1))[0]!;
    const photo = await testPhoto(62);
    expect((await find(visit, old.id, { result: 'pass', photo })).statusCode).toBe(303);

    const list = (await site.inspector.get(`${site.inOpening}/checklist`)).body;
    expect(list).toContain('Open again.');
    expect(list).toContain('Carried over from set 1');
    expect(list).toContain('4 1/2&quot; of beam');
    expect(list).toContain('held');
    const superseded = (await site.inspector.get(`${site.inOpening}/checklist?set=1`)).body;
    expect(superseded).toContain('This list is kept for the record.');
    expect(superseded).not.toContain('Begin this visit');
    expect((await site.inspector.get(`${site.inOpening}/checklist?set=9`)).body).toContain(
      'There is no set 9',
    );
    await site.inspector.post(`${visit}/set-choice`, { setNumber: '2', choice: 'end' });
    expect((await close(visit, { outcome: 'passed' })).statusCode).toBe(303);
    // The next visit is made against set 2.
    const next = await begin();
    expect((await find(next, old.id, { result: 'pass' })).body).toContain(
      'not of the set this visit is made against',
    );
  });
});

describe('people of another project', () => {
  it('reach nothing of this one, by its own address or through theirs', async () => {
    const visit = await begin();
    const [check] = await checks();
    const elsewhere = await site.test.person('Elsewhere');
    const { createProject } = await import('../../src/record/projects/service.ts');
    const { projectId } = await createProject(site.test.deps, elsewhere, {
      name: 'Theirs',
      address: 'x',
      jurisdiction: 'x',
      permitNumber: '',
    });
    await site.test.deps.prisma.membership.updateMany({ where: { projectId }, data: { role: 'inspector' } });
    const through = visit.replace(site.projectId, projectId);
    expect((await elsewhere.get(visit)).statusCode).toBe(404);
    expect((await elsewhere.get(through)).statusCode).toBe(404);
    for (const address of [visit, through]) {
      expect((await find(address, check!.id, { result: 'pass' }, elsewhere)).statusCode).toBe(404);
      expect((await close(address, { outcome: 'no_access', summary: 'x' }, elsewhere)).statusCode).toBe(404);
    }
    expect(await findings(check!.id)).toBe(0);
  });
});

it('leaves a log whose every hash holds', async () => {
  const { prisma } = site.test.deps;
  expect(await verifyProject(prisma, site.projectId)).toMatchObject({ broken: null });
});
