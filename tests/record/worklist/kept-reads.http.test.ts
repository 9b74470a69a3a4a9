import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import type { FastifyInstance } from 'fastify';
import { KeptReads } from '../../../src/record/kept-reads.ts';
import { anotherProcess, type AnotherProcess } from '../../inspection/support/another-process.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import type { Client } from '../../support/app.ts';

describe('reads that are kept', () => {
  test('are made once for one key, also by two who ask at once', async () => {
    const kept = new KeptReads<{ readonly time: number }>(10);
    let times = 0;
    const work = async () => Promise.resolve({ time: (times += 1) });
    const both = await Promise.all([kept.read('a', '', work), kept.read('a', '', work)]);
    expect(both).toEqual([{ time: 1 }, { time: 1 }]);
    expect(await kept.read('b', '', work)).toEqual({ time: 2 });
  });

  test('are made again after one failed, and after others took the room', async () => {
    const kept = new KeptReads<{ readonly name: string }>(2);
    await expect(kept.read('a', '', () => Promise.reject(new Error('gone')))).rejects.toThrow('gone');
    expect(await kept.read('a', '', () => Promise.resolve({ name: 'first' }))).toEqual({ name: 'first' });
    for (const key of ['b', 'c']) await kept.read(key, '', () => Promise.resolve({ name: key }));
    expect(await kept.read('a', '', () => Promise.resolve({ name: 'again' }))).toEqual({ name: 'again' });
  });
});

/** Another process of the same service over the same database, which nobody tells anything. */
describe('the first page and the checklist in a process that others write past', () => {
  let site: Site;
  let process: AnotherProcess;
  let other: FastifyInstance;
  beforeAll(async () => {
    site = await buildSite();
    await site.issue();
    process = await anotherProcess(site);
    other = process.app;
  });
  afterAll(async () => {
    await process.close();
    await site.test.close();
  });

  // Pages are kept for the minute they were made in: it does not end meanwhile.
  beforeEach(() => {
    vi.useFakeTimers({ toFake: ['Date'], now: Date.now() });
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  async function open(client: Client, url: string) {
    const { status, body, sent } = await process.open(client, url);
    return { queries: sent.length, body, status };
  }

  test('read nothing twice while nothing happens', async () => {
    for (const [client, url] of [
      [site.contractor, '/'],
      [site.inspector, `${site.inOpening}/checklist`],
    ] as const) {
      const first = await open(client, url);
      const again = await open(client, url);
      expect(first.status).toBe(200);
      expect(first.queries).toBeGreaterThan(5);
      expect(again.queries).toBeLessThan(4);
    }
  });

  test('show at once what another process wrote', async () => {
    const before = await open(site.engineer, '/');
    expect(before.body).not.toContain('Which nails?');
    await site.contractor.post(`${site.inProject}/items/${site.items.Beam}/questions`, {
      text: 'Which nails?',
    });
    expect((await open(site.engineer, '/')).body).toContain('Which nails?');

    const list = `${site.inOpening}/checklist`;
    expect((await open(site.inspector, list)).body).not.toContain('/visits/');
    const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
    expect((await open(site.inspector, list)).body).toContain(String(begun.headers.location));
  });

  test('keep one person’s page from another, and from one who is a member no more', async () => {
    const stranger = await site.test.person('Str Anger');
    await open(site.owner, '/');
    expect((await open(stranger, '/')).body).not.toContain('Den to box room');
    await site.test.join(stranger, site.projectId, 'inspector');
    expect((await open(stranger, '/')).body).toContain('Den to box room');
    expect((await open(stranger, `${site.inOpening}/checklist`)).status).toBe(200);
    await site.test.deps.prisma.membership.updateMany({
      where: { personId: stranger.personId },
      data: { revokedAt: new Date() },
    });
    expect((await open(stranger, '/')).body).not.toContain('Den to box room');
    expect((await open(stranger, `${site.inOpening}/checklist`)).status).toBe(404);
  });

  test('give the forms of each address and session a token of their own, which is good', async () => {
    const tokens = new Set<string>();
    for (const url of ['/', '/?a', '/?b']) {
      const { body } = await open(site.contractor, url);
      const found = [...body.matchAll(/name="_csrf" value="([^"]+)"/g)].map(([, token]) => token ?? '');
      expect(found.length).toBeGreaterThan(0);
      expect(new Set(found).size).toBe(1);
      tokens.add(found[0] ?? '');
    }
    expect(tokens.size).toBe(3);
    for (const token of tokens) {
      const answer = await other.inject({
        method: 'POST',
        url: `${site.inProject}/items/${site.items.Beam}/questions`,
        headers: {
          cookie: site.contractor.cookies(),
          'content-type': 'application/x-www-form-urlencoded',
          'sec-fetch-site': 'same-origin',
        },
        payload: new URLSearchParams({ _csrf: token, text: 'By a token of a kept page?' }).toString(),
      });
      expect(answer.statusCode).toBe(303);
    }
  });

  test('are no other session’s and no other browser’s, though the person is the same', async () => {
    // Whatever was said to them last is heard: a page that says something is never kept.
    await site.contractor.get('/');
    const cookies = site.contractor.cookies();
    const tokenOf = async (cookie: string) => {
      const { body, headers } = await other.inject({
        method: 'GET',
        url: '/',
        headers: { cookie, accept: 'text/html' },
      });
      const [, token] = /name="_csrf" value="([^"]+)"/.exec(body) ?? [];
      return { token, sets: String(headers['set-cookie']) };
    };
    const own = await tokenOf(cookies);
    expect((await tokenOf(cookies)).token).toBe(own.token);
    expect(own.sets).not.toContain('lintelbook-form=');

    const [session = ''] = (await site.test.deps.sessions.start(site.contractor.personId)).split(';');
    const formCookie = cookies.split('; ').find((one) => one.startsWith('lintelbook-form=')) ?? '';
    const inOtherSession = await tokenOf(`${session}; ${formCookie}`);
    expect(inOtherSession.token).toBeDefined();
    expect(inOtherSession.token).not.toBe(own.token);

    for (const broken of ['', `; ${formCookie.slice(0, -4)}AAAA`]) {
      for (let time = 0; time < 2; time += 1) {
        const inOtherBrowser = await tokenOf(session + broken);
        expect(inOtherBrowser.token).toBeDefined();
        expect([own.token, inOtherSession.token]).not.toContain(inOtherBrowser.token);
        expect(inOtherBrowser.sets).toContain('lintelbook-form=');
      }
    }
  });

  test('say once what was just done, and have a name as it is now', async () => {
    await site.contractor.get('/');
    await site.contractor.post(`${site.inProject}/items/${site.items.Beam}/questions`, { text: 'Heard?' });
    const said = (await site.contractor.get('/')).body;
    expect(said).toContain('role="status"');
    const after = (await site.contractor.get('/')).body;
    expect(after).not.toContain('role="status"');
    expect((await site.contractor.get('/')).body.length).toBe(after.length);
    await site.test.deps.prisma.person.update({
      where: { id: site.contractor.personId },
      data: { name: 'Con Tractor Junior' },
    });
    expect((await site.contractor.get('/')).body).toContain('Con Tractor Junior');
  });
});
