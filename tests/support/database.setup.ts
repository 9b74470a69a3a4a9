import { spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { TestProject } from 'vitest/node';
import type { TestServer } from './test-server.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Path of the socket over which a test file asks for the database server. */
    testDatabaseDoor: string;
  }
}

/** What a test file is told over the socket. */
export type DoorAnswer = { adminUrl: string; prefix: string } | { problem: string };

/**
 * Global set-up of the test run, in the main process. It only opens a local socket; the database server
 * starts when the first test file knocks, so that a run of unit tests starts none, and all files share
 * one. It stops after the last test, whatever the tests did.
 */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  generateClient();
  const folder = await mkdtemp(join(tmpdir(), `lintelbook-door-${process.pid}-`));
  let starting: Promise<TestServer> | undefined;
  const door = createServer((socket) => {
    socket.on('error', () => undefined);
    starting ??= import('./test-server.ts').then(({ startTestServer }) => startTestServer());
    starting.then(
      ({ adminUrl, prefix }) => socket.end(answer({ adminUrl, prefix })),
      (error: unknown) =>
        socket.end(answer({ problem: error instanceof Error ? error.message : String(error) })),
    );
  });
  const path = join(folder, 'door');
  door.listen(path);
  await once(door, 'listening');
  project.provide('testDatabaseDoor', path);

  return async () => {
    door.close();
    const server = await starting?.catch(() => undefined);
    await server?.stop();
    await rm(folder, { recursive: true, force: true });
  };
}

function answer(content: DoorAnswer): string {
  return JSON.stringify(content);
}

/** Test files import the generated client; bring it up to date first (nothing happens when it is). */
function generateClient(): void {
  const script = fileURLToPath(new URL('../../scripts/generate.mjs', import.meta.url));
  const { status } = spawnSync(process.execPath, [script], { stdio: 'inherit' });
  if (status !== 0) throw new Error('the Prisma client could not be generated');
}
