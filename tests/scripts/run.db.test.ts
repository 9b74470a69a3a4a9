import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPassword, demoSignIns } from '../../src/demo/people.ts';
import { startServer } from '../support/running-server.ts';

/** What a stranger meets at the terminal: each trouble is one clear sentence and what to do. */
let dataFolder: string;
beforeAll(async () => {
  dataFolder = await mkdtemp(path.join(tmpdir(), 'lintelbook-start-'));
});
afterAll(() => rm(dataFolder, { recursive: true, force: true }));

async function runToEnd(
  environment: Readonly<Record<string, string>>,
): Promise<{ code: number | null; said: string }> {
  const child = spawn('scripts/run', {
    cwd: path.resolve(import.meta.dirname, '../..'),
    env: { ...process.env, DATA_DIR: dataFolder, LOG_LEVEL: 'silent', ...environment },
  });
  let said = '';
  child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()));
  child.stderr.on('data', (chunk: Buffer) => (said += chunk.toString()));
  const [code] = (await once(child, 'exit')) as [number | null];
  return { code, said };
}

describe('scripts/run', () => {
  it('starts with nothing, prints address and sign-ins, stops on Ctrl-C, and starts again on the same data', async () => {
    const first = await startServer({}, dataFolder);
    expect((await fetch(`${first.url}/health`)).status).toBe(200);
    for (const one of demoSignIns) expect(first.output()).toContain(one.email);
    expect(first.output()).toContain(demoPassword);
    expect(await first.stop()).toBe(0);
    await expect(fetch(first.url)).rejects.toThrow();
    const second = await startServer({}, dataFolder);
    expect(await (await fetch(`${second.url}/sign-in`)).text()).toContain('Try the demo');
    expect(await second.stop()).toBe(0);
  }, 180_000);

  it('names a taken port and the way out', async () => {
    const taken = createServer();
    taken.listen(0, '127.0.0.1');
    await once(taken, 'listening');
    const address = taken.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    const { code, said } = await runToEnd({ PORT: String(port) });
    taken.close();
    expect(code).toBe(1);
    expect(said).toContain(`Port ${port} is taken by another program.`);
    expect(said).toContain(`PORT=${port + 1} scripts/run`);
    expect(said).not.toContain('at Server');
  }, 120_000);

  it.each([
    ['not a url', 'cannot be read as a URL'],
    ['mysql://root@localhost/x', 'only PostgreSQL is supported'],
    ['postgresql://nobody@127.0.0.1:1/none', '127.0.0.1:1'],
  ])(
    'says what is wrong with the database URL %s',
    async (url, words) => {
      const { code, said } = await runToEnd({ DATABASE_URL: url });
      expect(code).toBe(1);
      expect(said).toContain(words);
      expect(said).not.toMatch(/\n\s+at /);
    },
    60_000,
  );

  it('names each bad variable and repeats no value', async () => {
    const { code, said } = await runToEnd({ PORT: 'secret-port', COOKIE_SECRET: 'short-secret' });
    expect(code).toBe(1);
    expect(said).toContain('PORT:');
    expect(said).toContain('COOKIE_SECRET:');
    expect(said).not.toContain('short-secret');
  }, 60_000);
});
