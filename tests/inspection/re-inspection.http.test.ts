import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nowAmong, visitsOfNow, visitsOfOpening } from '../../src/inspection/store.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { testPdf, testPhoto } from '../support/test-files.ts';
import { buildSite, type Site } from './support/site.ts';

/** From a visit with corrections to the one that looks at them again. */
let site: Site;
let first = '';
let corrections: { id: string; title: string }[] = [];
let disturbed: { id: string; title: string };
let sheetId = '';
const photo = await testPhoto(9);

beforeAll(async () => {
  site = await buildSite();
  const sent = await site.contractor.upload(
    `${site.inProject}/attachments`,
    { subject: 'opening', subjectId: site.openingId, caption: 'Framing plan', back: site.inOpening },
    [{ field: 'file', ...testPdf() }],
  );
  expect(sent.statusCode).toBe(303);
  const file = await site.test.deps.prisma.attachment.findFirstOrThrow();
  sheetId = file.id;
  await site.add('drawing', 'A1', 'Framing plan', {
    name: 'Framing plan',
    revision: 'A',
    drawnOn: '2026-05-04',
    issuedBy: 'Con Tractor',
    sha256: file.sha256,
  });
  await site.issue();
  first = await begin();
});
afterAll(() => site.test.close());

async function begin(): Promise<string> {
  const answer = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
  return String(answer.headers.location);
}
const checks = () =>
  site.test.deps.prisma.check.findMany({ where: { visitKind: 'framing' }, orderBy: { ordinal: 'asc' } });
const find = (visit: string, checkId: string, fields: Record<string, string>) =>
  site.inspector.upload(`${visit}/findings`, { checkId, clientKey: randomUUID(), ...fields }, [
    { field: 'photo', ...photo },
  ]);
const close = (visit: string, outcome: string) =>
  site.inspector.post(`${visit}/closing`, { signedName: 'In Spector', outcome });
const list = async () => (await site.inspector.get(`${site.inOpening}/checklist`)).body;
const findings = () =>
  site.test.deps.prisma.finding.findMany({
    orderBy: { at: 'asc' },
    select: { id: true, checkId: true, result: true, reason: true, at: true },
  });

describe('a place on a drawing', () => {
  it('is a square of a drawing of the set; another word or file comes back at its field', async () => {
    const [check] = await checks();
    const page = (await site.inspector.get(first)).body;
    expect(page).toContain('Framing plan, revision A');
    for (const [square, sheet] of [
      ['K4', sheetId],
      ['C11', sheetId],
      ['4C', sheetId],
      ['C4', randomUUID()],
    ] as const) {
      const refused = await find(first, check!.id, {
        result: 'correction',
        reason: 'No',
        square,
        sheetId: sheet,
      });
      expect(refused.statusCode).toBe(422);
      expect(refused.body).toMatch(/A letter from A to J|not in the set/);
      expect(refused.body).toContain(`value="${square}"`);
    }
    expect(await site.test.deps.prisma.finding.count()).toBe(0);
  });

  it('is kept, shown to the contractor, and drawn on the sheet', async () => {
    const [check] = await checks();
    const sent = { result: 'correction', reason: 'Short nails', square: 'c4', sheetId };
    expect((await find(first, check!.id, sent)).statusCode).toBe(303);
    const { body } = await site.contractor.get(first);
    const [, href] = /href="([^"]+)">On Framing plan, square C4</.exec(body)!;
    const marked = await site.contractor.get(href!.replaceAll('&amp;', '&'));
    expect(marked.headers['content-type']).toBe('image/webp');
    const plain = await site.contractor.get(href!.split('?')[0]!);
    expect(marked.rawPayload.equals(plain.rawPayload)).toBe(false);
    const squares = await site.contractor.get(`${href!.split('?')[0]!}?grid=squares`);
    expect(squares.rawPayload.equals(plain.rawPayload)).toBe(false);
  });
});

describe('scenario 14: three corrections, the rest passed', () => {
  it('the visit can’t close as passed; as correction needed it does, the others keep their pass, cover stays held', async () => {
    const all = await checks();
    corrections = all.slice(0, 3);
    disturbed = all[3]!;
    for (const { id } of all.slice(1, 3))
      await find(first, id, { result: 'correction', reason: 'Short nails' });
    for (const { id } of all.slice(3))
      expect((await find(first, id, { result: 'pass' })).statusCode).toBe(303);
    expect((await close(first, 'passed')).statusCode).toBe(422);
    expect((await close(first, 'correction_needed')).statusCode).toBe(303);
    const page = await list();
    const open = await site.test.deps.prisma.visitClosing.findFirstOrThrow();
    expect(open.outcome).toBe('correction_needed');
    expect(page.match(/correction needed/g)!.length).toBeGreaterThanOrEqual(3);
    expect(page).toMatch(/<strong>[^<]*cover[^<]*<\/strong>[^]*?held/i);
    expect(await site.test.deps.prisma.finding.count({ where: { result: 'pass' } })).toBe(all.length - 3);
  });
});

describe('scenario 15: looked at again', () => {
  it('the contractor’s first page leads to what the inspector found, until each is answered', async () => {
    const { body } = await site.contractor.get('/');
    expect(body).toContain('The inspector found something to put right');
    expect(body).toContain(`href="${site.inOpening}/checklist">3 things to put right</a>`);
    for (const { title } of corrections) expect(body).toContain(title);
    for (const other of [site.engineer, site.inspector, site.owner])
      expect((await other.get('/')).body).not.toContain('The inspector found something');
  });

  it('the contractor says what was done, with photos, and what it disturbed', async () => {
    const before = await findings();
    const open = before.filter(({ result }) => result === 'correction');
    for (const [index, { id }] of open.entries()) {
      const answer = await site.contractor.upload(
        `${site.inProject}/findings/${id}/answers`,
        { note: 'Driven anew', ...(index === 0 ? { [`disturbs.${disturbed.id}`]: 'yes' } : {}) },
        [{ field: 'photo', ...photo }],
      );
      expect(answer.statusCode).toBe(303);
    }
    expect((await site.contractor.get('/')).body).not.toContain('The inspector found something');
    expect(await list()).toContain('Disturbed when a correction was put right (Con Tractor: “Driven anew”).');
    expect(await findings()).toEqual(before);
  });

  it('the next visit asks for the three corrections and what was disturbed, and has the rest folded away', async () => {
    const before = await findings();
    const second = await begin();
    const { body } = await site.inspector.get(second);
    const all = await checks();
    const [now, rest] = body.split('<details class="before">');
    for (const { title } of [...corrections, disturbed]) expect(now).toContain(`<h2>${title}`);
    const others = all.slice(4);
    for (const { title } of others) {
      expect(now).not.toContain(`<h2>${title}`);
      expect(rest).toContain(`<h2>${title}`);
    }
    expect(body).toContain(`In order before this visit: ${others.length}`);
    expect(body).toContain('1 to look at, 3 corrections open.');

    expect((await close(second, 'passed')).statusCode).toBe(422);
    for (const { id } of [...corrections, disturbed]) await find(second, id, { result: 'pass' });
    expect((await close(second, 'passed')).statusCode).toBe(303);
    expect((await findings()).slice(0, before.length)).toEqual(before);
  });

  it('a correction that passes without an answer waits for nobody', async () => {
    const third = await begin();
    const [check] = await checks();
    const words = 'The inspector found something';
    await find(third, check!.id, { result: 'correction', reason: 'A nail has come out' });
    for (const page of ['/', site.inOpening])
      expect((await site.contractor.get(page)).body).toContain(page === '/' ? words : 'Put right what');
    await find(third, check!.id, { result: 'pass' });
    for (const page of ['/', site.inOpening])
      expect((await site.contractor.get(page)).body).not.toContain(page === '/' ? words : 'Put right what');
  });

  it('visits that are all there say the same of now as those looked up', async () => {
    const { prisma } = site.test.deps;
    const all = await visitsOfOpening(prisma, site.projectId, site.openingId);
    const now = nowAmong(all);
    expect(now).toEqual(await visitsOfNow(prisma, site.projectId, site.openingId));
    expect(now.length).toBeGreaterThan(1);
    expect(now.length).toBeLessThan(all.length);
  });

  it('the record says all of it, and holds', async () => {
    const { prisma } = site.test.deps;
    expect((await verifyProject(prisma, site.projectId)).broken).toBeNull();
    await prisma.$executeRaw`ALTER TABLE correction_disturbed DISABLE TRIGGER USER`;
    await prisma.$executeRaw`DELETE FROM correction_disturbed`;
    expect((await verifyProject(prisma, site.projectId)).broken?.sentence).toMatch(
      /disturbs is not what event/,
    );
  });
});
