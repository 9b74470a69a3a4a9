import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';

/** The service as a process of its own, always at the same address, to be killed and started again. */
export interface ServiceProcess {
  readonly base: string;
  /** Starts it; resolves when it listens. */
  start: () => Promise<void>;
  /** As a power cut does it to a process: no handler runs. Resolves when it is gone. */
  kill: () => Promise<void>;
  /** Ctrl-C. Resolves with the exit code; null where it was not running. */
  stop: () => Promise<number | null>;
  /** What the running one, or the last one, has printed. */
  output: () => string;
  readonly running: () => boolean;
}

const root = path.resolve(import.meta.dirname, '../../..');

export function serviceProcess(port: number, environment: Readonly<Record<string, string>>): ServiceProcess {
  let child: ChildProcess | null = null;
  let said = '';
  const alive = () => child !== null && child.exitCode === null && child.signalCode === null;

  async function end(signal: 'SIGKILL' | 'SIGINT'): Promise<number | null> {
    if (child === null || !alive()) return null;
    const ended = once(child, 'exit') as Promise<[number | null]>;
    child.kill(signal);
    const [code] = await ended;
    return code;
  }

  return {
    base: `http://127.0.0.1:${port}`,
    running: alive,
    output: () => said,
    async start() {
      said = '';
      const own = spawn(process.execPath, ['--import', 'tsx', 'src/web/server.ts'], {
        cwd: root,
        env: {
          ...process.env,
          NODE_ENV: 'development',
          HOST: '127.0.0.1',
          PORT: String(port),
          RATE_LIMIT: '1000000',
          LOG_LEVEL: 'error',
          ...environment,
        },
        stdio: ['ignore', 'pipe', 'pipe'],
      });
      child = own;
      await new Promise<void>((resolve, reject) => {
        const hear = (chunk: Buffer) => {
          said += chunk.toString();
          if (said.includes('Lintelbook is at')) resolve();
        };
        own.stdout.on('data', hear);
        own.stderr.on('data', hear);
        own.once('exit', (code) => {
          reject(new Error(`the service ended with ${String(code)}:\n${said}`));
        });
      });
    },
    kill: async () => {
      await end('SIGKILL');
    },
    stop: () => end('SIGINT'),
  };
}
