import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readRecords } from '../../src/engineering/fasteners/schedule/csv-text.ts';
import { demoSupports, demoSurvey } from '../../src/demo/cinder-ferry.ts';
import { createItem } from '../../src/record/items/create.ts';
import { createOpening } from '../../src/record/openings/service.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';

/** The material list of an approved set: who sees what, from which versions, and what leaves as a file. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
});
afterAll(() => site.test.close());

const list = async (who = site.contractor) => (await who.get(`${site.inOpening}/materials`)).body;

describe('the material list', () => {
  it('is empty before a set is issued, and says so', async () => {
    expect(await list()).toContain('nothing is to be ordered from this record so far');
    expect((await site.contractor.get(`${site.inProject}/materials`)).body).toContain('Nothing to order yet');
  });

  it('lists what the set calls for, to everybody of the project, and what it leaves open', async () => {
    await site.issue();
    for (const who of [site.contractor, site.engineer, site.inspector, site.owner]) {
      const page = await list(who);
      expect(page).toContain(who === site.owner ? 'approved plan number 1' : 'approved set 1');
      // Three plies of 11'-4", ordered by the even foot.
      expect(page).toContain('3 at 12&#39;-0&quot;');
      expect(page).toContain('3 at 11&#39;-4&quot;');
      expect(page).toContain('no approved shoring plan');
      expect(page).toContain('no hanger line');
      expect(page).toContain('no way of cutting needs less');
      expect(page).toContain('<svg');
    }
    const stranger = await site.test.person('Stranger');
    expect((await stranger.get(`${site.inOpening}/materials`)).statusCode).toBe(404);
    expect((await stranger.get(`${site.inProject}/materials.csv`)).statusCode).toBe(404);
  });

  it('goes by the set, not by what was typed since', async () => {
    await site.change('Support left', { ...demoSupports[0], jacks: 4 });
    const before = await list();
    expect(before).toContain('approved set 1');
    const jacks = (page: string) => /2x6 DF-L No\.2[\s\S]{0,900}?Cut to">([^<]*)</.exec(page)?.[1] ?? '';
    expect(jacks(before)).toContain('4 at 7&#39;-11 5/8&quot;');
    await site.issue();
    expect(jacks(await list())).toContain('6 at 7&#39;-11 5/8&quot;');
  });

  it('leaves as a file that a spreadsheet can’t run', async () => {
    const response = await site.owner.get(`${site.inOpening}/materials.csv`);
    expect(response.headers['content-type']).toContain('text/csv');
    expect(response.headers['content-disposition']).toBe('attachment; filename="materials-opening-1.csv"');
    const { records } = readRecords(response.body);
    expect(records[0]).toContain('Cut lengths');
    expect(records.every((record) => record.length === records[0]!.length)).toBe(true);
    for (const cell of records.flat()) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
    expect(records.flat().some((cell) => cell.includes('1.75x9.5 LVL 2.0E'))).toBe(true);
  });

  it('puts the openings of a house into one list', async () => {
    const builder = site.actor(site.contractor, 'contractor');
    const { openingId } = await createOpening(site.test.deps, builder, { name: 'Second wall' });
    await createItem(site.test.deps, builder, {
      openingId,
      kind: 'survey',
      key: 'survey',
      title: 'Survey',
      content: demoSurvey,
    });
    const page = (await site.engineer.get(`${site.inProject}/materials`)).body;
    expect(page).toContain('1. Den wall');
    expect(page).toContain('no approved set yet: not in this list');
    expect(page).toContain('3 at 12&#39;-0&quot;');
    const file = (await site.engineer.get(`${site.inProject}/materials.csv`)).body;
    expect(file.split('\r\n').length).toBeGreaterThan(3);
  });
});
