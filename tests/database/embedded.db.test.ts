import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import {
  access,
  chmod,
  chown,
  mkdir,
  mkdtemp,
  readFile,
  readdir,
  rm,
  stat,
  writeFile,
} from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { startEmbeddedPostgres, type EmbeddedPostgres } from '../../src/database/embedded.ts';
import { processIsAlive, readServerLock } from '../../src/database/embedded/lock.ts';
import { StartProblem } from '../../src/database/problems.ts';
import { asAdmin } from '../support/test-server.ts';

const asRoot = process.getuid?.() === 0;
let base = '';
let dataFolder = '';
let count = 0;
const running = new Set<EmbeddedPostgres>();
const holders = new Set<ChildProcess>();

beforeAll(async () => {
  base = await mkdtemp(join(tmpdir(), 'lintelbook-embedded-'));
  await chmod(base, 0o755);
});
beforeEach(() => {
  count += 1;
  dataFolder = join(base, `data-${count}`);
});
afterEach(async () => {
  for (const server of running) await server.stop();
  running.clear();
  for (const holder of holders) holder.kill('SIGKILL');
  holders.clear();
});
afterAll(async () => {
  await rm(base, { recursive: true, force: true });
});

async function start(
  more: Partial<Parameters<typeof startEmbeddedPostgres>[0]> = {},
): Promise<EmbeddedPostgres> {
  const server = await startEmbeddedPostgres({
    dataFolder,
    durable: false,
    fallbackParent: join(base, 'fallback'),
    log: () => undefined,
    ...more,
  });
  running.add(server);
  return server;
}

async function problemOf(work: Promise<unknown>): Promise<StartProblem> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(StartProblem);
  return error as StartProblem;
}

async function ask(server: { url: string }, sql: string): Promise<Record<string, unknown>[]> {
  return asAdmin(server.url, async (client) => (await client.query<Record<string, unknown>>(sql)).rows);
}

/** Starts a server from another process; gives what that process prints: a URL or a sentence. */
async function launchHolder(
  account: { uid?: number; gid?: number } = {},
): Promise<{ holder: ChildProcess; said: string }> {
  const program = fileURLToPath(new URL('hold-embedded.ts', import.meta.url));
  const holder = spawn(process.execPath, ['--import', 'tsx', program, dataFolder, join(base, 'fallback')], {
    ...account,
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, HOME: base },
  });
  holders.add(holder);
  const said = await Promise.race([
    once(holder.stdout, 'data').then(([line]) => String(line).trim()),
    once(holder, 'exit').then(([code]) => Promise.reject(new Error(`the holder ended with ${String(code)}`))),
  ]);
  return { holder, said };
}

async function hold(account?: {
  uid: number;
  gid: number;
}): Promise<{ holder: ChildProcess; url: string; serverPid: number }> {
  const { holder, said } = await launchHolder(account);
  expect(said).toMatch(/^postgresql:/);
  return { holder, url: said, serverPid: await serverPid() };
}

async function serverPid(): Promise<number> {
  const lock = await readServerLock(join(dataFolder, 'cluster'));
  return lock!.pid;
}

async function waitUntilGone(pid: number): Promise<void> {
  while (processIsAlive(pid)) await wait(20);
}

test('starts, keeps its data over a restart, and leaves no process', async () => {
  const first = await start();
  await ask(first, 'CREATE TABLE kept (n int); INSERT INTO kept VALUES (7)');
  const pid = await serverPid();
  await first.stop();
  await first.stop();
  expect(processIsAlive(pid)).toBe(false);
  const second = await start();
  expect(await ask(second, 'SELECT n FROM kept')).toEqual([{ n: 7 }]);
});

test('the password is random, needed, and readable by its owner alone; only loopback is served', async () => {
  const server = await start();
  const kept = join(dataFolder, 'cluster', 'lintelbook.password');
  const password = new URL(server.url).password;
  expect((await readFile(kept, 'utf8')).trim()).toBe(password);
  expect(password.length).toBeGreaterThanOrEqual(32);
  expect((await stat(kept)).mode & 0o777).toBe(0o600);
  expect((await stat(join(dataFolder, 'cluster'))).mode & 0o077).toBe(0);
  const without = new URL(server.url);
  without.password = 'guess';
  await expect(ask({ url: without.href }, 'SELECT 1')).rejects.toMatchObject({ code: '28P01' });
  expect(await ask(server, "SELECT current_setting('listen_addresses') AS a")).toEqual([{ a: '127.0.0.1' }]);
});

test('data is safe on power loss unless that was given up', async () => {
  const settings = `SELECT current_setting('fsync') AS fsync, current_setting('synchronous_commit') AS commit,
                           current_setting('full_page_writes') AS pages`;
  const quick = await start();
  expect(await ask(quick, settings)).toEqual([{ fsync: 'off', commit: 'off', pages: 'off' }]);
  await quick.stop();
  const safe = await start({ durable: true });
  expect(await ask(safe, settings)).toEqual([{ fsync: 'on', commit: 'on', pages: 'on' }]);
});

test('a taken port is avoided, a free one kept', async () => {
  const squatter = createServer().listen(0, '127.0.0.1');
  await once(squatter, 'listening');
  const { port } = squatter.address() as { port: number };
  const elsewhere = await start({ port });
  expect(elsewhere.port).not.toBe(port);
  await elsewhere.stop();
  squatter.close();
  await once(squatter, 'close');
  expect((await start({ port })).port).toBe(port);
});

test('two first starts at the same moment: one server, one clear refusal', async () => {
  const said = (await Promise.all([launchHolder(), launchHolder()])).map((holder) => holder.said);
  const [refusal, url] = said.sort();
  expect(refusal).toMatch(/^Another copy of the program already uses the database/);
  expect(await ask({ url: url! }, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
  expect(await readdir(dataFolder)).toEqual(['cluster']);
});

describe('the lock', () => {
  test('of a live server is respected, in one sentence', async () => {
    const { serverPid: pid, url } = await hold();
    const problem = await problemOf(start());
    expect(problem.sentence).toBe(
      `Another copy of the program already uses the database in ${join(dataFolder, 'cluster')} (process ${pid}).`,
    );
    expect(await ask({ url }, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
  });

  test('of a server that was killed is recovered from, at once and with its data', async () => {
    const first = await start({ durable: true });
    await ask(first, 'CREATE TABLE kept (n int); INSERT INTO kept VALUES (7)');
    const pid = await serverPid();
    process.kill(pid, 'SIGKILL');
    await waitUntilGone(pid);
    expect(await ask(await start({ durable: true }), 'SELECT n FROM kept')).toEqual([{ n: 7 }]);
  });

  test('whose number belongs to another program now is recovered from', async () => {
    const first = await start();
    const lockFile = join(dataFolder, 'cluster', 'postmaster.pid');
    const lines = (await readFile(lockFile, 'utf8')).split('\n');
    await first.stop();
    const other = spawn('sleep', ['60'], { cwd: '/' });
    try {
      await writeFile(lockFile, [String(other.pid), ...lines.slice(1)].join('\n'));
      expect(await ask(await start(), 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
      expect(other.exitCode).toBeNull();
    } finally {
      other.kill();
    }
  });
});

describe('the end of the owning process', () => {
  test.each(['SIGINT', 'SIGTERM', 'SIGKILL'] as const)('by %s leaves no server', async (signal) => {
    const { holder, serverPid: pid } = await hold();
    holder.kill(signal);
    await once(holder, 'exit');
    await waitUntilGone(pid);
    // And it went cleanly: the lock file is gone with it.
    await expect(access(join(dataFolder, 'cluster', 'postmaster.pid'))).rejects.toThrow('ENOENT');
  });

  test('an unexpected end of the server is reported', async () => {
    const told = new Promise<StartProblem>((done) => {
      void start({ onUnexpectedEnd: done }).then(async () => {
        process.kill(await serverPid(), 'SIGINT');
      });
    });
    expect((await told).sentence).toBe('The built-in PostgreSQL ended unexpectedly.');
  });
});

describe('folders that cannot be used', () => {
  test('a cluster of another major version', async () => {
    await (await start()).stop();
    await writeFile(join(dataFolder, 'cluster', 'PG_VERSION'), '13\n');
    expect((await problemOf(start())).sentence).toContain('was made by PostgreSQL 13');
  });

  test('something else in its place', async () => {
    await mkdir(join(dataFolder, 'cluster'), { recursive: true });
    expect((await problemOf(start())).sentence).toContain('holds no database of this program');
  });

  test('a file in its place', async () => {
    await writeFile(dataFolder, '');
    expect((await problemOf(start())).sentence).toContain('cannot be used by this user');
  });

  test('what a start that was cut short left is cleared away', async () => {
    await mkdir(join(dataFolder, 'cluster.new-999999999'), { recursive: true });
    await start();
    expect(await readdir(dataFolder)).toEqual(['cluster']);
  });
});

describe.runIf(asRoot)('started by root', () => {
  test('the server runs under another account', async () => {
    await start();
    expect((await stat(`/proc/${await serverPid()}`)).uid).not.toBe(0);
  });

  test('a folder its account cannot reach: the data goes elsewhere, says so, and stays there', async () => {
    const closed = join(base, 'closed');
    await mkdir(closed, { mode: 0o700 });
    dataFolder = join(closed, 'data');
    const lines: string[] = [];
    const log = (line: string): void => void lines.push(line);
    const first = await start({ log });
    expect(lines.join()).toContain(`the database is in ${join(base, 'fallback')}`);
    await ask(first, 'CREATE TABLE kept (n int)');
    await first.stop();
    await chmod(closed, 0o755);
    expect(await ask(await start(), 'SELECT * FROM kept')).toEqual([]);
  });

  test("an ordinary user's cluster is opened under that user", async () => {
    const nobody = { uid: 65_534, gid: 65_534 };
    await mkdir(dataFolder);
    await chown(dataFolder, nobody.uid, nobody.gid);
    const { holder, serverPid: pid } = await hold(nobody);
    expect((await stat(`/proc/${pid}`)).uid).toBe(nobody.uid);
    holder.kill();
    await waitUntilGone(pid);
    await start();
    expect((await stat(`/proc/${await serverPid()}`)).uid).toBe(nobody.uid);
  });
});
