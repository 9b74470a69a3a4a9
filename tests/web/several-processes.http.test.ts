import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPassword, demoSignIns } from '../../src/demo/people.ts';
import { startObjectStore, type ObjectStoreServer } from '../attachments/support/object-store-server.ts';
import { openStream, type Stream } from '../notify/support/stream.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { startServer, type RunningServer } from '../support/running-server.ts';
import { testPhoto } from '../support/test-files.ts';
import { Visitor } from '../support/visitor.ts';

/**
 * Two processes of the service, one PostgreSQL, one store of files that speaks S3: the main job done across both, a
 * request here and the next one there, while one of them is killed and started again.
 */
let database: FreshDatabase;
let store: ObjectStoreServer;
let folder: string;
let one: RunningServer;
let two: RunningServer;
const people = new Map<string, Visitor>();
const streams: Stream[] = [];
let turn = 0;
/** The other process than last time. */
const next = () => (turn++ % 2 === 0 ? one : two).url;

function environment(): Record<string, string> {
  return {
    DATABASE_URL: database.url,
    COOKIE_SECRET: 'one secret for all processes, long enough',
    DEMO: 'first proposal',
    S3_ENDPOINT: store.endpoint,
    S3_BUCKET: store.bucket,
    S3_REGION: 'eu-west-1',
    S3_ACCESS_KEY_ID: 'test-key',
    S3_SECRET_ACCESS_KEY: 'test-secret',
    MAIL_WAIT_SECONDS: '0',
  };
}
const start = (name: string) => startServer(environment(), path.join(folder, name));

beforeAll(async () => {
  [database, store, folder] = await Promise.all([
    freshDatabase(),
    startObjectStore(),
    mkdtemp(path.join(tmpdir(), 'lintelbook-several-')),
  ]);
  // At the same moment, on a database without a demo: one loads it.
  [one, two] = await Promise.all([start('one'), start('two')]);
}, 240_000);
afterAll(async () => {
  for (const stream of streams) stream.close();
  await Promise.all([one.stop(), two.stop()]);
  await Promise.all([database.close(), store.close(), rm(folder, { recursive: true, force: true })]);
});

async function signIn(role: string): Promise<Visitor> {
  const known = people.get(role);
  if (known !== undefined) return known;
  const visitor = new Visitor();
  const { email } = demoSignIns.find((each) => each.role === role)!;
  const html = await visitor.page(`${next()}/sign-in`);
  const answer = await visitor.submit(next(), html, /^\/sign-in$/, { email, password: demoPassword });
  expect(answer.status).toBe(303);
  people.set(role, visitor);
  return visitor;
}

async function ids() {
  const project = await database.prisma.project.findFirstOrThrow({});
  const opening = await database.prisma.opening.findFirstOrThrow({});
  return {
    inProject: `/projects/${project.id}`,
    inOpening: `/projects/${project.id}/openings/${opening.id}`,
  };
}

/** kill -9, then started again under an address of its own. */
async function killAndRestart(which: 'one' | 'two'): Promise<void> {
  const server = which === 'one' ? one : two;
  process.kill(server.pid, 'SIGKILL');
  while (
    await fetch(server.url).then(
      () => true,
      () => false,
    )
  )
    await wait(50);
  const again = await start(which);
  if (which === 'one') one = again;
  else two = again;
}

async function stream(base: string, role: string): Promise<Stream> {
  const visitor = await signIn(role);
  const { inProject } = await ids();
  const head = await database.prisma.event.count();
  const made = await openStream(`${base}${inProject}/live?after=${head}`, visitor.cookies());
  streams.push(made);
  return made;
}

describe('two processes are one service', () => {
  it('a session made on one holds on the other', async () => {
    const contractor = await signIn('contractor');
    for (const base of [one.url, two.url]) expect((await contractor.get(`${base}/account`)).status).toBe(200);
    expect(await database.prisma.project.count()).toBe(1);
  });

  it('a file sent to one is read from the other, and from a third one started later', async () => {
    const contractor = await signIn('contractor');
    const { inOpening } = await ids();
    const html = await contractor.page(`${two.url}${inOpening}`);
    const photo = { field: 'files', ...(await testPhoto(77)) };
    const answer = await contractor.upload(one.url, html, /\/attachments$/, {}, photo);
    expect(answer.status).toBe(303);
    const { id, projectId } = await database.prisma.attachment.findFirstOrThrow({});
    const read = await contractor.get(`${two.url}/projects/${projectId}/attachments/${id}`);
    expect(read.status).toBe(200);
    expect(Buffer.from(await read.arrayBuffer()).equals(photo.buffer)).toBe(true);
    await killAndRestart('one');
    const again = await contractor.get(`${one.url}/projects/${projectId}/attachments/${id}`);
    expect(Buffer.from(await again.arrayBuffer()).equals(photo.buffer)).toBe(true);
    expect(store.unsigned).toEqual([]);
  }, 240_000);

  it('what happens on one is told to the pages of the other', async () => {
    const onTwo = await stream(two.url, 'contractor');
    const onOne = await stream(one.url, 'contractor');
    const engineer = await signIn('engineer');
    const { inProject } = await ids();
    const beam = await database.prisma.item.findFirstOrThrow({ where: { kind: 'beam' } });
    const html = await engineer.page(`${two.url}${inProject}/items/${beam.id}`);
    const asked = await engineer.submit(one.url, html, /\/questions$/, { text: 'Dry in service?' });
    expect(asked.status).toBe(303);
    await Promise.all([onOne.until(1), onTwo.until(1)]);
    expect(onTwo.changes[0]!.what).toContain('Dry in service?');
    expect(onOne.changes[0]!.id).toBe(onTwo.changes[0]!.id);
  });

  it('the job goes on, a request here and the next there, while one is killed', async () => {
    const engineer = await signIn('engineer');
    const { inProject, inOpening } = await ids();
    const items = await database.prisma.item.findMany({
      where: { kind: { notIn: ['criteria', 'survey', 'service'] } },
      orderBy: { createdAt: 'asc' },
    });
    let restarting: Promise<void> | undefined;
    for (const [index, item] of items.entries()) {
      const bases = () => (restarting === undefined ? next() : two.url);
      const html = await engineer.page(`${bases()}${inProject}/items/${item.id}`);
      const answer = await engineer.submit(bases(), html, /\/marks$/, {
        word: 'approved',
        reason: 'Looked at by hand',
      });
      expect(answer.status).toBe(303);
      if (index === 1) restarting = killAndRestart('one');
    }
    await restarting;
    const marks = await database.prisma.mark.findMany({});
    expect(marks).toHaveLength(items.length);

    const preview = await engineer.page(`${next()}${inOpening}/sets/new`);
    const questions = Object.fromEntries(
      [...preview.matchAll(/name="(question\.[^"]+)"/g)].map(([, name = '']) => [name, 'yes']),
    );
    const issued = await engineer.submit(next(), preview, /\/sets$/, questions);
    expect(issued.status).toBe(303);

    const inspector = await signIn('inspector');
    const checklist = await inspector.page(`${next()}${inOpening}/checklist`);
    const begun = await inspector.submit(next(), checklist, /\/visits$/);
    expect(begun.status).toBe(303);
    const visitPath = new URL(begun.headers.get('location')!, one.url).pathname;
    const visit = await inspector.page(`${next()}${visitPath}`);
    expect(visit).toContain('Visit 1');
    expect(await inspector.page(`${next()}${inProject}/log`)).toContain('issued approved set 1');
  }, 300_000);

  it('every letter was sent once, by whichever process', async () => {
    while (
      (await database.prisma.letter.count({ where: { settledAt: null } })) > 0 ||
      (await database.prisma.news.count({ where: { letterId: null, droppedAt: null } })) > 0
    ) {
      await wait(200);
    }
    expect(await database.prisma.letter.count({ where: { state: { notIn: ['sent', 'unsure'] } } })).toBe(0);
    const told = await database.prisma.news.findMany({});
    expect(new Set(told.map((line) => `${line.seq} ${line.personId}`)).size).toBe(told.length);
    // A job that died with its process is taken up again when its time is over, and the letter's lease after that.
  }, 600_000);

  it('guessing a password is counted over both', async () => {
    const visitor = new Visitor();
    const html = await visitor.page(`${one.url}/sign-in`);
    const guess = (base: string) =>
      visitor.submit(base, html, /^\/sign-in$/, { email: 'owner@demo.example', password: 'a wrong guess' });
    for (const { url } of [one, two, one, two, one]) expect((await guess(url)).status).toBe(422);
    for (const { url } of [one, two]) {
      const answer = await guess(url);
      expect(answer.status).toBe(429);
      expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(0);
    }
  });

  it('one stops while the other has open pages, and ends its own', async () => {
    const open = await stream(two.url, 'inspector');
    const ended = open.ended;
    expect(await two.stop()).toBe(0);
    await ended;
    two = await start('two');
  }, 240_000);
});
