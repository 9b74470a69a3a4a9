import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoBeam } from '../../../src/demo/cinder-ferry.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { boxesOf, wordsOf } from '../schedule/house.ts';

/** Two people at the same thing, and one who presses twice. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await submitVersions(site.test.deps, site.actor(site.contractor, 'contractor'), {
    openingId: site.openingId,
  });
});
afterAll(async () => {
  expect((await verifyProject(site.test.deps.prisma, site.projectId)).broken).toBeNull();
  await site.test.close();
});

const itemPage = (title: string) => `${site.inProject}/items/${site.items[title]!}`;
/** The boxes of the form that says a word on an item, as its page had them. */
async function markForm(title: string): Promise<Record<string, string>> {
  const { body } = await site.engineer.get(itemPage(title));
  const [form] = /<form [^>]*action="[^"]*\/marks"[^]*?<\/form>/.exec(body)!;
  return boxesOf(form);
}
/** The boxes of an edit form. */
const formOf = (body: string) => boxesOf(/<form [^>]*action="[^"]*\/versions"[^]*?<\/form>/.exec(body)![0]);
const marksOn = (title: string) =>
  site.test.deps.prisma.mark.findMany({
    where: { version: { itemId: site.items[title]! } },
    include: { version: { select: { number: true } } },
  });

describe('scenario 18: a mark is pressed twice, or sent again after its answer was lost', () => {
  it('is one mark, however often it comes', async () => {
    const form = { ...(await markForm('Support left')), word: 'approved', reason: 'Looked at by hand' };
    const press = () => site.engineer.post(`${site.inProject}/marks`, form);
    const both = await Promise.all([press(), press()]);
    const later = await press();
    for (const answer of [...both, later]) expect(answer.statusCode).toBe(303);
    expect(await marksOn('Support left')).toHaveLength(1);
    expect(await site.test.deps.prisma.event.count({ where: { type: 'version.marked' } })).toBe(1);
  });
});

describe('scenario 1: the engineer has version 1 of the beam open while the contractor saves version 2', () => {
  it('the mark is refused, both versions are shown, nothing is approved', async () => {
    const form = await markForm('Beam');
    await site.change('Beam', { ...demoBeam, bearingLeftIn: 4.5 });
    const answer = await site.engineer.post(`${site.inProject}/marks`, { ...form, word: 'approved' });
    expect(answer.statusCode).toBe(409);
    const words = wordsOf(answer.body);
    expect(words).toContain('Bearing 3" left');
    expect(words).toContain('Bearing 4 1/2" left');
    expect(await marksOn('Beam')).toEqual([]);
  });
});

describe('scenario 2: two people edit one row', () => {
  it('who saves second is told who changed what, and neither text is lost', async () => {
    const title = 'Beam plies';
    const edit = `${itemPage(title)}/edit`;
    const mine = formOf((await site.contractor.get(edit)).body);
    const theirs = formOf((await site.engineer.get(edit)).body);
    const saved = await site.engineer.post(`${itemPage(title)}/versions`, {
      ...theirs,
      'pattern.rows': '3',
      _reason: 'Three rows, for the side load',
    });
    expect(saved.statusCode).toBe(303);
    const second = await site.contractor.post(`${itemPage(title)}/versions`, {
      ...mine,
      note: 'Driven from the den first',
      _reason: 'Order of driving',
    });
    expect(second.statusCode).toBe(409);
    const words = wordsOf(second.body);
    expect(words).toContain('Eng Ineer');
    expect(words).toContain('Three rows, for the side load');
    expect(words).toContain('Driven from the den first');
    const versions = await site.test.deps.prisma.version.findMany({
      where: { itemId: site.items[title]! },
      orderBy: { number: 'asc' },
      select: { number: true, content: true },
    });
    expect(versions.map(({ number }) => number)).toEqual([1, 2]);
    expect(JSON.parse(versions[1]!.content)).toMatchObject({ pattern: { rows: 3 } });
    // What was typed is there again with the next look.
    expect((await site.contractor.get(edit)).body).toContain('Driven from the den first');
  });
});
