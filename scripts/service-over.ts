import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { freePort } from '../tests/support/running-server.ts';

interface ServiceOptions {
  readonly nodeOptions?: readonly string[];
  /** As the environment says it: how much of the demo is told where it is not there yet. */
  readonly demo?: string;
}

/** A process of the service over a database that is there already, for a bench. */
export async function startOver(
  databaseUrl: string,
  dataFolder: string,
  { nodeOptions = [], demo = 'true' }: ServiceOptions = {},
): Promise<{ base: string; process: ChildProcess; stop: () => Promise<void> }> {
  const port = await freePort();
  const service = spawn(process.execPath, [...nodeOptions, '--import', 'tsx', 'src/web/server.ts'], {
    cwd: path.resolve(import.meta.dirname, '..'),
    env: {
      ...process.env,
      NODE_ENV: 'production',
      DATABASE_URL: databaseUrl,
      DATA_DIR: dataFolder,
      PORT: String(port),
      DEMO: demo,
      RATE_LIMIT: '1000000',
      LOG_LEVEL: 'error',
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await new Promise<void>((resolve, reject) => {
    service.stdout.on('data', (chunk: Buffer) => {
      if (chunk.toString().includes('Lintelbook is at')) resolve();
    });
    service.once('exit', () => {
      reject(new Error('the service did not start'));
    });
  });
  return {
    base: `http://localhost:${port}`,
    process: service,
    async stop() {
      service.kill('SIGINT');
      if (service.exitCode === null) await once(service, 'exit');
    },
  };
}
