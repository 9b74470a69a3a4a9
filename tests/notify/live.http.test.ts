import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { listen, type Listening } from '../../src/database/listen.ts';
import { PAGES_OF_ONE_PERSON } from '../../src/notify/live/hub.ts';
import { askQuestion } from '../../src/record/questions/service.ts';
import { buildApp } from '../../src/web/app.ts';
import { compose } from '../../src/web/compose.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { testAppSecret, type Client } from '../support/app.ts';
import { openStream, type Stream } from './support/stream.ts';

let site: Site;
let url = '';
let listening: Listening;
const streams: Stream[] = [];

beforeAll(async () => {
  site = await buildSite();
  const { app, deps } = site.test;
  url = await app.listen({ port: 0, host: '127.0.0.1' });
  listening = listen({
    databaseUrl: site.test.databaseUrl,
    channels: { lintelbook_event: deps.live.heard },
    onConnected: deps.live.readUp,
    say: (channel, word) => deps.prisma.$executeRaw`SELECT pg_notify(${channel}, ${word})`,
    trialMs: 1_000,
  });
  await listening.connected;
});
afterAll(async () => {
  for (const stream of streams) stream.close();
  await listening.close();
  await site.test.close();
});

const head = async () =>
  (await site.test.deps.prisma.event.findFirst({
    where: { projectId: site.projectId },
    orderBy: { seq: 'desc' },
  }))!.seq;

async function open(
  client: Client,
  after?: number,
  headers: Record<string, string> = {},
  base = url,
): Promise<Stream> {
  const query = after === undefined ? '' : `?after=${after}`;
  const stream = await openStream(`${base}${site.inProject}/live${query}`, client.cookies(), headers);
  streams.push(stream);
  return stream;
}

const ask = (text: string, by = site.contractor, role: 'contractor' | 'engineer' = 'contractor') =>
  askQuestion(site.test.deps, site.actor(by, role), { itemId: site.items.Beam!, text });

describe('an open page', () => {
  it('is told what others do, through a proxy too, and not what its own person does', async () => {
    const after = await head();
    const [engineer, contractor, inspector, owner] = await Promise.all(
      [site.engineer, site.contractor, site.inspector, site.owner].map((one) => open(one, after)),
    );
    expect(engineer!.headers['content-type']).toContain('text/event-stream');
    expect(engineer!.headers['x-accel-buffering']).toBe('no');
    expect(engineer!.headers['cache-control']).toContain('no-transform');
    expect(engineer!.headers['content-security-policy']).toBeDefined();
    await ask('Which stamp?');
    await engineer!.until(1);
    await inspector!.until(1);
    expect(engineer!.changes[0]).toEqual({
      id: after + 1,
      what: expect.stringContaining('asks about Beam') as string,
      by: '',
      path: `${site.inProject}/items/${site.items.Beam!}`,
    });
    // The inspector reads the log's words, and is led where an inspector may go.
    expect(inspector!.changes[0]).toMatchObject({ by: 'Con Tractor', path: site.inOpening });
    while (contractor!.place() < after + 1 || owner!.place() < after + 1) await wait(20);
    expect(contractor!.changes).toEqual([]);
    expect(owner!.changes).toEqual([]);
    expect(owner!.text()).not.toContain('stamp');
  });

  it('reads up what it missed, by the last line it knows, without a gap or a repetition', async () => {
    const before = await head();
    await ask('One?');
    await ask('Two?');
    const byPage = await open(site.engineer, before);
    await byPage.until(2);
    const byHeader = await open(site.engineer, 0, { 'last-event-id': String(before + 1) });
    await byHeader.until(1);
    await ask('Three?');
    await byPage.until(3);
    await byHeader.until(2);
    expect(byPage.changes.map(({ id }) => id)).toEqual([before + 1, before + 2, before + 3]);
    expect(byHeader.changes.map(({ id }) => id)).toEqual([before + 2, before + 3]);
  });

  it('reads up more than one reading holds', async () => {
    const all = await open(site.inspector, 0);
    const last = await head();
    while (all.place() < last) await wait(20);
    expect(new Set(all.changes.map(({ id }) => id)).size).toBe(all.changes.length);
    expect(all.changes.length).toBe(last);
  });

  it('that names no place is told what happens from now on', async () => {
    await ask('Before?');
    const stream = await open(site.engineer);
    const last = await head();
    // Another page of the room, told of the same: the first is caught up by then.
    const other = await open(site.engineer, last - 1);
    await other.until(1);
    await ask('After?');
    await stream.until(1);
    expect(stream.changes.map(({ id }) => id)).toEqual([last + 1]);
  });

  it('whose place lies ahead of the log keeps no other page from being told', async () => {
    const ahead = await open(site.engineer, 900_000_000);
    const other = await open(site.engineer, await head());
    await ask('Still told?');
    await other.until(1);
    expect(other.changes).toHaveLength(1);
    expect(ahead.changes).toEqual([]);
  });

  it('is told again after the database connection broke', async () => {
    const stream = await open(site.engineer, await head());
    const { prisma } = site.test.deps;
    const cut = await prisma.$queryRaw<unknown[]>`
      SELECT pg_terminate_backend(pid) FROM pg_stat_activity
      WHERE application_name = 'lintelbook listening' AND datname = current_database()`;
    expect(cut.length).toBeGreaterThan(0);
    await ask('Still there?');
    await stream.until(1);
    await ask('And now?');
    await stream.until(2);
    expect(stream.changes).toHaveLength(2);
  });

  it('ends when its person is taken out, and when the session ends', async () => {
    const helper = await site.test.person('Second');
    await site.test.join(helper, site.projectId, 'contractor');
    const stream = await open(helper, await head());
    const membership = await site.test.deps.prisma.membership.findFirstOrThrow({
      where: { personId: helper.personId },
    });
    await site.contractor.post(`${site.inProject}/members/${membership.id}/removal`);
    await stream.ended;
    expect((await open(helper)).status).toBe(404);

    const other = await site.test.person('Third');
    await site.test.join(other, site.projectId, 'inspector');
    const second = await open(other, await head());
    await other.post('/sign-out-everywhere');
    await site.test.deps.live.checkAll();
    await second.ended;
  });

  it('is refused to a stranger and to who is not signed in, and to more pages than one person has', async () => {
    expect((await open(await site.test.person('Stranger'))).status).toBe(404);
    expect((await open(site.test.visitor())).status).toBe(303);
    const many = await site.test.person('Many');
    await site.test.join(many, site.projectId, 'inspector');
    const pages = [];
    for (let i = 0; i < PAGES_OF_ONE_PERSON; i += 1) pages.push(await open(many, await head()));
    const tooMany = await open(many);
    expect(tooMany.status).toBe(429);
    pages[0]!.close();
    while ((await open(many, await head())).status !== 200) await wait(50);
  });

  it('gets a sign of life', async () => {
    const stream = await open(site.owner, await head());
    site.test.deps.live.beat();
    while (!stream.text().includes(': still here')) await wait(20);
  });

  it('knows its place from the page itself', async () => {
    const page = await site.test.app.inject({
      url: site.inProject,
      headers: { cookie: site.engineer.cookies(), accept: 'text/html' },
    });
    expect(page.body).toContain(`data-changes="${site.inProject}/live" data-changes-after="${await head()}"`);
  });
});

describe('a process that stops', () => {
  it('ends its open pages and then closes', async () => {
    const { config } = site.test.deps;
    const deps = compose(config, site.test.deps.prisma);
    const app = await buildApp(deps, testAppSecret);
    const base = await app.listen({ port: 0, host: '127.0.0.1' });
    const stream = await open(site.inspector, await head(), {}, base);
    expect(deps.live.size()).toBe(1);
    await app.close();
    await stream.ended;
    expect(deps.live.size()).toBe(0);
  });
});
