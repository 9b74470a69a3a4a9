import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { zoneChoices } from '../../../src/record/projects/time-zones.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { startTestApp, type Client, type TestApp } from '../../support/app.ts';

/** A house has the clock that hangs in it. */
let test: TestApp;
let contractor: Client;

beforeAll(async () => {
  test = await startTestApp();
  contractor = await test.person('Con Tractor');
});
afterAll(() => test.close());

const lines = { name: 'Den', address: '12 Slipway Row', jurisdiction: 'Town', permitNumber: '' };
const make = (more: Readonly<Record<string, string>>) => contractor.post('/projects', { ...lines, ...more });
const chosenIn = (page: string) =>
  [...page.matchAll(/<option value="([^"]*)" selected>/g)].map(([, one]) => one);

describe('the zones offered', () => {
  it('begin with those of North America in words, and are all different', () => {
    expect(zoneChoices[0]?.options.map(({ text }) => text)).toContain('Arizona (no daylight saving)');
    const all = zoneChoices.flatMap(({ options }) => options);
    expect(new Set(all.map(({ value }) => value)).size).toBe(all.length);
    for (const zone of ['America/New_York', 'Europe/Berlin', 'UTC']) {
      expect(all.filter(({ value }) => value === zone)).toHaveLength(1);
    }
    expect(all).toContainEqual({ value: 'America/Argentina/Salta', text: 'Salta (America, Argentina)' });
    // Each of them is one that clocks here know.
    for (const { value } of all)
      expect(() => new Intl.DateTimeFormat('en', { timeZone: value })).not.toThrow();
  });
});

describe('a new project', () => {
  it('is asked for its zone, and nothing is chosen beforehand', async () => {
    const { body } = await contractor.get('/projects/new');
    expect(chosenIn(body)).toEqual(['']);
    expect(body).toContain('<optgroup label="United States">');
  });

  it.each([[''], ['Mars/Olympus'], ['america/los_angeles'], ['+05:00']])(
    'is refused with the zone “%s”, with what was typed',
    async (timeZone) => {
      const answer = await make({ timeZone });
      expect(answer.statusCode).toBe(422);
      expect(answer.body).toContain('Choose the time zone of the house.');
      expect(answer.body).toContain('value="12 Slipway Row"');
      expect(await test.deps.prisma.project.count()).toBe(0);
    },
  );

  it('keeps it, shows it, and corrects it with a line in the log; the record holds', async () => {
    const made = await make({ timeZone: 'America/Los_Angeles' });
    const place = String(made.headers.location);
    expect((await contractor.get(place)).body).toContain('Pacific (Los Angeles)');
    expect(chosenIn((await contractor.get(`${place}/edit`)).body)).toEqual(['America/Los_Angeles']);

    const refused = await contractor.post(`${place}/edit`, { ...lines, timeZone: 'Nowhere' });
    expect(refused.statusCode).toBe(422);
    await contractor.post(`${place}/edit`, { ...lines, timeZone: 'America/Phoenix' });
    expect((await contractor.get(place)).body).toContain('Arizona (no daylight saving)');
    const log = (await contractor.get(`${place}/log`)).body;
    expect(log).toContain('changed the time zone to “America/Phoenix”');

    // A form that was kept since before houses had a zone.
    await contractor.post(`${place}/edit`, { ...lines, permitNumber: 'BP-1' });
    const project = await test.deps.prisma.project.findFirstOrThrow({ where: { permitNumber: 'BP-1' } });
    expect(project.timeZone).toBe('America/Phoenix');
    expect(await verifyProject(test.deps.prisma, project.id)).toMatchObject({ broken: null });
  });

  it('that was there before says that nobody has chosen, to whoever can', async () => {
    const place = String((await make({ name: 'Old house' })).headers.location);
    expect((await contractor.get(place)).body).toContain('Nobody has chosen the zone of this house yet');
    const owner = await test.person('Ow Ner');
    await test.join(owner, place.slice('/projects/'.length), 'owner');
    const seen = (await owner.get(place)).body;
    expect(seen).toContain('Time zone');
    expect(seen).not.toContain('Nobody has chosen');
  });

  it('can’t be without one in the database either', async () => {
    await expect(test.deps.prisma.project.updateMany({ data: { timeZone: '' } })).rejects.toThrow();
  });
});
