import { afterAll, beforeAll, expect, it } from 'vitest';
import { demoBeam } from '../../src/demo/cinder-ferry.ts';
import { ownStatuses, sharedWords, type OwnLook } from '../../src/inspection/self-check/rules.ts';
import type { CheckOfSet } from '../../src/inspection/status.ts';
import { createOpening } from '../../src/record/openings/service.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { buildSite, type Site } from './support/site.ts';

/** The contractor looks at the inspector's own checks before calling. */
let site: Site;
let own: string;
let list: string;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
  own = `${site.inOpening}/self-check/framing`;
  list = `${site.inOpening}/checklist`;
});
afterAll(() => site.test.close());

const checks = () =>
  site.test.deps.prisma.check.findMany({
    where: { visitKind: 'framing', set: { openingId: site.openingId } },
    orderBy: [{ set: { number: 'desc' } }, { ordinal: 'asc' }],
  });
const answer = (checkId: string, word: string, note = '', who = site.contractor) =>
  who.post(own, { checkId, word, note });

it('has the checks of the visit, and says how many are left', async () => {
  const { body } = await site.contractor.get(own);
  const all = await checks();
  expect(body).toContain(`${all.length} to look at, 0 not ready.`);
  for (const check of all) expect(body).toContain(check.title);
});

it('keeps each answer as its own row, once for a double tap, and wants a word on what is not ready', async () => {
  const [first, second] = await checks();
  expect((await answer(first!.id, 'ready')).statusCode).toBe(303);
  expect((await answer(first!.id, 'ready')).statusCode).toBe(303);
  const refused = await answer(second!.id, 'not_ready');
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain('Say what is not ready yet.');
  expect((await answer(second!.id, 'not_ready', 'Straps come on Friday')).statusCode).toBe(303);
  expect(await site.test.deps.prisma.selfCheck.count()).toBe(2);
  expect((await site.contractor.get(own)).body).toContain('Straps come on Friday');
});

it('is no finding: the inspector’s list, the hold points and the visit know nothing of it', async () => {
  expect(await site.test.deps.prisma.finding.count()).toBe(0);
  const { body } = await site.inspector.get(list);
  expect(body).not.toContain('Straps come on Friday');
  for (const who of [site.inspector, site.engineer, site.owner]) {
    expect([403, 404]).toContain((await who.get(own)).statusCode);
    expect([403, 404]).toContain((await answer((await checks())[0]!.id, 'ready', '', who)).statusCode);
  }
});

it('calls the inspector in spite of what is open; shares it only where the contractor says so', async () => {
  expect(
    (await site.contractor.post(`${own}/call`, { note: 'Somebody is there from eight.' })).statusCode,
  ).toBe(303);
  let { body } = await site.inspector.get(list);
  expect(body).toContain('Con Tractor called for this inspection');
  expect(body).toContain('Somebody is there from eight.');
  expect(body).not.toContain('Straps come on Friday');
  // At the top of a long list stands what was called for, and where to begin it.
  const index = /<nav[^>]*aria-labelledby="inspections".*?<\/nav>/s.exec(body)?.[0] ?? '';
  expect(index).toContain('<a href="#g-framing">');
  expect(index).toContain(`${(await checks()).length} to look at`);
  expect(index.match(/Begin: [^<]*/g)).toEqual(['Begin: Framing, before cover']);
  expect((await site.inspector.get('/')).body).toMatch(
    /Visits that wait for you: 1.*#inspections">Framing, before cover<.*“Somebody is there from eight\.”/s,
  );
  for (const who of [site.contractor, site.engineer, site.owner]) {
    expect((await who.get('/')).body).not.toContain('Visits that wait for you');
  }

  await site.contractor.post(`${own}/call`, { note: 'Somebody is there from eight.', share: 'yes' });
  ({ body } = await site.inspector.get(list));
  expect(body).toMatch(/1 of \d+ ready, not ready: [^<]*Straps come on Friday/);

  const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
  const visit = String(begun.headers.location);
  ({ body } = await site.inspector.get(list));
  expect(body).not.toContain('called for this inspection');
  expect((await site.inspector.get('/')).body).toMatch(
    new RegExp(`Visits that wait for you: 1.*href="${visit}">Go on with visit 1: Framing, before cover`, 's'),
  );
  const closed = { outcome: 'no_access', summary: 'Locked', signedName: 'In Spector' };
  await site.inspector.post(`${visit}/closing`, closed);
  expect((await site.inspector.get('/')).body).not.toContain('Visits that wait for you');
  // A closed visit says how it ended first, and leads on.
  const page = (await site.inspector.get(visit)).body;
  expect(page).toContain('Back to the checklist');
  expect(page).not.toContain('Before you begin');
});

it('wants a new look where a new set changed the version, and refuses one at the old list', async () => {
  const [old] = await checks();
  await site.change('Beam', { ...demoBeam, bearingLeftIn: 4.5, bearingRightIn: 4.5 });
  await site.issue();
  expect((await answer(old!.id, 'ready')).body).toContain('A later set was issued meanwhile');
  const { body } = await site.contractor.get(own);
  expect(body).toMatch(/[1-9]\d* to look at/);
});

it('is in the log, which names the inspection, and with several openings the opening; the record holds', async () => {
  const log = async () =>
    (await site.engineer.get(`${site.inProject}/log`)).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  expect(await log()).toContain('. Framing, before cover: called for an inspection');
  expect(await log()).toContain('. Visit 1, Framing, before cover: closed a visit as no access');
  const builder = site.actor(site.contractor, 'contractor');
  await createOpening(site.test.deps, builder, { name: 'Pantry wall' });
  const { name } = await site.test.deps.prisma.opening.findUniqueOrThrow({ where: { id: site.openingId } });
  for (const line of [
    `. Framing, before cover, ${name}: called for an inspection`,
    `. Visit 1, Framing, before cover, ${name}: closed a visit as no access`,
    `. Beam, ${name}: saved version 2`,
    // The first word on the second version.
    `. Beam, version 2, ${name}: marked approved`,
    `. ${name}: issued approved set 2`,
    '. added opening 2, “Pantry wall”',
  ]) {
    expect(await log()).toContain(line);
  }
  const types = await site.test.deps.prisma.event.findMany({ select: { type: true } });
  expect(types.map(({ type }) => type)).toEqual(
    expect.arrayContaining(['self_check.answered', 'visit.called']),
  );
  expect((await verifyProject(site.test.deps.prisma, site.projectId)).broken).toBeNull();
});

it('an answer counts for the version it was given on', () => {
  const check = { key: 'beam/as-approved', versionId: 'v2', title: 'Beam' } as CheckOfSet;
  const look = (versionId: string, word: OwnLook['word']): OwnLook => ({
    key: check.key,
    versionId,
    word,
    note: '',
    byName: 'A',
    at: new Date(0),
  });
  expect(ownStatuses([check], [look('v1', 'ready')])[0]!.look).toBeNull();
  const [status] = ownStatuses([check], [look('v2', 'ready'), look('v2', 'not_ready')]);
  expect(status!.look!.word).toBe('not_ready');
  expect(sharedWords([status!])).toBe('0 of 1 ready, not ready: Beam.');
});
