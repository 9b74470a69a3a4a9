import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { anotherProcess, type AnotherProcess } from '../../inspection/support/another-process.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import type { Client } from '../../support/app.ts';
import { bigTables, judgePlans } from '../../support/plans.ts';
import type { SentQuery } from '../../support/queries.ts';
import { growElsewhere, growItems, growOther } from './grow.ts';

/**
 * A project that grows: every page that lists something sends the same queries and stays about as long, and no list
 * reads a big table from end to end. The service is built a second time over a client that keeps what it sends.
 */
const MANY = 10_000;

let site: Site;
let other: AnotherProcess;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
  other = await anotherProcess(site);
});
afterAll(async () => {
  await other.close();
  await site.test.close();
});

interface Answer {
  readonly sent: readonly SentQuery[];
  readonly bytes: number;
  readonly body: string;
}

async function open(client: Client, url: string): Promise<Answer> {
  const { status, body, sent } = await other.open(client, url);
  expect(status, `${url}: ${body.slice(0, 200)}`).toBe(200);
  return { sent, bytes: Buffer.byteLength(body), body };
}

/** Every page that lists what grows with a project, with those who open it. */
function pages(site: Site): readonly (readonly [name: string, url: string, readers: readonly Client[]])[] {
  const { contractor, engineer, inspector, owner, inProject, inOpening, items } = site;
  const everybody = [contractor, engineer, inspector, owner];
  const makers = [contractor, engineer];
  return [
    ['the first page', '/', everybody],
    ['the project', inProject, everybody],
    ['the opening', inOpening, everybody],
    ['the rows of an opening', `${inOpening}/items/fastening`, makers],
    ['the drawings of an opening', `${inOpening}/items/drawing`, makers],
    ['an item', `${inProject}/items/${items.Beam}`, makers],
    ['an item’s history', `${inProject}/items/${items.Beam}/history`, makers],
    ['the search', `${inProject}/search?q=row`, makers],
    ['the search for one', `${inProject}/search?q=R100`, makers],
    ['what waits for a mark', `${inOpening}/review`, [engineer]],
    ['the log', `${inProject}/log`, [contractor, engineer, inspector]],
    ['the checklist', `${inOpening}/checklist`, [contractor, engineer, inspector]],
    ['progress in plain words', `${inOpening}/progress`, everybody],
  ];
}

async function openAll(): Promise<Map<string, Answer>> {
  const answers = new Map<string, Answer>();
  for (const [name, url, readers] of pages(site)) {
    for (const reader of readers) answers.set(`${name}, ${reader.name}`, await open(reader, url));
  }
  return answers;
}

describe('a project of 10,000 items', () => {
  let few: Map<string, Answer>;
  let many: Map<string, Answer>;
  beforeAll(async () => {
    await growItems(site, 1, 100);
    await growOther(site, 1, 100);
    await openAll();
    await site.logOn();
    few = await openAll();
    await growItems(site, 101, MANY);
    await growOther(site, 101, 300);
    // Other projects of the installation, none larger than this one: a list that reads a whole table reads theirs, too.
    for (let project = 0; project < 40; project += 1) await growElsewhere(site, 500);
    await site.test.deps.prisma.$executeRaw`ANALYZE`;
    await site.logOn();
    many = await openAll();
  });

  test('reads no big table from end to end', async () => {
    const { prisma } = site.test.deps;
    const names = await bigTables(prisma, MANY / 2);
    expect(names).toEqual(expect.arrayContaining(['item', 'version', 'submission_entry', 'attachment']));
    const sent = [...many].map(([page, answer]) => [page, answer.sent] as const);
    const { judged, readWhole } = await judgePlans(prisma, sent, names);
    expect(judged).toBeGreaterThan(30);
    expect(readWhole).toEqual([]);
  });

  test('sends as many queries for a page as a small one', () => {
    const counts = (answers: Map<string, Answer>) =>
      Object.fromEntries([...answers].map(([name, { sent }]) => [name, sent.length]));
    expect(counts(many)).toEqual(counts(few));
    // Whoever comes second to a page may find all of it read already.
    const pages = new Set([...many.keys()].map((name) => name.split(', ')[0] ?? name));
    for (const page of pages) {
      const sent = [...many].flatMap(([name, answer]) => (name.startsWith(page) ? answer.sent : []));
      expect(sent.length, page).toBeGreaterThan(0);
    }
    expect(Math.max(...Object.values(counts(many)))).toBeLessThanOrEqual(60);
  });

  test('answers with pages of a bounded length', () => {
    for (const [name, { bytes }] of many) {
      expect(bytes, name).toBeLessThan(few.get(name)!.bytes * 1.2 + 8_000);
    }
  });

  test('says how many there are beside the few that it lists', async () => {
    const { body } = many.get('the opening, Con Tractor')!;
    const rows = site.test.deps.prisma.item.count({
      where: { kind: 'fastening', openingId: site.openingId },
    });
    expect(/All (\d+) of these/.exec(body)?.[1]).toBe(String(await rows));
    expect(/The first 100 of (\d+);/.exec(body)?.[1]).toBe(String(MANY / 2));
    expect(body.match(/name="shown\.[-0-9a-f]+"/g)).toHaveLength(100);
  });
});
