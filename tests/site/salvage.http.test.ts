import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { wordsOf } from '../record/schedule/house.ts';

/** What comes out whole: the contractor lists it, the owner decides, and nothing leaves before. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
});
afterAll(() => site.test.close());

const list = (more: Record<string, string> = {}) =>
  site.contractor.post(`${site.inOpening}/salvage`, {
    what: 'Oak strip flooring',
    howMany: '40 sq ft',
    condition: 'two boards split',
    keptAt: 'garage',
    ...more,
  });
const line = () =>
  site.test.deps.prisma.salvageLine.findFirstOrThrow({ where: { projectId: site.projectId } });
const say = async (who: 'contractor' | 'owner' | 'engineer', path: string, word: string, note = '') =>
  site[who].post(`${site.inProject}/salvage/${(await line()).id}/${path}`, { word, note });

describe('salvage', () => {
  it('is listed once, and a bad line comes back filled', async () => {
    const bad = await list({ what: '', howMany: '' });
    expect(bad.statusCode).toBe(422);
    expect(bad.body).toContain('Say what it is.');
    expect(bad.body).toContain('Say how many, or how much.');
    expect(bad.body).toContain('value="two boards split"');
    expect((await list()).statusCode).toBe(303);
    expect((await list()).statusCode).toBe(303);
    expect(await site.test.deps.prisma.salvageLine.count()).toBe(1);
    for (const who of [site.owner, site.engineer, site.inspector]) {
      expect((await who.get(`${site.inOpening}/salvage`)).body).toContain('Oak strip flooring');
    }
    const told = await site.test.deps.prisma.news.findMany({ where: { personId: site.owner.personId } });
    expect(told.map((one) => one.line).join(' ')).toContain('asks what becomes of “Oak strip flooring”');
  });

  it('stays until the owner has decided; only the owner decides', async () => {
    const decisions = async () =>
      /id="decisions".*?<\/section>/s.exec((await site.owner.get(`${site.inOpening}/progress`)).body)?.[0];
    const home = async () => wordsOf((await site.owner.get('/')).body);
    expect(await decisions()).toContain('Oak strip flooring, 40 sq ft');
    expect(await home()).toMatch(/What needs your decision: 1 Oak strip flooring, 40 sq ft/);
    expect((await say('contractor', 'outcome', 'gone')).statusCode).toBe(422);
    for (const who of ['contractor', 'engineer'] as const) {
      expect((await say(who, 'decision', 'give_away')).statusCode).toBe(403);
    }
    expect((await say('owner', 'outcome', 'gone')).statusCode).toBe(403);
    // A word of the other's does not come in by this door.
    expect((await say('owner', 'decision', 'gone')).statusCode).toBe(422);
    expect((await say('owner', 'decision', 'keep')).statusCode).toBe(303);
    expect(await decisions()).toContain('Nothing now.');
    expect(await home()).not.toContain('What needs your decision');
    expect((await say('contractor', 'outcome', 'gone')).statusCode).toBe(422);
    expect((await say('owner', 'decision', 'give_away', 'To the neighbour <b>')).statusCode).toBe(303);
    expect((await say('contractor', 'outcome', 'gone')).statusCode).toBe(303);
    expect((await say('owner', 'decision', 'keep')).statusCode).toBe(422);
    const page = await site.owner.get(`${site.inOpening}/salvage`);
    expect(wordsOf(page.body)).toContain('gone from the house');
    expect(page.body).toContain('To the neighbour &lt;b&gt;');
  });

  it('is part of the record, kept and verified', async () => {
    const { prisma } = site.test.deps;
    await expect(prisma.$executeRaw`DELETE FROM salvage_word`).rejects.toThrow('never changed');
    expect((await verifyProject(prisma, site.projectId)).broken).toBeNull();
  });
});
