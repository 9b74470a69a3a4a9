import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoShoring } from '../support/shoring.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import type { Client } from '../../support/app.ts';
import { buildSite, type Site } from '../support/site.ts';

/** Local inspections: from the page of the plan to the list of the set in force, and what stays as it was. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await site.add('shoring', 'shoring', 'Shoring plan', demoShoring);
  await site.issue();
});
afterAll(() => site.test.close());

const planPage = () => `${site.inProject}/inspections`;
const list = async (query = '') => (await site.inspector.get(`${site.inOpening}/checklist${query}`)).body;
async function number(): Promise<string> {
  return /name="expectedNumber" value="(\d+)"/.exec((await site.contractor.get(planPage())).body)?.[1] ?? '';
}
async function change(fields: Record<string, string>, who: Client = site.contractor) {
  const expectedNumber = await number();
  return who.post(planPage(), { expectedNumber, ...fields });
}
async function begin(kind: string) {
  return site.inspector.post(`${site.inOpening}/visits`, { kind });
}
const check = {
  do: 'check',
  visit: 'cover',
  title: 'Draft stop at the stair',
  criterion: 'Closed within 10 ft of the stair',
};

describe('the inspections of a project', () => {
  it('are renamed; visits that were made keep their name', async () => {
    const visit = String((await begin('framing')).headers.location);
    await site.inspector.post(`${visit}/closing`, {
      outcome: 'no_access',
      summary: 'Locked',
      signedName: 'I',
    });
    const response = await change({ do: 'rename:framing', 'name.framing': 'Rough frame' });
    expect(response.statusCode).toBe(303);
    expect(await list()).toContain('Rough frame');
    expect((await site.inspector.get(visit)).body).toContain('Framing, before cover');
    expect((await site.inspector.get(planPage())).body).toContain('is now “Rough frame”');
  });

  it('take checks of their own, at once in the list of the set in force, once', async () => {
    expect((await change(check)).statusCode).toBe(303);
    const { prisma } = site.test.deps;
    const rows = () => prisma.check.findMany({ where: { source: 'local requirement' } });
    expect(await rows()).toHaveLength(1);
    expect(await list()).toContain('Closed within 10 ft of the stair');
    expect(await list()).toContain('Local requirement');
    await change({ do: 'up:electrical' });
    expect(await rows()).toHaveLength(1);
    const page = await list();
    expect(page.indexOf('Electrical rough-in')).toBeLessThan(page.indexOf('Rough frame'));
  });

  it('worded anew are another check: the finding stays with the old words', async () => {
    const visit = String((await begin('cover')).headers.location);
    const { prisma } = site.test.deps;
    const before = await prisma.check.findFirstOrThrow({ where: { source: 'local requirement' } });
    await site.inspector.upload(
      `${visit}/findings`,
      { checkId: before.id, clientKey: 'local-one-1', result: 'pass' },
      [],
    );
    const key = before.key.split('#')[0]!.slice('local:'.length);
    await change({ ...check, key, criterion: 'Closed within 5 ft of the stair' });
    const page = await list();
    expect(page).toContain('Closed within 5 ft');
    expect(page).not.toContain('Closed within 10 ft');
    expect(page).toContain('when it said something else');
    expect(await prisma.check.findUnique({ where: { id: before.id } })).toMatchObject({
      criterion: 'Closed within 10 ft of the stair',
    });
    await site.inspector.post(`${visit}/closing`, { outcome: 'not_ready', summary: 'x', signedName: 'I' });
    // The closed visit still shows what was asked when it was made.
    expect((await site.inspector.get(visit)).body).toContain('Closed within 10 ft');
    await change({ do: `drop:${key}` });
    expect(await list()).not.toContain('Draft stop');
  });

  it('can be added, with a visit of their own', async () => {
    await change({ do: 'visit', newVisit: 'Slab cut' });
    const page = (await site.contractor.get(planPage())).body;
    const key = /<option value="(local-[0-9a-f-]+)"/.exec(page)?.[1] ?? '';
    await change({ ...check, visit: key, title: 'No tendon in the cut' });
    expect(await list()).toContain('Slab cut');
    const visit = await begin(key);
    expect(visit.statusCode).toBe(303);
    const shown = (await site.inspector.get(String(visit.headers.location))).body;
    expect(shown).toContain('Slab cut</h1>');
    expect(shown).toContain('No tendon in the cut');
    expect(shown).not.toContain('Beam as approved');
    const refused = await site.inspector.upload(
      `${String(visit.headers.location)}/findings`,
      { checkId: (await framingCheck()).id, clientKey: 'framing-in-local', result: 'pass' },
      [],
    );
    expect(refused.body).toContain('belongs to another kind of visit');
  });

  it('are the contractor’s and the engineer’s to plan, the inspector’s to read, the owner’s neither', async () => {
    expect((await change({ do: 'visit', newVisit: 'Mine' }, site.engineer)).statusCode).toBe(303);
    expect((await change({ do: 'visit', newVisit: 'No' }, site.inspector)).statusCode).toBe(403);
    expect((await site.inspector.get(planPage())).body).not.toContain('Add an inspection');
    expect((await site.owner.get(planPage())).statusCode).toBe(403);
  });

  it('refuse what does not do, keep what was typed, and tell whom somebody overtook', async () => {
    const refused = await change({ ...check, criterion: '' });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('Fill this in.');
    expect(refused.body).toContain('Draft stop at the stair');
    const late = await site.contractor.post(planPage(), { expectedNumber: '0', ...check });
    expect(late.statusCode).toBe(409);
    expect(late.body).toContain('Somebody else changed the inspections meanwhile');
    expect(late.body).toContain('Closed within 10 ft of the stair');
    expect((await change({ do: 'nonsense' })).statusCode).toBe(422);
  });
});

const framingCheck = async () => {
  const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({
    where: { openingId: site.openingId },
    orderBy: { number: 'desc' },
  });
  return site.test.deps.prisma.check.findFirstOrThrow({
    where: { setId: set.id, visitKind: 'framing' },
    orderBy: { ordinal: 'asc' },
  });
};

describe('a switched-off inspection', () => {
  const step = 'take the wall out';
  const accept = (who: Client, basis: string, setNumber = 1) =>
    who.post(`${site.inOpening}/acceptances`, {
      step,
      setNumber: String(setNumber),
      [`basis.${step}`]: basis,
    });

  it('names its hold point and asks who decides; nobody opens it', async () => {
    expect((await accept(site.engineer, 'Seen')).body).toContain(
      'No switched-off inspection holds that step',
    );
    expect((await change({ do: 'off:shoring' })).statusCode).toBe(422);
    await change({ do: 'off:shoring', 'decidedBy.shoring': 'engineer' });
    const page = await list();
    expect(page).toContain('“Shoring, before demolition” is switched off in this project.');
    expect(page).toContain('The engineer decides');
    expect((await begin('shoring')).body).toContain('is switched off in this project');
  });

  it('is decided by the engineer, with a basis, and nobody else', async () => {
    expect((await accept(site.contractor, 'I say so')).statusCode).toBe(403);
    expect((await accept(site.inspector, 'I say so')).statusCode).toBe(403);
    const empty = await accept(site.engineer, ' ');
    expect(empty.statusCode).toBe(422);
    expect(empty.body).toContain('Say on what you accept it');
    expect((await accept(site.engineer, 'Seen', 7)).body).toContain('A later set was issued meanwhile');
    expect((await accept(site.engineer, 'Walked both storeys today')).statusCode).toBe(303);
    const page = await list();
    expect(page).toContain('Walked both storeys today');
    expect(page).toMatch(/Take the wall out<\/strong>\s*<span class="chip chip--good">/);
  });

  it('is held again once what was accepted changes', async () => {
    await site.change('Shoring plan', { ...demoShoring, studSpacingIn: 12 });
    await site.issue();
    expect(await list()).toMatch(/Take the wall out<\/strong>\s*<span class="chip chip--act">/);
  });
});

it('leaves a log whose every hash holds', async () => {
  expect(await verifyProject(site.test.deps.prisma, site.projectId)).toMatchObject({ broken: null });
});
