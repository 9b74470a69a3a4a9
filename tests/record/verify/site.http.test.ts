import { acceptHoldPoint } from '../../../src/inspection/acceptance/service.ts';
import { planInspections } from '../../../src/inspection/plan/service.ts';
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { demoBeam } from '../../../src/demo/cinder-ferry.ts';
import { demoServices } from '../../../src/demo/cinder-ferry-services.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { checkedWithin, recordedTables } from '../../../src/record/verify/tables.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { logServiceAct } from '../../../src/site/services/service.ts';
import { drawingPdf } from '../../attachments/support/drawings.ts';
import { answers, found, phone } from '../../inspection/offline/phone.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { testPhoto } from '../../support/test-files.ts';
import { orderAndReceive } from './delivered.ts';
import { planAndLog } from './worked.ts';
import { deliveryTamperings } from './delivery-tamperings.ts';
import { siteTamperings } from './site-tamperings.ts';
import { tamperings } from './tamperings.ts';
import { workTamperings } from './work-tamperings.ts';

/** What was recorded on site and with files: a house, an issued set, a visit with a correction, a drawing with a note. */
let site: Site;
let owner: pg.Client;

beforeAll(async () => {
  site = await buildSite();
  const builder = site.actor(site.contractor, 'contractor');
  const service = await createItem(site.test.deps, builder, {
    openingId: site.openingId,
    kind: 'service',
    key: 'S1',
    title: 'Circuit 2',
    content: demoServices[0],
  });
  await logServiceAct(site.test.deps, builder, {
    itemId: service.item.itemId,
    versionId: service.version!.versionId,
    word: 'made_safe',
    who: 'J. M., electrician',
    note: '',
  });
  await site.issue();
  await orderAndReceive(site);
  await planAndLog(site);
  const { inspector, contractor, inOpening, inProject, openingId } = site;
  const begun = await inspector.post(`${inOpening}/visits`, { kind: 'framing' });
  const visit = String(begun.headers.location);
  const [bad, good] = await site.test.deps.prisma.check.findMany({ orderBy: { ordinal: 'asc' }, take: 2 });
  const find = async (checkId: string, result: string, reason: string) =>
    inspector.upload(
      `${visit}/findings`,
      { checkId, clientKey: randomUUID(), result, reason, location: 'left end' },
      [{ field: 'photo', ...(await testPhoto(60)) }],
    );
  expect((await find(bad!.id, 'correction', 'Three hangers with short nails')).statusCode).toBe(303);
  expect((await find(good!.id, 'pass', '')).statusCode).toBe(303);
  const closed = await inspector.post(`${visit}/closing`, {
    outcome: 'correction_needed',
    summary: 'Nails',
    signedName: 'In Spector',
  });
  expect(closed.statusCode).toBe(303);
  const { deps } = site.test;
  await planInspections(deps, site.actor(site.contractor, 'contractor'), {
    expectedNumber: 0,
    change: { is: 'switch off', visit: 'cover', decidedBy: 'engineer' },
  });
  const basis = 'Seen on Tuesday';
  const judge = site.actor(site.engineer, 'engineer');
  await acceptHoldPoint(deps, judge, { openingId, setNumber: 1, step: 'cover the framing', basis });
  const finding = await site.test.deps.prisma.finding.findFirstOrThrow({ where: { result: 'correction' } });
  const answered = await contractor.upload(
    `${inProject}/findings/${finding.id}/answers`,
    { note: 'Nailed', [`disturbs.${good!.id}`]: 'yes' },
    [],
  );
  expect(answered.statusCode).toBe(303);
  await sendLateFromPhone(visit, bad!.id);
  const own = `${inOpening}/self-check/framing`;
  const look = await contractor.post(own, { checkId: good!.id, word: 'not_ready', note: 'Strap missing' });
  expect(look.statusCode).toBe(303);
  expect((await contractor.post(`${own}/call`, { note: 'From eight', share: 'yes' })).statusCode).toBe(303);
  // A visit that is still open, and a set issued during it.
  const final = await inspector.post(`${inOpening}/visits`, { kind: 'final' });
  expect(final.statusCode).toBe(303);
  await site.change('Beam', { ...demoBeam, bearingLeftIn: 4.5 });
  await site.issue();
  const chosen = await inspector.post(`${String(final.headers.location)}/set-choice`, {
    setNumber: '2',
    choice: 'end',
  });
  expect(chosen.statusCode).toBe(303);

  const sent = await contractor.upload(
    `${inProject}/attachments`,
    { subject: 'opening', subjectId: openingId, caption: 'As it was', back: inOpening },
    [
      {
        field: 'file',
        name: 'A-101.pdf',
        mimeType: 'application/pdf',
        buffer: drawingPdf(['Header schedule']),
      },
    ],
  );
  expect(sent.statusCode).toBe(303);
  const drawing = await site.test.deps.prisma.attachment.findFirstOrThrow({
    where: { caption: 'As it was' },
  });
  const noted = await contractor.post(`${inProject}/attachments/${drawing.id}/notes`, {
    shape: 'pin',
    page: '1',
    leftPercent: '40',
    topPercent: '60',
    words: 'The plates end here',
    itemId: site.items.Beam ?? '',
    onNumber: '0',
  });
  expect(noted.statusCode).toBe(303);
  const asked = await site.owner.post(`${inOpening}/owner-words`, { text: 'When may we paint?' });
  expect(asked.statusCode).toBe(303);
  owner = new pg.Client({ connectionString: site.test.databaseUrl });
  await owner.connect();
});
afterAll(async () => {
  await owner.end();
  await site.test.close();
});

/** A phone that was away while the visit was closed: its finding with a photo comes late and is set aside. */
async function sendLateFromPhone(visit: string, checkId: string): Promise<void> {
  const mine = phone(site.test, site.inspector, site.inProject);
  await mine.ask(visit);
  const photo = await testPhoto(61);
  const announced = { id: randomUUID(), name: photo.name, bytes: photo.buffer.length };
  const late = found(checkId, { result: 'correction', reason: 'Shim', photos: [announced] });
  expect(answers(await mine.send(visit, [late]))[0]?.is).toBe('late');
  expect((await mine.piece(announced.id, 0, photo.buffer)).statusCode).toBe(201);
  const aside = `${site.inProject}/late-findings/${late.id}/aside`;
  expect((await site.inspector.post(aside, { reason: 'Looked again' })).statusCode).toBe(303);
}

const verified = () => verifyProject(site.test.deps.prisma, site.projectId);

/** Changes rows as the owner of the tables can, looks, and puts everything back as it was. */
async function tamper(table: string, sql: string, look: () => Promise<void>): Promise<void> {
  await owner.query(`CREATE TABLE kept AS TABLE "${table}"`);
  await owner.query(`ALTER TABLE "${table}" DISABLE TRIGGER USER`);
  try {
    const { rowCount } = await owner.query(sql);
    expect(rowCount, sql).toBeGreaterThan(0);
    await owner.query(`ALTER TABLE "${table}" ENABLE TRIGGER USER`);
    await look();
  } finally {
    // With no trigger at all, not even those of foreign keys: the same rows come back.
    await owner.query('SET session_replication_role = replica');
    await owner.query(`DELETE FROM "${table}"`);
    await owner.query(`INSERT INTO "${table}" SELECT * FROM kept`);
    await owner.query('SET session_replication_role = DEFAULT');
    await owner.query(`ALTER TABLE "${table}" ENABLE TRIGGER USER`);
    await owner.query('DROP TABLE kept');
  }
}

test('the untouched record holds', async () => {
  expect((await verified()).broken).toBeNull();
});

describe('what the owner of the database changes on site records and files is caught, and named', () => {
  test.each([...siteTamperings, ...deliveryTamperings, ...workTamperings])(
    '$table: $what',
    async ({ table, sql, sentence, shows }) => {
      await tamper(table, sql, async () => {
        const { broken } = await verified();
        expect(broken?.table).toBe(shows ?? table);
        expect(broken?.sentence).toMatch(sentence);
      });
      expect((await verified()).broken).toBeNull();
    },
  );
});

describe('no table is forgotten', () => {
  const guarded = async () => {
    const { rows } = await owner.query<{ name: string }>(
      `SELECT tgrelid::regclass::text AS name FROM pg_trigger WHERE tgname LIKE '%\\_immutable' ORDER BY 1`,
    );
    return rows.map(({ name }) => name.replaceAll('"', ''));
  };

  test('every table that the database keeps from being changed is verified', async () => {
    const covered = [...recordedTables.map(({ table }) => table), ...Object.keys(checkedWithin)];
    const names = await guarded();
    expect(names.length).toBeGreaterThan(15);
    // A new one needs its event and its line in src/record/verify/tables.ts.
    expect(names.filter((name) => !covered.includes(name))).toEqual([]);
  });

  test('and each of them is tampered with here', async () => {
    const tried = new Set(
      [...tamperings, ...siteTamperings, ...deliveryTamperings, ...workTamperings].map(({ table }) => table),
    );
    const names = await guarded();
    expect(names.filter((name) => !tried.has(name))).toEqual([]);
  });
});
