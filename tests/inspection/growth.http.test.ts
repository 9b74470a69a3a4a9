import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { demoBeam } from '../../src/demo/cinder-ferry.ts';
import { growItems } from '../record/worklist/grow.ts';
import type { Client } from '../support/app.ts';
import { anotherProcess, type AnotherProcess } from './support/another-process.ts';
import { growSet, growWork } from './support/grow-work.ts';
import { buildSite, type Site } from './support/site.ts';

/**
 * Lists that grow with the work on site, and those of the first page: shown in pages, each thing once, by the same
 * queries however many there are. The service is built a second time over a client that counts what it sends.
 */
/** More than a page of any list but a set's. */
const FEW = 60;
const MANY = 240;
let site: Site;
let other: AnotherProcess;
let visit = '';
const sets: Record<number, string> = {};

interface Answer {
  readonly sent: number;
  readonly bytes: number;
  readonly body: string;
}
let few: Record<string, Answer>;
let many: Record<string, Answer>;

beforeAll(async () => {
  site = await buildSite();
  // Rows that rest on the beam's plies; they are stale once the plies are others.
  await growItems(site, 1, FEW);
  await site.issue();
  sets[FEW] = await growSet(site, 2 * FEW);
  sets[MANY] = await growSet(site, MANY);
  const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
  visit = String(begun.headers.location);
  other = await anotherProcess(site);
  await growWork(site, 1, FEW);
  await site.change('Beam', { ...demoBeam, member: { ...demoBeam.member, plies: 4 } });
  await openAll(FEW);
  await site.logOn();
  few = await openAll(FEW);
  await growItems(site, FEW + 1, MANY);
  await growWork(site, FEW + 1, MANY);
  await site.change('Beam', { ...demoBeam, member: { ...demoBeam.member, plies: 2 } });
  many = await openAll(MANY);
});
afterAll(async () => {
  await other.close();
  await site.test.close();
});

async function open(client: Client, url: string): Promise<Answer> {
  const { status, body, sent } = await other.open(client, url);
  expect(status, `${url}: ${body.slice(0, 200)}`).toBe(200);
  return { sent: sent.length, bytes: Buffer.byteLength(body), body };
}

async function openAll(size: number): Promise<Record<string, Answer>> {
  const { contractor, engineer, inspector, inOpening, inProject } = site;
  return {
    'the first page': await open(contractor, '/'),
    'what is out of date': await open(contractor, await moreOf('out of date')),
    'the open questions': await open(engineer, await moreOf('open questions', engineer)),
    'the checklist': await open(inspector, `${inOpening}/checklist`),
    'the visit': await open(inspector, visit),
    'the deliveries': await open(contractor, `${inOpening}/deliveries`),
    'a set': await open(inspector, `${inProject}/sets/${sets[size]!}`),
  };
}

/** The link to the further page of a group on the first page. */
async function moreOf(section: string, who = site.contractor): Promise<string> {
  const { body } = await who.get('/');
  const link = new RegExp(
    `href="(/waiting\\?role=\\w+&amp;section=${encodeURIComponent(section)}&amp;[^"]+)"`,
  );
  const found = link.exec(body)?.[1];
  expect(found, `a further page of “${section}”`).toBeDefined();
  return found!.replaceAll('&amp;', '&');
}

/** What `each` finds on the page and on all further ones of the link that has this parameter. */
async function walk(
  who: Client,
  url: string,
  parameter: string,
  each: RegExp,
  most: number,
): Promise<string[]> {
  const found: string[] = [];
  const link = new RegExp(`href="([^"#]*[?;]${parameter}=[^"#]+)`);
  for (let next: string | undefined = url; next !== undefined;) {
    const response = await who.get(next);
    expect(response.statusCode, next).toBe(200);
    // The first page has other groups besides: the one that is walked is its own section.
    const own: string = next === '/' ? sectionOf(response.body, parameter) : response.body;
    const words = [...own.matchAll(each)].map((match) => match[1] ?? '');
    expect(words.length, next).toBeLessThanOrEqual(most);
    found.push(...words);
    next = link.exec(own)?.[1]?.replaceAll('&amp;', '&');
  }
  return found;
}
function sectionOf(body: string, parameter: string): string {
  return body.split('<section').find((part) => part.includes(`${parameter}=`)) ?? '';
}
const numbers = (from: number, to: number) =>
  Array.from({ length: Math.abs(to - from) + 1 }, (_, place) =>
    String(from < to ? from + place : from - place),
  );

describe('a list that grows with the work', () => {
  test('is shown by as many queries as a small one, on a page of bounded length', () => {
    for (const [name, { sent, bytes }] of Object.entries(many)) {
      expect(sent, name).toBe(few[name]!.sent);
      expect(sent, name).toBeGreaterThan(0);
      expect(bytes, name).toBeLessThan(few[name]!.bytes * 1.2 + 8_000);
    }
  });

  test('says how many there are beside the few that it lists', () => {
    expect(many['the checklist']!.body).toMatch(/Framing[^<]*<span class="quiet">1 to 50 of \d+<\/span>/);
    expect(many['the deliveries']!.body).toContain(`1 to 30 of ${MANY}`);
    expect(many['a set']!.body).toContain(`1 to 100 of ${MANY}`);
    expect(many['a set']!.body).toContain(`and ${MANY - 50} more; each item above names its own`);
    expect(many['the first page']!.body).toMatch(/Out of date: \d{3}/);
  });
});

describe('its further pages lead through each thing once', () => {
  test('the checks of one inspection, in the order of the list', async () => {
    const checks = await walk(
      site.contractor,
      `${site.inOpening}/checklist`,
      'after',
      /<h3>Grown check (\d+) /g,
      50,
    );
    expect(checks).toEqual(numbers(1, MANY));
  });

  test('the checks of a visit, what is to look at first', async () => {
    const checks = await walk(site.inspector, visit, 'now', /<h2>Grown check (\d+) /g, 50);
    expect(checks).toEqual(numbers(1, MANY));
  });

  test('the visits of an opening, newest first', async () => {
    const visits = await walk(site.contractor, `${site.inOpening}/checklist`, 'visits', />Visit (\d+):/g, 30);
    // The one that was begun has number 1; those of the growth begin at 101.
    expect(visits).toEqual([...numbers(100 + MANY, 101), '1']);
  });

  test('deliveries and orders, newest first, and the lines that came', async () => {
    const url = `${site.inOpening}/deliveries`;
    expect(await walk(site.contractor, url, 'deliveries', />Delivery (\d+)</g, 30)).toEqual(
      numbers(100 + MANY, 101),
    );
    expect(await walk(site.contractor, url, 'orders', /“Grown order (\d+)”/g, 30)).toEqual(numbers(MANY, 1));
    expect(await walk(site.contractor, url, 'came', /Grown line (\d+)/g, 40)).toEqual(numbers(1, MANY));
  });

  test.each([
    ['entries', /Grown entry (\d+)</g, 100],
    ['gaps', /Grown gap (\d+)/g, 50],
    ['changes', /Grown change (\d+)/g, 50],
    ['questions', /Grown question (\d+)/g, 50],
  ] as const)('the %s of one approved set', async (parameter, each, most) => {
    const url = `${site.inProject}/sets/${sets[MANY]!}`;
    expect(await walk(site.inspector, url, parameter, each, most)).toEqual(numbers(1, MANY));
  });

  test('what is out of date and the open questions of the first page', async () => {
    const more = (section: string) => `section=${encodeURIComponent(section)}&amp;after`;
    const stale = await walk(site.contractor, '/', more('out of date'), />Row R(\d+)</g, 20);
    expect([...stale].sort((one, other) => Number(one) - Number(other))).toEqual(numbers(1, MANY));
    const questions = await walk(site.engineer, '/', more('open questions'), /: Grown question (\d+)</g, 20);
    expect(questions).toEqual(numbers(1, MANY));
  });
});

test.each(['x', '!.!', '%00', 'zzzzzzzzzz.1', '-1', '00000000-0000-0000-0000-000000000000'])(
  'no list knows anything of the cursor %s',
  async (cursor) => {
    for (const url of [
      `${site.inOpening}/checklist?visits=${cursor === '-1' ? 'x' : cursor}`,
      `${site.inOpening}/checklist?group=framing&after=${cursor}`,
      `${visit}?now=${cursor}`,
      `${visit}?before=${cursor}`,
      `${site.inOpening}/deliveries?deliveries=${cursor}`,
      `${site.inOpening}/deliveries?orders=${cursor}`,
      `${site.inOpening}/deliveries?came=${cursor}`,
      `${site.inProject}/sets/${sets[FEW]!}?entries=${cursor}`,
      `/waiting?role=contractor&section=out+of+date&after=${cursor}`,
      `/waiting?role=contractor&section=open+questions&after=${cursor}`,
    ]) {
      expect((await site.inspector.get(url.startsWith('/waiting') ? '/account' : url)).statusCode, url).toBe(
        url.startsWith('/waiting') ? 200 : 404,
      );
      if (url.startsWith('/waiting')) expect((await site.contractor.get(url)).statusCode, url).toBe(404);
    }
  },
);

test('a refusal on a check far down the list comes back where it was written', async () => {
  const check = await site.test.deps.prisma.check.findFirstOrThrow({
    where: { title: `Grown check ${MANY}` },
  });
  const refused = await site.inspector.upload(
    `${visit}/findings`,
    {
      checkId: check.id,
      clientKey: 'far-down-the-list',
      result: 'correction',
      reason: '',
      location: 'rear, by the stair',
    },
    [],
  );
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain(`id="check-${check.id}"`);
  expect(refused.body).toContain('value="rear, by the stair"');
});
