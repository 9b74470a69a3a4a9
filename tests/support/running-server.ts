import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';

export interface RunningServer {
  readonly url: string;
  /** The service's own process. */
  readonly pid: number;
  readonly output: () => string;
  /** Ctrl-C; resolves with the exit code once nothing of it is left. */
  stop(): Promise<number | null>;
}

export async function freePort(): Promise<number> {
  const probe = createServer();
  probe.listen(0, '127.0.0.1');
  await once(probe, 'listening');
  const address = probe.address();
  probe.close();
  await once(probe, 'close');
  if (typeof address !== 'object' || address === null) throw new Error('no port');
  return address.port;
}

/** Starts `scripts/run`, as a stranger would, in a data folder of its own, and waits for its address. */
export async function startServer(
  environment: Readonly<Record<string, string>> = {},
  dataFolder?: string,
): Promise<RunningServer> {
  const own = dataFolder === undefined ? await mkdtemp(path.join(tmpdir(), 'lintelbook-run-')) : null;
  const port = await freePort();
  const child = spawn('scripts/run', {
    cwd: path.resolve(import.meta.dirname, '../..'),
    env: {
      ...process.env,
      NODE_ENV: 'development',
      PORT: String(port),
      DATA_DIR: dataFolder ?? own ?? '',
      RATE_LIMIT: '100000',
      LOG_LEVEL: 'warn',
      ...environment,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  const ready = new Promise<string>((resolve, reject) => {
    const read = (chunk: Buffer) => {
      output += chunk.toString();
      const found = /Lintelbook is at (\S+)/.exec(output);
      if (found?.[1] !== undefined) resolve(found[1]);
    };
    child.stdout.on('data', read);
    child.stderr.on('data', read);
    child.once('exit', (code) => {
      reject(new Error(`scripts/run ended with ${String(code)}:\n${output}`));
    });
  });
  const url = await ready;
  return {
    url,
    // The script ends in `exec`, so that its process is the service's.
    pid: child.pid ?? 0,
    output: () => output,
    async stop() {
      const ended = once(child, 'exit') as Promise<[number | null]>;
      child.kill('SIGINT');
      const [code] = await ended;
      if (own !== null) await rm(own, { recursive: true, force: true });
      return code;
    },
  };
}
