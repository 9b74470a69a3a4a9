import { createHmac } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeWebhook } from '../../src/api/webhooks/service.ts';
import type { TellableKind } from '../../src/api/webhooks/rules.ts';
import { webhookWork } from '../../src/api/webhooks/work.ts';
import { startMailWork, type MailWork } from '../../src/notify/jobs/mail-jobs.ts';
import { removeMember } from '../../src/people/memberships/service.ts';
import { askQuestion } from '../../src/record/questions/service.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { sendDeps } from '../notify/support/sending.ts';
import { testAppSecret } from '../support/app.ts';
import { startReceiver, type Receiver } from './support/receiver.ts';

/** From an event of the record to a program outside, over the workers of the outbox, through refusals. */
let site: Site;
let receiver: Receiver;
let work: MailWork;
const ways = { plainHttp: true, privateAddresses: true };

beforeAll(async () => {
  site = await buildSite();
  receiver = await startReceiver();
  const { prisma, clock } = site.test.deps;
  work = await startMailWork(
    {
      ...sendDeps(prisma, 'smtp://127.0.0.1:1'),
      others: [
        webhookWork(
          { prisma, clock, secret: testAppSecret, ways, told: () => undefined },
          { attempts: 3, leaseMs: 20_000 },
        ),
      ],
      tell: { settled: () => undefined, later: () => undefined, failed: () => undefined },
    },
    {
      databaseUrl: site.test.databaseUrl,
      gather: { waitMs: 0, dailyHour: 6 },
      pollMs: 200,
      sweepMs: 500,
      jobSeconds: 30,
      maintenanceSeconds: 1,
      retrySeconds: 1,
    },
  );
});
afterAll(async () => {
  await work.close();
  await receiver.close();
  await site.test.close();
});

const made = (kinds: readonly TellableKind[], url = receiver.url, actor = builder()) =>
  makeWebhook({ ...site.test.deps, ways, secret: testAppSecret }, actor, { url, kinds });
const builder = () => site.actor(site.contractor, 'contractor');
const ask = (text: string) => askQuestion(site.test.deps, builder(), { itemId: site.items.Beam!, text });
const calls = (webhookId: string) =>
  site.test.deps.prisma.webhookCall.findMany({ where: { webhookId }, orderBy: { seq: 'asc' } });
async function until(what: () => Promise<boolean>): Promise<void> {
  while (!(await what())) await wait(100);
}
const settled = (webhookId: string) => async () =>
  (await calls(webhookId)).every((call) => call.settledAt !== null);

describe('a webhook', () => {
  it('tells what it was made for, signed, through failures, each try under one id, and no contents', async () => {
    const { webhookId, secret } = await made(['question.asked']);
    receiver.answer(500, 503);
    await ask('Does the post land on the footing, privately?');
    await site.change('Beam', { ...(await beamContent()), bearingLeftIn: 5 });
    await until(settled(webhookId));

    expect(receiver.received.map((one) => one.answered)).toEqual([500, 503, 200]);
    const [call] = await calls(webhookId);
    expect(call).toMatchObject({ state: 'taken', attempts: 3 });
    for (const { headers, body } of receiver.received) {
      expect(headers['lintelbook-call']).toBe(call!.id);
      // As a receiver would do it, by the words of the page.
      const signed = `${String(headers['lintelbook-timestamp'])}.${body}`;
      expect(headers['lintelbook-signature']).toBe(createHmac('sha256', secret).update(signed).digest('hex'));
      expect(Math.abs(Date.now() / 1000 - Number(headers['lintelbook-timestamp']))).toBeLessThan(300);
      expect(body).not.toContain('privately');
    }
    const told = JSON.parse(receiver.received.at(-1)!.body) as Record<string, unknown>;
    expect(Object.keys(told).sort()).toEqual(['about', 'at', 'id', 'kind', 'projectId', 'seq']);
    expect(told).toMatchObject({ id: call!.id, kind: 'question.asked', projectId: site.projectId });
    expect((told.about as Record<string, string>).itemId).toBe(site.items.Beam);
    await end(webhookId);
  });

  it('gives up after some tries, says so to whoever runs it, and sends it again under the same id', async () => {
    const { webhookId } = await made(['question.asked']);
    const before = receiver.received.length;
    receiver.answer(500, 500, 500);
    await ask('Once more?');
    await until(settled(webhookId));
    const [call] = await calls(webhookId);
    expect(call).toMatchObject({ state: 'given_up', attempts: 3, problem: 'It answered 500.' });

    const page = await site.engineer.get(`${site.inProject}/webhooks`);
    expect(page.body).toContain('not taken, given up');
    expect(page.body).toContain('It answered 500.');
    const again = `${site.inProject}/webhook-calls/${call!.id}/again`;
    expect((await site.inspector.post(again)).statusCode).toBe(403);
    expect((await site.engineer.post(again)).statusCode).toBe(303);
    await until(settled(webhookId));
    expect((await calls(webhookId))[0]).toMatchObject({ state: 'taken', round: 2 });
    const ids = receiver.received.slice(before).map((one) => one.headers['lintelbook-call']);
    expect(ids).toEqual(Array(4).fill(call!.id));
    expect((await site.engineer.post(again)).statusCode).toBe(422);
    await end(webhookId);
  });

  it('is told nothing more once it has ended, or whoever made it is out of the project', async () => {
    const guest = await site.test.person('Gu Est');
    await site.test.join(guest, site.projectId, 'engineer');
    const theirs = await made(['question.asked'], receiver.url, site.actor(guest, 'engineer'));
    const { prisma } = site.test.deps;
    const membership = await prisma.membership.findFirstOrThrow({ where: { personId: guest.personId } });
    await removeMember(site.test.deps, builder(), { membershipId: membership.id });
    const before = receiver.received.length;
    await ask('And now?');
    await until(settled(theirs.webhookId));
    expect((await calls(theirs.webhookId))[0]?.state).toBe('dropped');
    await end(theirs.webhookId);
    await ask('And then?');
    expect(await calls(theirs.webhookId)).toHaveLength(1);
    expect(receiver.received).toHaveLength(before);
  });

  it('is not there for an event that is undone', async () => {
    const { webhookId } = await made(['question.asked']);
    await expect(ask(' ')).rejects.toThrow();
    expect(await calls(webhookId)).toEqual([]);
    await end(webhookId);
  });
});

describe('the page of webhooks', () => {
  const page = () => `${site.inProject}/webhooks`;

  it('makes one, shows its secret once, keeps it sealed, and leaves a line in the log', async () => {
    const response = await site.contractor.post(page(), {
      url: 'https://example.org/told?key=abc',
      kinds: 'set.issued',
    });
    expect(response.statusCode).toBe(200);
    const secret = /id="new-secret"[^>]*value="([\w-]{43})"/.exec(response.body)?.[1] ?? '';
    expect(secret).not.toBe('');
    expect((await site.contractor.get(page())).body).not.toContain(secret);
    const rows = await site.test.deps.prisma.webhook.findMany({ where: { endedAt: null } });
    expect(JSON.stringify(rows)).not.toContain(secret);
    const log = await site.contractor.get(`${site.inProject}/log`);
    expect(log.body).toContain('has example.org told of what happens');
    expect(log.body).not.toContain('key=abc');
    expect(await verifyProject(site.test.deps.prisma, site.projectId)).toMatchObject({ broken: null });
  });

  it.each([
    ['http://example.org/', 'The address must begin with https://.'],
    ['https://127.0.0.1/', 'That address does not lead to the open network.'],
    ['', 'Enter an address'],
  ])('refuses “%s” at its box and keeps what was typed', async (url, words) => {
    const response = await site.contractor.post(page(), { url, kinds: 'set.issued' });
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain(words);
    expect(response.body).toMatch(/value="set\.issued" checked/);
  });

  it('asks what it is to be told of', async () => {
    const response = await site.contractor.post(page(), { url: 'https://example.org/' });
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('Choose what it is told of.');
  });

  it('ends one of the own project and of no other', async () => {
    const { webhookId } = await made(['set.issued']);
    const stranger = await site.test.person('Stranger');
    expect((await stranger.post(`${page()}/${webhookId}/end`)).statusCode).toBe(404);
    expect((await site.owner.post(`${page()}/${webhookId}/end`)).statusCode).toBe(403);
    expect((await site.engineer.post(`${page()}/${webhookId}/end`)).statusCode).toBe(303);
    expect((await site.engineer.post(`${page()}/${webhookId}/end`)).statusCode).toBe(404);
  });
});

async function end(webhookId: string): Promise<void> {
  const response = await site.contractor.post(`${site.inProject}/webhooks/${webhookId}/end`);
  expect(response.statusCode).toBe(303);
}

async function beamContent(): Promise<object> {
  const version = await site.test.deps.prisma.version.findFirstOrThrow({
    where: { itemId: site.items.Beam! },
    orderBy: { number: 'desc' },
  });
  return JSON.parse(version.content) as object;
}
