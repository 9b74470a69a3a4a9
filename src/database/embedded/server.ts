import { spawn, type ChildProcess } from 'node:child_process';
import { createServer, Socket } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { StartProblem } from '../problems.ts';
import { serverEnvironment } from './cluster.ts';
import { readServerLock } from './lock.ts';
import type { Placement } from './placement.ts';

/** A running PostgreSQL server process. */
export interface ServerProcess {
  readonly port: number;
  /** Resolves when the process has ended, for whatever reason, with its last words. */
  readonly ended: Promise<string>;
  /** Shuts down cleanly; resolves when nothing is left. */
  stop(): Promise<void>;
}

/** Recovery after a crash replays the log since the last checkpoint; give it time. */
const START_LIMIT_MS = 120_000;
const START_ATTEMPTS = 6;

/**
 * Starts the server on the port asked for, or on a free one when it is taken or none is asked for.
 *
 * @throws StartProblem with the server's own words when it does not come up.
 */
export async function startServer(
  placement: Placement,
  settings: Readonly<Record<string, string>>,
  port: number | undefined,
): Promise<ServerProcess> {
  let lastWords = '';
  for (let attempt = 0; attempt < START_ATTEMPTS; attempt += 1) {
    const usedPort =
      attempt === 0 && port !== undefined && (await portIsFree(port)) ? port : await freePort();
    const server = launch(placement, settings, usedPort);
    const outcome = await Promise.race([server.ended, becomesReady(placement, server)]);
    if (outcome === READY) return server;
    if (outcome === TOO_LATE) {
      await server.stop();
      throw new StartProblem(
        'PostgreSQL did not become ready in time.',
        'Try again; see the disk and the load of the machine.',
      );
    }
    lastWords = outcome;
    // Another program may have taken the port since it was found free; the parts of a server whose main
    // process was killed take a moment to notice.
    const passing = /Address already in use|pre-existing shared memory block/i;
    if (!passing.test(lastWords)) break;
    await wait(200 * attempt);
  }
  if (lastWords.includes('lock file "postmaster.pid" already exists')) {
    throw new StartProblem(
      `Another copy of the program already uses the database in ${placement.cluster}.`,
      'Stop that copy first, or set DATA_DIR to another folder.',
      lastWords,
    );
  }
  throw new StartProblem(
    `PostgreSQL did not start: ${shorten(lastWords)}`,
    `Its files are in ${placement.cluster}.`,
    lastWords,
  );
}

const READY = Symbol('ready');
const TOO_LATE = Symbol('too late');

/** Reads the lock file as pg_ctl does: the port may answer, and yet be another server's. */
async function becomesReady(placement: Placement, server: Launched): Promise<typeof READY | typeof TOO_LATE> {
  const begun = performance.now();
  const ended = new AbortController();
  void server.ended.then(() => {
    ended.abort();
  });
  while (!ended.signal.aborted && performance.now() - begun < START_LIMIT_MS) {
    const lock = await readServerLock(placement.cluster);
    if (lock?.pid === server.pid && lock?.status === 'ready') return READY;
    await wait(20);
  }
  return TOO_LATE;
}

type Launched = ServerProcess & { readonly pid: number | undefined };

/**
 * A process group of its own: Ctrl-C in a terminal reaches every process of the foreground group, and the
 * server must outlive the service's last requests. In exchange a guard, holding nothing but the read end
 * of a pipe, stops the server when this process ends without having done so, be it by SIGKILL.
 */
function launch(
  { account, binaries, cluster }: Placement,
  settings: Readonly<Record<string, string>>,
  port: number,
): Launched {
  const options = Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`]);
  const child = spawn(binaries.postgres, ['-D', cluster, '-p', String(port), ...options], {
    ...account,
    cwd: '/',
    env: serverEnvironment(),
    detached: true,
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  let words = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    words = (words + text).slice(-8_000);
  });
  const ended = new Promise<string>((done) => {
    child.on('error', (error) => {
      done(`FATAL: ${error.message}`);
    });
    child.on('close', () => {
      done(words);
    });
  });
  if (child.pid === undefined)
    return { port, ended, pid: undefined, stop: () => ended.then(() => undefined) };

  const guard = spawn('/bin/sh', ['-c', GUARD, 'guard', String(child.pid), cluster], {
    ...account,
    cwd: '/',
    detached: true,
    stdio: ['pipe', 'ignore', 'ignore'],
  });
  guard.on('error', () => undefined);
  guard.stdin.on('error', () => undefined);
  void ended.then(() => guard.stdin.end());

  // A forgotten stop() must not keep the process alive: once it ends, the guard acts.
  child.unref();
  guard.unref();
  unreferenceStream(child.stderr);
  unreferenceStream(guard.stdin);
  return { port, ended, pid: child.pid, stop: () => stop(child, ended) };
}

/** The lock file is compared, so that the number of a server long gone hits nobody else. */
const GUARD = [
  'read -r line',
  'read -r pid < "$2/postmaster.pid" || exit 0',
  '[ "$pid" = "$1" ] && kill -INT "$pid"',
].join('\n');

async function stop(child: ChildProcess, ended: Promise<string>): Promise<void> {
  child.ref();
  // SIGINT: fast shutdown, open transactions are rolled back. SIGQUIT: immediate, the next start recovers.
  for (const signal of ['SIGINT', 'SIGQUIT', 'SIGKILL'] as const) {
    if (child.exitCode === null && child.signalCode === null) child.kill(signal);
    const limit = new AbortController();
    const done = await Promise.race([
      ended.then(() => true),
      wait(15_000, false, { signal: limit.signal }).catch(() => false),
    ]);
    limit.abort();
    if (done) return;
  }
}

/** Child pipes are sockets, though their type does not say so. */
function unreferenceStream(stream: unknown): void {
  if (stream instanceof Socket) stream.unref();
}

/** Whether this port can be opened on the loopback address right now. */
export async function portIsFree(port: number): Promise<boolean> {
  return (await tryPort(port)) !== undefined;
}

async function freePort(): Promise<number> {
  const port = await tryPort(0);
  if (port === undefined) {
    throw new StartProblem(
      'No free network port was found on 127.0.0.1.',
      'Close other programs and try again.',
    );
  }
  return port;
}

async function tryPort(port: number): Promise<number | undefined> {
  const server = createServer();
  return new Promise((done) => {
    server.on('error', () => {
      done(undefined);
    });
    server.listen({ port, host: '127.0.0.1', exclusive: true }, () => {
      const address = server.address();
      server.close(() => {
        done(typeof address === 'object' && address !== null ? address.port : undefined);
      });
    });
  });
}

function shorten(words: string): string {
  const lines = words.trim().split('\n');
  const line = lines.findLast((text) => /FATAL|PANIC/.test(text)) ?? lines.at(-1) ?? 'it said nothing';
  return line.replace(/^.*?(FATAL|PANIC):\s*/, '');
}
