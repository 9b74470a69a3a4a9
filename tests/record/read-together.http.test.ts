import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { demoRows } from '../../src/demo/cinder-ferry.ts';
import { readTogether, sawHead, sharedReads, type ProjectViewer } from '../../src/record/read-together.ts';
import { anotherProcess, type AnotherProcess } from '../inspection/support/another-process.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import type { Client } from '../support/app.ts';

describe('what a project’s pages show alike', () => {
  let times = 0;
  const kept = sharedReads();
  const viewer = (projectId: string, seq: number, reads = kept): ProjectViewer => {
    const one = { projectId };
    sawHead(one, seq, reads);
    return one;
  };
  const read = (who: ProjectViewer, what = 'list') =>
    readTogether(who, [what], () => Promise.resolve({ time: (times += 1) }));

  test('is read once for all who saw the log at the same line', async () => {
    const first = await read(viewer('a', 7));
    expect(await read(viewer('a', 7))).toBe(first);
    for (const other of [read(viewer('b', 7)), read(viewer('a', 7), 'other'), read(viewer('a', 8))]) {
      expect(await other).not.toEqual(first);
    }
  });

  test('is kept by the newest line alone: whoever saw an earlier one reads for itself', async () => {
    const newest = await read(viewer('e', 9));
    expect(await read(viewer('e', 8))).not.toEqual(newest);
    expect(await read(viewer('e', 9))).toBe(newest);
  });

  test('is read by itself for whoever saw no head, be it with the same words in it', async () => {
    const seen = viewer('a', 7);
    expect(await read({ ...seen })).not.toEqual(await read(seen));
  });

  test('is read again after a while, and after it failed', async () => {
    const briefly = sharedReads(100);
    const first = await read(viewer('c', 1, briefly));
    await expect.poll(() => read(viewer('c', 1, briefly)), { timeout: 10_000 }).not.toEqual(first);
    const failing = readTogether(viewer('d', 1), ['list'], () => Promise.reject(new Error('gone')));
    await expect(failing).rejects.toThrow('gone');
    expect(await read(viewer('d', 1))).toBeDefined();
  });
});

/** The pages are another process's, over the same database, which nobody tells anything. */
describe('two people who look at one opening', () => {
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

  async function open(client: Client, url: string) {
    const { status, body, sent } = await other.open(client, url);
    expect(status).toBe(200);
    return { queries: sent.length, body };
  }

  test('cost the database less than twice one', async () => {
    for (const [rest, first, second] of [
      ['', site.contractor, site.engineer],
      ['/checklist', site.contractor, site.inspector],
      ['/progress', site.owner, site.contractor],
    ] as const) {
      await site.logOn();
      const url = site.inOpening + rest;
      const [one, next] = [await open(first, url), await open(second, url)];
      expect(one.queries).toBeGreaterThan(5);
      expect(next.queries).toBeLessThan(one.queries - 2);
    }
  });

  test('both see at once what another process wrote', async () => {
    const both = [site.contractor, site.engineer];
    for (const client of both)
      expect((await open(client, site.inOpening)).body).not.toContain('A note of mine');
    await site.add('fastening', 'N77', 'A note of mine', demoRows[0]?.content);
    for (const client of both) expect((await open(client, site.inOpening)).body).toContain('A note of mine');

    const list = `${site.inOpening}/checklist`;
    const looking = [site.contractor, site.inspector];
    for (const client of looking) expect((await open(client, list)).body).not.toContain('/visits/');
    const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
    const visit = String(begun.headers.location);
    for (const client of looking) expect((await open(client, list)).body).toContain(visit);
  });

  test('see each what their role may see, whoever looked first', async () => {
    await site.logOn();
    const [contractors, owners, inspectors] = [
      await open(site.contractor, site.inOpening),
      await open(site.owner, site.inOpening),
      await open(site.inspector, site.inOpening),
    ];
    expect(contractors.body).toContain('/items/');
    expect(owners.body).not.toContain('/items/');
    expect(inspectors.body).not.toContain('/submissions"');
  });
});
