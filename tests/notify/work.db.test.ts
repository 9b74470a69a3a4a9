import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { listTroubled, sendAgain } from '../../src/notify/operator/main.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { startMailServer, type MailServer } from './support/mail-server.ts';
import { readyLetter } from './support/sending.ts';

let database: FreshDatabase;
let mail: MailServer;
const workers: ChildProcess[] = [];

beforeAll(async () => {
  database = await freshDatabase();
});
afterAll(() => database.close());
beforeEach(async () => {
  await database.prisma.letter.deleteMany({});
  await database.prisma.news.deleteMany({});
  mail = await startMailServer();
});
afterEach(async () => {
  await Promise.all(workers.splice(0).map(kill));
  await mail.close();
});

/** One process of the service's workers. */
async function startWorker(): Promise<ChildProcess> {
  const worker = spawn(
    process.execPath,
    ['--import', 'tsx', path.join(import.meta.dirname, 'support/worker.ts')],
    {
      env: { ...process.env, DATABASE_URL: database.url, SMTP_URL: mail.url },
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  workers.push(worker);
  let said = '';
  await new Promise<void>((resolve, reject) => {
    worker.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      if (said.includes('working')) resolve();
    });
    worker.stderr.on('data', (chunk: Buffer) => {
      said += chunk.toString();
    });
    worker.once('exit', () => {
      reject(new Error(`the worker ended:\n${said}`));
    });
  });
  return worker;
}

/** As a power cut does it: no handler runs. */
async function kill(worker: ChildProcess): Promise<void> {
  if (worker.exitCode !== null || worker.signalCode !== null) return;
  const ended = once(worker, 'exit');
  worker.kill('SIGKILL');
  await ended;
}

async function until(what: () => Promise<boolean>): Promise<void> {
  while (!(await what())) await wait(100);
}

const settled = async () => (await database.prisma.letter.count({ where: { settledAt: null } })) === 0;

describe('two processes on one outbox', () => {
  it('send every letter once, through refusals and dropped connections, while one is killed', async () => {
    const letters = [];
    for (let i = 0; i < 30; i += 1) letters.push(await readyLetter(database.prisma));
    mail.meet({ at: 'recipient', code: 451, times: 4 });
    mail.meet({ at: 'letter', code: 452, times: 4 });
    const [one] = await Promise.all([startWorker(), startWorker()]);
    await until(async () => mail.received.length >= 5);
    await kill(one);
    await until(settled);
    const ids = mail.received.map(({ messageId }) => messageId);
    expect(new Set(ids).size).toBe(ids.length);
    const rows = await database.prisma.letter.findMany({ select: { id: true, state: true } });
    // What the killed one was just handing over is sent or unsure; in either case the server has it at most once.
    const sent = rows.filter(({ state }) => state === 'sent').map(({ id }) => id);
    const unsure = rows.filter(({ state }) => state === 'unsure').map(({ id }) => id);
    expect(sent.length + unsure.length).toBe(letters.length);
    for (const id of sent) expect(ids).toContain(`<${id}@record.example.test>`);
    // One process hands over four at a time.
    expect(unsure.length).toBeLessThanOrEqual(4);
  });

  it('one killed before anything left it: another sends it, once', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const reached = mail.ignoreNextRecipient();
    const one = await startWorker();
    await reached;
    expect(await database.prisma.letter.findUnique({ where: { id: letterId } })).toMatchObject({
      state: 'claimed',
    });
    await kill(one);
    await startWorker();
    await until(settled);
    expect(mail.received).toHaveLength(1);
    expect(await database.prisma.letter.findUnique({ where: { id: letterId } })).toMatchObject({
      state: 'sent',
      attempts: 2,
    });
  });

  it('one killed after the server took it and before its answer: unsure, shown to the operator, sent again only by hand', async () => {
    const { letterId } = await readyLetter(database.prisma);
    mail.holdAnswers(new Promise(() => undefined));
    const taken = mail.nextLetter();
    const one = await startWorker();
    await taken;
    await kill(one);
    mail.holdAnswers(null);
    await startWorker();
    await until(settled);
    expect(mail.received).toHaveLength(1);
    const [line, ...more] = await listTroubled(database.prisma);
    expect(more).toEqual([]);
    expect(line).toContain(`${letterId}  unsure`);
    expect(line).toContain('ended before');

    expect(await sendAgain(database.prisma, database.url, letterId)).toBe(true);
    await until(settled);
    expect(mail.received.map(({ messageId }) => messageId)).toEqual([
      `<${letterId}@record.example.test>`,
      `<${letterId}@record.example.test>`,
    ]);
    expect(await listTroubled(database.prisma)).toEqual([]);
    expect(await sendAgain(database.prisma, database.url, letterId)).toBe(false);
  });

  it('makes letters of the lines that wait, without being called', async () => {
    const { letterId, email } = await readyLetter(database.prisma);
    await database.prisma.news.updateMany({ data: { letterId: null } });
    await database.prisma.letter.delete({ where: { id: letterId } });
    await Promise.all([startWorker(), startWorker()]);
    await until(async () => mail.received.length > 0 && (await settled()));
    expect(mail.received.map(({ to }) => to)).toEqual([[email]]);
  });

  it('keeps its jobs in a schema of their own', async () => {
    const schemas = await database.prisma.$queryRaw<{ name: string }[]>`
      SELECT DISTINCT table_schema AS name FROM information_schema.tables
      WHERE table_schema NOT IN ('pg_catalog', 'information_schema') ORDER BY 1`;
    expect(schemas.map(({ name }) => name)).toEqual(['jobs', 'public']);
  });
});
