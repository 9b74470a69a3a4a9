import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { demoBeam } from '../../../src/demo/cinder-ferry.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import type { Client } from '../../support/app.ts';
import { testPdf, testPhoto } from '../../support/test-files.ts';
import { buildSite, type Site } from '../support/site.ts';
import { answers, found, phone } from './phone.ts';

/** What a phone kept comes in: once, in order, with its times, and never lost. */
let site: Site;
let visit = '';
let checkIds: string[] = [];
let mine: ReturnType<typeof phone>;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
});
afterAll(() => site.test.close());

const prisma = () => site.test.deps.prisma;
const visitId = (address: string) => address.split('/').at(-1)!;
async function begin(kind = 'framing', who: Client = site.inspector): Promise<string> {
  const response = await who.post(`${site.inOpening}/visits`, { kind });
  expect(response.statusCode).toBe(303);
  return String(response.headers.location);
}
const close = (address: string, who: Client = site.inspector) =>
  who.post(`${address}/closing`, { signedName: 'In Spector', outcome: 'no_access', summary: 'Locked.' });
async function checksOf(address: string): Promise<string[]> {
  const { setId, kind } = await prisma().visit.findUniqueOrThrow({ where: { id: visitId(address) } });
  const rows = await prisma().check.findMany({
    where: { setId, visitKind: kind },
    orderBy: { ordinal: 'asc' },
  });
  return rows.map((row) => row.id);
}

beforeEach(async () => {
  visit = await begin();
  checkIds = await checksOf(visit);
  mine = phone(site.test, site.inspector, site.inProject);
  expect((await mine.ask(visit)).statusCode).toBe(200);
});
const findings = (id = visitId(visit)) =>
  prisma().finding.findMany({ where: { visitId: id }, orderBy: { receivedAt: 'asc' } });

describe('what a phone takes along', () => {
  it('holds the checks of the visit with their criteria, who it is for, and no more', async () => {
    const kept = (await mine.ask(visit)).json<{
      person: { personId: string };
      checks: { checkId: string; details: string; title: string }[];
    }>();
    expect(kept.person.personId).toBe(site.inspector.personId);
    expect(new Set(kept.checks.map((check) => check.checkId))).toEqual(new Set(checkIds));
    const check = await prisma().check.findUniqueOrThrow({ where: { id: checkIds[0]! } });
    const details = kept.checks.find((one) => one.checkId === check.id)!.details;
    expect(details).toContain('class="criterion"');
    expect(details).toContain(check.clause);
  });

  it('is for inspectors alone', async () => {
    expect((await phone(site.test, site.contractor, site.inProject).ask(visit)).statusCode).toBe(403);
    const stranger = await site.test.person('Strange R');
    expect((await phone(site.test, stranger, site.inProject).ask(visit)).statusCode).toBe(404);
  });
});

describe('findings that a phone kept', () => {
  it('arrive in order, with the times at which they were made', async () => {
    const base = Date.now();
    const sent = checkIds
      .slice(0, 3)
      .map((id, index) => found(id, { at: new Date(base + index).toISOString() }));
    const got = answers(await mine.send(visit, sent));
    expect(got.map(({ id, is, timeWord }) => [id, is, timeWord])).toEqual(
      sent.map(({ id }) => [id, 'kept', 'as_told']),
    );
    const rows = (await findings()).filter((row) => sent.some((one) => one.id === row.clientKey));
    expect(rows.map((row) => row.clientKey)).toEqual(sent.map(({ id }) => id));
    const phoneRows = await prisma().phoneFinding.findMany({
      where: { id: { in: sent.map(({ id }) => id) } },
    });
    expect(new Set(phoneRows.map((row) => row.claimedAt.toISOString()))).toEqual(
      new Set(sent.map(({ at }) => at)),
    );
  });

  it('are one however often they come, alone, together or at the same time', async () => {
    const sent = found(checkIds[0]!, {
      result: 'correction',
      reason: 'Shim at the north end',
      location: 'north end',
    });
    const [first, same] = await Promise.all([mine.send(visit, [sent]), mine.send(visit, [sent])]);
    const again = await mine.send(visit, [sent, sent]);
    expect([first.statusCode, same.statusCode, again.statusCode]).toEqual([200, 200, 200]);
    expect(answers(same)).toEqual(answers(first));
    expect(answers(again)).toEqual([...answers(first), ...answers(first)]);
    expect(await prisma().finding.count({ where: { clientKey: sent.id } })).toBe(1);
    expect(await prisma().phoneFinding.count({ where: { id: sent.id } })).toBe(1);
  });

  it('the database itself keeps a second row out, and changes none', async () => {
    const sent = found(checkIds[0]!);
    await mine.send(visit, [sent]);
    const row = await prisma().phoneFinding.findUniqueOrThrow({ where: { id: sent.id } });
    await expect(prisma().phoneFinding.create({ data: { ...row, findingId: null } })).rejects.toThrow(
      /Unique/,
    );
    await expect(
      prisma().$executeRaw`UPDATE phone_finding SET reason = 'other' WHERE id = ${sent.id}::uuid`,
    ).rejects.toThrow(/never changed/);
  });

  it('under an id that said something else before are refused, and so is another person’s id', async () => {
    const sent = found(checkIds[0]!);
    await mine.send(visit, [sent]);
    const [other] = answers(await mine.send(visit, [{ ...sent, result: 'correction', reason: 'Gap' }]));
    expect(other).toMatchObject({
      is: 'refused',
      sentence: 'This finding was sent before and said something else then.',
    });
    const second = await site.test.person('Sec Ond');
    await site.test.join(second, site.projectId, 'inspector');
    const theirs = phone(site.test, second, site.inProject);
    await theirs.ask(visit);
    expect(answers(await theirs.send(visit, [sent]))[0]).toMatchObject({ is: 'refused' });
    expect(await prisma().finding.count({ where: { clientKey: sent.id } })).toBe(1);
  });

  it('wait for the one made before them, so that none overtakes another', async () => {
    const [one, two] = [
      found(checkIds[1]!, { result: 'correction', reason: 'Nail missing' }),
      found(checkIds[1]!),
    ];
    const early = await mine.send(visit, [two], { after: one.id });
    expect(early.statusCode).toBe(409);
    expect(await prisma().finding.count({ where: { clientKey: two.id } })).toBe(0);
    expect((await mine.send(visit, [one])).statusCode).toBe(200);
    expect(answers(await mine.send(visit, [two], { after: one.id }))[0]).toMatchObject({ is: 'kept' });
    const rows = await prisma().finding.findMany({
      where: { checkId: checkIds[1]! },
      orderBy: { at: 'asc' },
    });
    expect(rows.slice(-2).map((row) => row.result)).toEqual(['correction', 'pass']);
  });

  it('a bad one is answered with a sentence and holds up none of the others', async () => {
    const sent = [
      found(checkIds[0]!),
      found(checkIds[1]!, { result: 'correction' }),
      found(checkIds[1]!, { result: 'splendid' }),
      found(checkIds[1]!, { location: 'x'.repeat(201) }),
      found(checkIds[1]!, { reason: 'a\u0000b' }),
      found(checkIds[2]!),
    ];
    const got = answers(await mine.send(visit, sent));
    expect(got.map(({ is }) => is)).toEqual(['kept', 'refused', 'refused', 'refused', 'refused', 'kept']);
    expect(got[1]?.sentence).toBe('Say what has to be put right.');
    expect(got[2]?.sentence).toBe('The result is none of the three.');
  });

  it('of a check of another kind of visit, of another project, or in another project’s visit are refused', async () => {
    const cover = await begin('cover');
    const [wrongKind] = answers(await mine.send(cover, [found(checkIds[0]!)]));
    const [nowhere] = answers(await mine.send(visit, [found(randomUUID())]));
    expect(wrongKind?.sentence).toBe('That check belongs to another kind of visit.');
    expect(nowhere?.sentence).toBe('That check is not of the set this visit is made against.');
    expect(
      (await mine.send(`${site.inProject}/visits/${randomUUID()}`, [found(checkIds[0]!)])).statusCode,
    ).toBe(404);
  });

  it('too many, too large or without sense are refused whole', async () => {
    const many = Array.from({ length: 26 }, () => found(checkIds[0]!));
    expect((await mine.send(visit, many)).statusCode).toBe(422);
    expect((await mine.send(visit, [])).statusCode).toBe(422);
    expect((await mine.send(visit, [{ id: 'seven' }])).statusCode).toBe(422);
    expect((await mine.send(visit, [found(checkIds[0]!)], { phoneNowAt: 'noon' })).statusCode).toBe(422);
    const heavy = found(checkIds[0]!, { reason: 'x'.repeat(1024 * 1024) });
    expect((await mine.send(visit, [heavy])).statusCode).toBe(413);
    const long = found(checkIds[0]!, { reason: 'x'.repeat(4001) });
    expect(answers(await mine.send(visit, [long]))[0]).toMatchObject({ is: 'refused' });
    const photo = { id: randomUUID(), name: 'a.jpg', bytes: 41 * 1024 * 1024 };
    expect(answers(await mine.send(visit, [found(checkIds[0]!, { photos: [photo] })]))[0]?.sentence).toBe(
      'A photo is larger than 40 MB, the most that is kept here.',
    );
  });

  it('without the token, with another’s, or from another site are refused', async () => {
    const sent = [found(checkIds[0]!)];
    expect((await mine.send(visit, sent, {}, { 'x-csrf-token': '' })).statusCode).toBe(403);
    expect((await mine.send(visit, sent, {}, { 'sec-fetch-site': 'cross-site' })).statusCode).toBe(403);
    expect(await prisma().finding.count({ where: { clientKey: sent[0]!.id } })).toBe(0);
  });

  it('keep the phone’s time beside a judged one where its clock is wrong', async () => {
    const { openedAt } = await prisma().visit.findUniqueOrThrow({ where: { id: visitId(visit) } });
    const [ahead, ancient] = [
      found(checkIds[0]!, { at: new Date(Date.now() + 86_400_000).toISOString() }),
      found(checkIds[1]!, { at: '2001-01-01T00:00:00+02:00' }),
    ];
    const [future] = answers(await mine.send(visit, [ahead]));
    expect(future?.timeWord).toBe('bounded');
    expect(future!.at <= future!.receivedAt).toBe(true);
    const [past] = answers(await mine.send(visit, [ancient]));
    expect(past).toMatchObject({ timeWord: 'bounded', at: openedAt.toISOString() });
    const row = await prisma().phoneFinding.findUniqueOrThrow({ where: { id: ancient.id } });
    expect(row.claimedAt.toISOString()).toBe('2000-12-31T22:00:00.000Z');
    // A phone a day ahead that says so: the day comes off.
    const day = (ms: number) => new Date(Date.now() + 86_400_000 + ms).toISOString();
    const [corrected] = answers(
      await mine.send(visit, [found(checkIds[0]!, { at: day(0) })], { phoneNowAt: day(0) }),
    );
    expect(corrected?.timeWord).toBe('clock_corrected');
  });

  it('that reached the server as a form before are the same finding', async () => {
    const sent = found(checkIds[0]!, { result: 'not_applicable', reason: 'No post here' });
    await site.inspector.upload(
      `${visit}/findings`,
      { checkId: sent.checkId, clientKey: sent.id, result: sent.result, reason: sent.reason, location: '' },
      [],
    );
    const [answer] = answers(await mine.send(visit, [sent]));
    expect(answer).toMatchObject({ is: 'kept', photosAreIn: true });
    expect(await prisma().finding.count({ where: { clientKey: sent.id } })).toBe(1);
    // Those made after it name it, and are let in.
    expect(answers(await mine.send(visit, [found(checkIds[1]!)], { after: sent.id }))[0]?.is).toBe('kept');
  });
});

describe('what changed while the phone was away', () => {
  it('the later look counts, even where an earlier one arrives after it', async () => {
    const early = found(checkIds[2]!, { at: new Date().toISOString() });
    await new Promise((resolve) => setTimeout(resolve, 5));
    await site.inspector.upload(
      `${visit}/findings`,
      {
        checkId: checkIds[2]!,
        clientKey: randomUUID(),
        result: 'correction',
        reason: 'Split since',
        location: '',
      },
      [],
    );
    await mine.send(visit, [early]);
    const kept = (await mine.ask(visit)).json<{ checks: { checkId: string; state: string }[] }>();
    expect(kept.checks.find((check) => check.checkId === checkIds[2])?.state).toBe('correction');
  });

  it('carry a square of a drawing, once, and refuse what is none; an older phone sends none', async () => {
    const sent = await site.contractor.upload(
      `${site.inProject}/attachments`,
      { subject: 'opening', subjectId: site.openingId, caption: 'Framing', back: site.inOpening },
      [{ field: 'file', ...testPdf() }],
    );
    expect(sent.statusCode).toBe(303);
    const { id: sheetId } = await prisma().attachment.findFirstOrThrow({ where: { caption: 'Framing' } });
    const on = (square: string, sheet = sheetId) => ({
      ...found(checkIds[0]!, { result: 'correction', reason: 'Short nails' }),
      place: { sheetId: sheet, square },
    });
    const good = on('C4');
    const got = answers(await mine.send(visit, [on('K4'), on('C4', randomUUID()), good]));
    expect(got.map(({ is, sentence }) => sentence ?? is)).toEqual([
      'That is no square of a drawing.',
      'That drawing is not in this project.',
      'kept',
    ]);
    expect(answers(await mine.send(visit, [good]))[0]).toEqual(got[2]);
    const other = { ...good, place: { sheetId, square: 'D4' } };
    expect(answers(await mine.send(visit, [other]))[0]!.sentence).toContain('said something else then');
    const kept = await prisma().finding.findFirstOrThrow({ where: { clientKey: good.id } });
    expect(kept).toMatchObject({ sheetId, square: 'C4' });
    expect((await site.engineer.get(`${site.inOpening}/checklist`)).body).toContain('square C4');
    expect((await verifyProject(prisma(), site.projectId)).broken).toBeNull();
  });

  it('a member taken out can send nothing, and a person signed out is led to sign in', async () => {
    const gone = await site.test.person('Go Ne');
    await site.test.join(gone, site.projectId, 'inspector');
    const theirs = phone(site.test, gone, site.inProject);
    await theirs.ask(visit);
    const sent = [found(checkIds[0]!)];
    await prisma().membership.updateMany({
      where: { personId: gone.personId },
      data: { revokedAt: new Date() },
    });
    expect((await theirs.send(visit, sent)).statusCode).toBe(404);
    expect((await theirs.ask(visit)).statusCode).toBe(404);
    const nobody = await phone(site.test, site.test.visitor(), site.inProject).send(visit, sent);
    expect(nobody.statusCode).toBe(303);
    expect(nobody.headers.location).toContain('/sign-in');
    expect(await prisma().finding.count({ where: { clientKey: sent[0]!.id } })).toBe(0);
  });

  it('a later set: findings stand against the set they were made on, differences are told, changed items open again', async () => {
    await close(visit);
    visit = await begin();
    checkIds = await checksOf(visit);
    const rows = await prisma().check.findMany({
      where: { id: { in: checkIds } },
      include: { version: { include: { item: true } } },
    });
    const ofBeam = rows.find((row) => row.version?.item.kind === 'beam')!;
    const ofRow = rows.find((row) => row.version?.item.kind !== 'beam')!;
    const before = (await prisma().visit.findUniqueOrThrow({ where: { id: visitId(visit) } })).setId;
    await site.change('Beam', { ...demoBeam, bearingLeftIn: 4.5 });
    const number = await site.issue();

    const sent = [found(ofBeam.id), found(ofRow.id)];
    expect(answers(await mine.send(visit, sent)).map(({ is }) => is)).toEqual(['kept', 'kept']);
    const kept = await prisma().finding.findMany({
      where: { clientKey: { in: sent.map(({ id }) => id) } },
      include: { check: true },
    });
    expect(kept.map((one) => one.check.setId)).toEqual([before, before]);
    const { later } = (await mine.ask(visit)).json<{
      later: { number: number; differences: { key: string; is: string }[] };
    }>();
    expect(later.number).toBe(number);
    const changed = later.differences.filter((one) => one.is === 'changed').map((one) => one.key);
    expect(changed).toContain(ofBeam.key);
    const list = (await site.inspector.get(`${site.inOpening}/checklist`)).body;
    expect(list).toContain(`version 2 is approved now.`);
    await close(visit);
  });

  it('a visit that another inspector closed: kept as late, shown, and placed into the next one by the finder’s name', async () => {
    const other = await site.test.person('Oth Er');
    await site.test.join(other, site.projectId, 'inspector');
    await close(visit, other);
    const photo = await testPhoto(77);
    const announced = { id: randomUUID(), name: 'north.jpg', bytes: photo.buffer.length };
    const sent = [
      found(checkIds[0]!, { result: 'correction', reason: 'Bearing short', photos: [announced] }),
      found(checkIds[1]!, { result: 'not_applicable', reason: 'No such row' }),
    ];
    const got = answers(await mine.send(visit, sent));
    expect(got.map(({ is, findingId }) => [is, findingId])).toEqual([
      ['late', null],
      ['late', null],
    ]);
    expect(answers(await mine.send(visit, sent))).toEqual(got);
    expect((await mine.piece(announced.id, 0, photo.buffer)).statusCode).toBe(201);
    expect(await prisma().finding.count({ where: { clientKey: { in: sent.map(({ id }) => id) } } })).toBe(0);

    const page = `${site.inOpening}/late-findings`;
    expect((await site.inspector.get(page)).body).toContain('Bearing short');
    expect((await site.inspector.get(`${site.inOpening}/checklist`)).body).toContain('late-findings');
    const place = `${site.inProject}/late-findings/${sent[0]!.id}/place`;
    expect((await other.post(place)).statusCode).toBe(422);
    const next = await begin('framing', other);
    expect((await other.post(place)).statusCode).toBe(303);
    expect((await other.post(place)).statusCode).toBe(303);
    const [placed] = await prisma().finding.findMany({ where: { clientKey: sent[0]!.id } });
    expect(placed).toMatchObject({
      visitId: visitId(next),
      byId: other.personId,
      at: new Date(got[0]!.at),
      reason: 'Bearing short',
    });
    const shown = (await site.inspector.get(next)).body;
    expect(shown).toContain('In Spector');
    expect(shown).toContain('placed into this visit by Oth Er');
    expect(shown.match(/class="gallery__one"/g)).toHaveLength(1);

    const aside = `${site.inProject}/late-findings/${sent[1]!.id}/aside`;
    const empty = await other.post(aside, { reason: ' ' });
    expect(empty.statusCode).toBe(422);
    expect(empty.body).toContain('Say why it is set aside.');
    expect((await other.post(aside, { reason: 'Looked again in visit 4' })).statusCode).toBe(303);
    expect((await other.post(`${site.inProject}/late-findings/${sent[1]!.id}/place`)).statusCode).toBe(422);
    expect((await site.contractor.post(aside, { reason: 'x' })).statusCode).toBe(403);
    expect((await site.inspector.get(page)).body).toContain('Looked again in visit 4');
  });
});

it('the record holds together after all of it', async () => {
  const report = await verifyProject(prisma(), site.projectId);
  expect(report.broken).toBeNull();
});
