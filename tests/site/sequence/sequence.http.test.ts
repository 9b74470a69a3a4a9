import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoServices } from '../../../src/demo/cinder-ferry-services.ts';
import { demoShoring } from '../../inspection/support/shoring.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { checkLine, receiveDelivery } from '../../../src/site/deliveries/service.ts';
import { materialState } from '../../../src/site/deliveries/store.ts';
import { weekdayWords } from '../../../src/site/sequence/day.ts';
import { logServiceAct } from '../../../src/site/services/service.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { wordsOf } from '../../record/schedule/house.ts';
import { testPhoto } from '../../support/test-files.ts';

/** The order of work of one wall, from nothing to the wall out; the second half once more, out of its order. */
let site: Site;
const today = new Date().toISOString().slice(0, 10);
const daysAgo = (days: number) => new Date(Date.now() - days * 86_400_000).toISOString().slice(0, 10);

beforeAll(async () => {
  site = await buildSite();
});
afterAll(() => site.test.close());

const wallDown = async (who = site.contractor) =>
  wordsOf((await who.get(`${site.inOpening}/wall-down`)).body);
const log = (step: string, more: Record<string, string> = {}) =>
  site.contractor.post(`${site.inOpening}/sequence/steps/${step}`, {
    doneOn: today,
    who: 'R. T. and crew',
    note: '',
    ...more,
  });
const entries = () => site.test.deps.prisma.workEntry.count({ where: { projectId: site.projectId } });
const builder = () => site.actor(site.contractor, 'contractor');

async function receiveAllOf(): Promise<void> {
  const { deps } = site.test;
  const { openingId, projectId } = site;
  const { deliveryId } = await receiveDelivery(deps, builder(), { openingId, yard: 'The yard', note: '' });
  const { materials } = await deps.prisma.$transaction((tx) => materialState(tx, projectId, openingId));
  for (const line of materials.list.lines) {
    await checkLine(deps, builder(), {
      deliveryId,
      clientKey: randomUUID(),
      lineId: line.id,
      delivered: line.goods,
      count: Math.ceil(line.needed),
      offGround: true,
      covered: true,
      note: '',
      files: [],
    });
  }
}

/** The inspector passes every check of a kind of visit. */
async function passVisit(kind: string): Promise<void> {
  const { prisma } = site.test.deps;
  const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind });
  const visit = String(begun.headers.location);
  const set = await prisma.approvedSet.findFirstOrThrow({ orderBy: { number: 'desc' } });
  const checks = await prisma.check.findMany({ where: { setId: set.id, visitKind: kind as 'shoring' } });
  expect(checks.length).toBeGreaterThan(0);
  const photo = { field: 'photo', ...(await testPhoto(60)) };
  for (const { id: checkId } of checks) {
    const said = { checkId, clientKey: randomUUID(), result: 'pass', reason: '', location: '' };
    expect((await site.inspector.upload(`${visit}/findings`, said, [photo])).statusCode).toBe(303);
  }
  const closing = { outcome: 'passed', summary: 'Seen', signedName: 'In Spector' };
  expect((await site.inspector.post(`${visit}/closing`, closing)).statusCode).toBe(303);
}

describe('can I take the wall down today?', () => {
  it('no, with every reason, before anything is done', async () => {
    const words = await wallDown();
    expect(words).toContain('No: the wall stays');
    for (const reason of [
      'Permit in hand: no permit number is written down for this project.',
      'Approved set issued: none yet. Nothing is cut or taken out before.',
      'Temporary walls built: not logged yet.',
      'Temporary walls accepted: There is no approved set',
      'Lead and asbestos looked for and dealt with: not logged yet.',
      'No circuit, pipe or duct of this wall is listed.',
    ]) {
      expect(words).toContain(reason);
    }
    expect(words).toContain('The house can come down');
  });

  it('the reasons go one by one as the record grows, and then it is yes', async () => {
    const { deps } = site.test;
    const circuit = await createItem(deps, builder(), {
      openingId: site.openingId,
      kind: 'service',
      key: 'S1',
      title: 'Circuit 2',
      content: demoServices[0],
    });
    await site.add('shoring', 'shoring', 'Shoring plan', demoShoring);
    await site.issue();
    expect(await wallDown()).toContain('Circuit 2: neither proved dead nor');
    await logServiceAct(deps, builder(), {
      itemId: circuit.item.itemId,
      versionId: circuit.version!.versionId,
      word: 'made_safe',
      who: 'J. M., electrician',
      note: '',
    });
    expect(await wallDown()).not.toContain('Circuit 2');
    // Once for each step that waits, with everything that it waits for.
    expect(await wallDown()).toMatch(
      /Beam, packs and hangers on site, as called for\s+Jacks and kings, [^:]* missing: opening 1 has nothing to set/,
    );
    await receiveAllOf();
    expect(await wallDown()).not.toContain('on site, as called for');
    const permit = {
      name: 'Den',
      address: '12 Slipway Row',
      jurisdiction: 'Town',
      permitNumber: 'BP-70-0418',
    };
    expect((await site.contractor.post(`${site.inProject}/edit`, permit)).statusCode).toBe(303);
    expect((await log('hazards', { doneOn: daysAgo(3) })).statusCode).toBe(303);
    expect((await log('shoring')).statusCode).toBe(303);
    expect(await wallDown()).toContain('1 thing stands against it');
    expect(await wallDown()).toContain('Temporary walls accepted: Waits for');
    await passVisit('shoring');
    for (const who of [site.contractor, site.engineer, site.inspector]) {
      expect(await wallDown(who)).toContain('Yes: nothing in this record holds it');
    }
    expect((await site.owner.get(`${site.inOpening}/wall-down`)).statusCode).toBe(403);
  });

  it('the engineer’s word on the shoring that moves on holds it again', async () => {
    await site.change('Shoring plan', { ...demoShoring, studSpacingIn: 12 });
    expect(await wallDown()).toContain('Yes');
    await site.issue();
    expect(await wallDown()).toContain('No: the wall stays');
    expect(await wallDown()).toContain('Temporary walls accepted: Waits for');
  });
});

describe('scenario 17: the shoring is not accepted, and the contractor logs the wall as out', () => {
  it('warns first and keeps nothing, with all that was typed still there', async () => {
    const before = await entries();
    const answer = await log('wall_out', { note: 'Took it out <em>early</em>' });
    expect(answer.statusCode).toBe(422);
    const words = wordsOf(answer.body);
    expect(words).toContain('This is out of order. Nothing was logged yet.');
    expect(words).toContain('Temporary walls accepted: Waits for');
    expect(answer.body).toContain('value="R. T. and crew"');
    expect(answer.body).toContain('Took it out &lt;em&gt;early&lt;/em&gt;');
    expect(await entries()).toBe(before);
  });

  it('logs it all the same where it was done: a fact, flagged, never suppressed', async () => {
    const answer = await log('wall_out', { allTheSame: 'yes', note: 'Took it out early' });
    expect(answer.statusCode).toBe(303);
    // A double tap is one entry.
    const before = await entries();
    expect((await log('wall_out', { allTheSame: 'yes', note: 'Took it out early' })).statusCode).toBe(303);
    expect(await entries()).toBe(before);
    const entry = await site.test.deps.prisma.workEntry.findFirstOrThrow({ where: { step: 'wall_out' } });
    expect(entry.outOfOrder).toContain('Temporary walls accepted: Waits for');
    const event = await site.test.deps.prisma.event.findFirstOrThrow({
      where: { type: 'work.logged' },
      orderBy: { seq: 'desc' },
    });
    expect(event.payload).toContain('Temporary walls accepted');
    expect(wordsOf((await site.engineer.get(`${site.inProject}/log`)).body)).toContain('Out of order: ');
  });

  it('engineer and inspector are told, and see it where they work; the owner reads plain words alone', async () => {
    const { prisma } = site.test.deps;
    const news = async (personId: string) =>
      (await prisma.news.findMany({ where: { projectId: site.projectId, personId } })).map(
        ({ line }) => line,
      );
    for (const who of [site.engineer, site.inspector]) {
      expect(
        (await news(who.personId)).filter((line) => line.startsWith('Out of order: Con Tractor logged')),
      ).toHaveLength(1);
    }
    const owners = await news(site.owner.personId);
    expect(owners).toContain('“Den wall”: The wall is out. The temporary supports carry the house.');
    expect(owners.join(' ')).not.toContain('Out of order');
    for (const page of [site.inOpening, `${site.inOpening}/checklist`, `${site.inOpening}/sequence`]) {
      for (const who of [site.engineer, site.inspector]) {
        if (page === site.inOpening && who === site.inspector) continue;
        expect(wordsOf((await who.get(page)).body)).toContain('“Wall taken out” was done out of order');
      }
    }
    expect((await site.owner.get(`${site.inOpening}/progress`)).body).not.toContain('out of order');
  });

  it('stays when the shoring is accepted afterwards, and when the entry is taken back', async () => {
    await passVisit('shoring');
    expect(wordsOf((await site.engineer.get(`${site.inOpening}/sequence`)).body)).toContain(
      'done, out of order',
    );
    const entry = await site.test.deps.prisma.workEntry.findFirstOrThrow({ where: { step: 'wall_out' } });
    const back = `${site.inProject}/work-entries/${entry.id}/withdrawal`;
    const empty = await site.contractor.post(back, { [`reason.${entry.id}`]: ' ' });
    expect(empty.statusCode).toBe(422);
    expect(empty.body).toContain('Say why the entry was wrong.');
    expect((await site.engineer.post(back, { [`reason.${entry.id}`]: 'x' })).statusCode).toBe(403);
    expect((await site.contractor.post(back, { [`reason.${entry.id}`]: 'The other wall' })).statusCode).toBe(
      303,
    );
    expect((await site.contractor.post(back, { [`reason.${entry.id}`]: 'The other wall' })).statusCode).toBe(
      422,
    );
    const page = wordsOf((await site.engineer.get(`${site.inOpening}/sequence/steps/wall_out`)).body);
    expect(page).toContain('taken back');
    expect(page).toContain('Temporary walls accepted: Waits for');
    expect(page).toContain('The other wall');
  });

  it('a day before the shoring was accepted is out of order, although all is well by now', async () => {
    const answer = await log('wall_out', { doneOn: daysAgo(5) });
    expect(answer.statusCode).toBe(422);
    expect(wordsOf(answer.body)).toContain('Temporary walls accepted: only after this day.');
    expect(wordsOf(answer.body)).toContain('Temporary walls built: only on');
    expect((await log('wall_out')).statusCode).toBe(303);
    expect(wordsOf((await site.contractor.get(`${site.inOpening}/wall-down`)).body)).toContain(
      'It is out since',
    );
  });

  it('leaves a record that holds, and which the database keeps', async () => {
    const { prisma } = site.test.deps;
    expect((await verifyProject(prisma, site.projectId)).broken).toBeNull();
    await expect(prisma.$executeRaw`UPDATE work_entry SET out_of_order = '[]'`).rejects.toThrow(
      'never changed',
    );
    await expect(prisma.$executeRaw`DELETE FROM work_withdrawal`).rejects.toThrow('never changed');
  });
});

describe('logging work', () => {
  it('says at the field what does not do, and keeps nothing', async () => {
    const before = await entries();
    const tomorrow = new Date(Date.now() + 3 * 86_400_000).toISOString().slice(0, 10);
    for (const [more, sentence] of [
      [{ who: ' ' }, 'Say who did it.'],
      [{ doneOn: '2026-02-30' }, 'There is no such day.'],
      [{ doneOn: tomorrow }, 'That day is still to come.'],
      [{ note: 'x'.repeat(2001) }, 'Use at most 2000 characters.'],
    ] as const) {
      const answer = await log('beam_in', { note: 'kept words', ...more });
      expect(answer.statusCode).toBe(422);
      expect(answer.body).toContain(sentence);
    }
    expect((await log('set')).body).toContain('This step is read from the record; nobody logs it.');
    expect((await log('no-such-step')).statusCode).toBe(404);
    expect((await log('shoring', { doneOn: daysAgo(2) })).body).toContain('It is logged already.');
    expect(await entries()).toBe(before);
    for (const who of [site.engineer, site.inspector, site.owner]) {
      expect((await who.post(`${site.inOpening}/sequence/steps/beam_in`, {})).statusCode).toBe(403);
    }
  });

  it('takes photos to an entry', async () => {
    const entry = await site.test.deps.prisma.workEntry.findFirstOrThrow({ where: { step: 'shoring' } });
    const back = `${site.inOpening}/sequence/steps/shoring`;
    const fields = { subject: 'work_entry', subjectId: entry.id, caption: 'North temporary wall', back };
    const sent = await site.contractor.upload(`${site.inProject}/attachments`, fields, [
      { field: 'file', ...(await testPhoto(60)) },
    ]);
    expect(sent.statusCode).toBe(303);
    expect((await site.engineer.get(back)).body).toContain('North temporary wall');
  });
});

describe('planning days', () => {
  const plan = (fields: Record<string, string>, expectedNumber: string) =>
    site.contractor.post(`${site.inOpening}/sequence/plan`, { expectedNumber, ...fields });

  it('the owner reads what comes when, what will be noticed, and why a day moved', async () => {
    const soon = (days: number) => daysAgo(-days);
    const first = await plan(
      { 'plannedOn.beam_in': soon(2), 'who.beam_in': 'R. T.', 'notice.beam_in': 'power off from 8 to 12' },
      '0',
    );
    expect(first.statusCode).toBe(303);
    const silent = await plan({ 'plannedOn.beam_in': soon(4), 'who.beam_in': 'R. T.' }, '1');
    expect(silent.statusCode).toBe(422);
    expect(silent.body).toContain('A day that the owner was told moves: say why.');
    expect(silent.body).toContain(`value="${soon(4)}"`);
    const moved = await plan(
      {
        'plannedOn.beam_in': soon(4),
        'notice.beam_in': 'power off from 8 to 12',
        reason: 'the yard is late',
      },
      '1',
    );
    expect(moved.statusCode).toBe(303);
    const stale = await plan({ 'plannedOn.beam_in': soon(9), reason: 'x' }, '1');
    expect(stale.statusCode).toBe(409);
    expect(stale.body).toContain('Somebody else planned meanwhile.');
    const owner = wordsOf((await site.owner.get(`${site.inOpening}/progress`)).body);
    expect(owner).toContain('power off from 8 to 12');
    expect(owner).toContain('The beam goes in');
    expect(owner).toContain('Why it moved: the yard is late');
    expect((await site.engineer.get(`${site.inOpening}/sequence`)).body).toContain('the yard is late');
    // The letter has the new day, too.
    const told = await site.test.deps.prisma.news.findMany({ where: { personId: site.owner.personId } });
    expect(told.map(({ line }) => line).filter((line) => line.includes('moved'))).toEqual([
      expect.stringContaining(
        `A day of the work moved. The beam goes in: now ${weekdayWords(soon(4))}; it was to be ${weekdayWords(soon(2))}. Why: “the yard is late”`,
      ),
    ]);
  });

  it('a step of the contractor’s own stands in its place and is logged like the others', async () => {
    const added = await plan(
      { do: 'add', title: 'Cabinets taken down', after: 'services', heldStep: 'beam_in' },
      '2',
    );
    expect(added.statusCode).toBe(303);
    const page = wordsOf((await site.contractor.get(`${site.inOpening}/sequence`)).body);
    expect(page).toContain('Cabinets taken down: not logged yet.');
    const bad = await plan({ do: 'add', title: '', after: 'services', heldStep: '' }, '3');
    expect(bad.statusCode).toBe(422);
    expect(bad.body).toContain('Say what the step is.');
  });

  it('nobody else plans, and no other project is reached', async () => {
    for (const who of [site.engineer, site.inspector, site.owner]) {
      expect((await who.post(`${site.inOpening}/sequence/plan`, {})).statusCode).toBe(403);
    }
    const stranger = await site.test.person('Stran Ger');
    expect((await stranger.get(`${site.inOpening}/sequence`)).statusCode).toBe(404);
    expect(
      (await site.contractor.get(`${site.inProject}/openings/${randomUUID()}/sequence`)).statusCode,
    ).toBe(404);
  });
});
