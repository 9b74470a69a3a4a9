import { fork, type ChildProcess } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';

export interface ChildLimits {
  /** Of work; waiting for a busy machine does not count, up to six times as much. */
  readonly timeMs: number;
  readonly memoryBytes: number;
}

const WATCH_MS = 100;
const PATIENCE = 6;
/** The kernel counts a process's time in hundredths of a second (proc(5), sysconf(_SC_CLK_TCK)). */
const TICK_MS = 10;

/**
 * Runs one task on a stranger's file in a process of its own, killed at its limits and in any case at the end. A thread
 * would share the service's memory: what a canvas and a decoder take lies outside of the heap that a thread can be
 * limited to, and a fault in them would end the service.
 *
 * @param script the module the process runs, as the URL of the file
 */
export async function inBoundedChild<Answer>(
  script: URL,
  limits: ChildLimits,
  conversation: (child: ChildProcess) => Promise<Answer>,
): Promise<Answer> {
  const child = fork(fileURLToPath(script), {
    execArgv: ['--import', import.meta.resolve('tsx'), '--max-old-space-size=512'],
    serialization: 'advanced',
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    // None of the service's secrets.
    env: { PATH: process.env.PATH ?? '', NODE_ENV: 'production' },
  });
  const overTime = setTimeout(() => child.kill('SIGKILL'), limits.timeMs * PATIENCE);
  const watch = setInterval(() => void killOver(child, limits), WATCH_MS);
  try {
    return await conversation(child);
  } finally {
    clearTimeout(overTime);
    clearInterval(watch);
    child.kill('SIGKILL');
  }
}

/** Linux says how much a process holds and has worked; elsewhere the heap's limit and the clock are what there is. */
async function killOver(child: ChildProcess, limits: ChildLimits): Promise<void> {
  if (process.platform !== 'linux' || child.pid === undefined || child.exitCode !== null) return;
  const status = await readFile(`/proc/${child.pid}/status`, 'utf8').catch(() => '');
  const held = Number(/VmRSS:\s+(\d+) kB/.exec(status)?.[1] ?? 0) * 1024;
  // After the name in brackets, which may hold anything, utime and stime are the 12th and 13th (proc(5)).
  const stat = await readFile(`/proc/${child.pid}/stat`, 'utf8').catch(() => '');
  const [user = '0', system = '0'] = stat
    .slice(stat.lastIndexOf(')') + 2)
    .split(' ')
    .slice(11, 13);
  const workedMs = (Number(user) + Number(system)) * TICK_MS;
  if (held > limits.memoryBytes || workedMs > limits.timeMs) child.kill('SIGKILL');
}
