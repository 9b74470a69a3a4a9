import { spawnSync } from 'node:child_process';
import { readFile, readlink, realpath, rm } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { StartProblem } from '../problems.ts';

/** What a running server says about itself in its lock file. */
export interface ServerLock {
  readonly pid: number;
  readonly port: number | undefined;
  /** "starting", "ready", "stopping" or "standby"; undefined very early. */
  readonly status: string | undefined;
}

/** PostgreSQL's lock file, lines as in src/include/utils/pidfile.h: 1 pid, 4 port, 8 status. */
export async function readServerLock(cluster: string): Promise<ServerLock | undefined> {
  let text: string;
  try {
    text = await readFile(join(cluster, 'postmaster.pid'), 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw error;
  }
  const lines = text.split('\n').map((line) => line.trim());
  const pid = Number.parseInt(lines[0] ?? '', 10);
  const port = Number.parseInt(lines[3] ?? '', 10);
  return Number.isInteger(pid)
    ? { pid, port: Number.isInteger(port) ? port : undefined, status: lines[7] === '' ? undefined : lines[7] }
    : undefined;
}

/** How long a server that has lost its owner may take to leave. */
const LEAVING_MS = 10_000;
const GRACE_MS = 750;

/**
 * Clears the way for a start: leaves a dead server's lock to PostgreSQL, which recovers from it; removes
 * a lock whose number now belongs to some other program; waits for a server that is just stopping.
 *
 * @throws StartProblem when a live server holds the cluster.
 */
export async function clearServerLock(cluster: string): Promise<void> {
  const begun = performance.now();
  for (;;) {
    const lock = await readServerLock(cluster);
    if (lock === undefined || !processIsAlive(lock.pid)) return;
    if (!(await servesCluster(lock.pid, cluster))) {
      // PostgreSQL would take the number's new owner for a live server and refuse to start. Should parts
      // of the old server have survived, its shared memory check still keeps a second one out.
      await rm(join(cluster, 'postmaster.pid'), { force: true });
      return;
    }
    const patience = lock.status === 'stopping' ? LEAVING_MS : GRACE_MS;
    if (performance.now() - begun > patience) {
      throw new StartProblem(
        `Another copy of the program already uses the database in ${cluster} (process ${lock.pid}).`,
        `Stop that copy first (Ctrl-C in its terminal, or "kill -INT ${lock.pid}"), or set DATA_DIR to another folder.`,
      );
    }
    await wait(50);
  }
}

/** Whether a process of this number exists, whoever owns it. */
export function processIsAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Whether that process is the server of this cluster; in doubt, yes. */
async function servesCluster(pid: number, cluster: string): Promise<boolean> {
  if (existsSync('/proc/self/cwd')) {
    try {
      // The server makes its data directory its working directory.
      return (await readlink(`/proc/${pid}/cwd`)) === (await realpath(cluster));
    } catch (error) {
      return (error as NodeJS.ErrnoException).code !== 'ENOENT';
    }
  }
  const listed = spawnSync('ps', ['-p', String(pid), '-o', 'command='], { encoding: 'utf8' });
  return listed.status !== 0 || listed.stdout.includes(cluster);
}
