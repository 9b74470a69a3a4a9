import { execFile } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createDatabase } from '../../src/database/client.ts';
import { demoPassword, demoSignIns } from '../../src/demo/people.ts';
import { serviceProcess } from '../support/faults/service-process.ts';
import {
  installedPostgres,
  startInstalledServer,
  type InstalledServer,
} from '../support/installed-postgres.ts';
import { freePort } from '../support/running-server.ts';
import { testPhoto } from '../support/test-files.ts';
import { Visitor } from '../support/visitor.ts';

/**
 * What README.md says of a database of one's own: pg_dump while the service runs, then the files; pg_restore into an
 * empty database, the files beside it. The new installation is held against the first by every hash.
 *
 * pg_dump takes no server newer than itself, so that it is tried with the server that it was installed with.
 */
const run = promisify(execFile);
const installed = await installedPostgres();
if (installed === null)
  console.log('SKIPPED: the test of pg_dump needs a PostgreSQL of the machine (postgresql).');

describe.skipIf(installed === null)('a dump and the files, restored', () => {
  let server: InstalledServer;
  let folder = '';
  beforeAll(async () => {
    server = await startInstalledServer(installed!);
    folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-dump-'));
    for (const name of ['first', 'second'])
      await program('createdb', '--maintenance-db', server.url('postgres'), name);
  });
  afterAll(async () => {
    await server.close();
    await rm(folder, { recursive: true, force: true });
  });

  const program = (name: string, ...given: string[]) => run(installed!.program(name), given);
  const environment = (name: string) => ({
    DATABASE_URL: server.url(name),
    DATA_DIR: path.join(folder, name),
    COOKIE_SECRET: 'the secret of both installations, long enough',
  });
  /** Who serves is not who owns. */
  const serving = (name: string) => {
    const url = new URL(server.url(name));
    url.username = 'lintelbook_serving';
    url.password = 'of the one that serves';
    return { ...environment(name), DATABASE_URL: url.href, MIGRATION_DATABASE_URL: server.url(name) };
  };
  const verify = async (name: string) => {
    const env = { ...process.env, ...environment(name) };
    return run('scripts/verify', ['--all'], { env }).then(
      ({ stdout }) => ({ code: 0, stdout }),
      (error: unknown) => error as { code: number; stdout: string },
    );
  };

  it('are the same record: every hash holds, and work goes on', async () => {
    const first = serviceProcess(await freePort(), { ...serving('first'), DEMO: 'first proposal' });
    await first.start();
    const before = await contractorOf(first.base);
    const photo = { field: 'files', ...(await testPhoto(91)) };
    expect((await before.send(photo)).status).toBe(303);
    // The service runs on: the database first, then the files, as README.md has it.
    const dump = path.join(folder, 'lintelbook.dump');
    await program('pg_dump', '--format=custom', `--file=${dump}`, server.url('first'));
    await run('cp', ['-a', path.join(folder, 'first'), path.join(folder, 'second')]);
    expect(await first.stop()).toBe(0);

    await program(
      'pg_restore',
      '--single-transaction',
      '--no-owner',
      '--no-privileges',
      `--dbname=${server.url('second')}`,
      dump,
    );
    const [old, restored] = [await verify('first'), await verify('second')];
    expect(restored.code).toBe(0);
    expect(restored.stdout).toMatch(/ OK: \d+ events/);
    // Counts, the last line of the log and its hash.
    expect(restored.stdout).toBe(old.stdout);

    const second = serviceProcess(await freePort(), { ...serving('second'), DEMO: 'false' });
    await second.start();
    const after = await contractorOf(second.base);
    const file = await after.file();
    expect(file.equals(photo.buffer)).toBe(true);
    expect((await after.send({ field: 'files', ...(await testPhoto(92)) })).status).toBe(303);
    expect(await second.stop()).toBe(0);
    expect((await verify('second')).code).toBe(0);

    // What only triggers hold came along, too.
    const database = createDatabase(server.url('second'));
    const { prisma } = database;
    await expect(prisma.version.updateMany({ data: { reason: 'changed' } })).rejects.toThrow();
    await expect(prisma.event.deleteMany({})).rejects.toThrow();
    await database.close();
  }, 240_000);

  it('a store that lost a byte is found', async () => {
    const store = path.join(folder, 'second', 'files', 'blobs');
    const names = await readdir(store, { recursive: true, withFileTypes: true });
    const blob = names.find((entry) => entry.isFile())!;
    const place = path.join(blob.parentPath, blob.name);
    const bytes = await readFile(place);
    bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] ?? 0) ^ 1;
    await writeFile(place, bytes);
    expect((await verify('second')).code).toBe(1);
  });
});

/** The contractor of the demo, at the opening of the house. */
async function contractorOf(base: string) {
  const visitor = new Visitor();
  const { email } = demoSignIns.find(({ role }) => role === 'contractor')!;
  const form = await visitor.page(`${base}/sign-in`);
  const answer = await visitor.submit(base, form, /^\/sign-in$/, { email, password: demoPassword });
  expect(answer.status).toBe(303);
  const project = /href="(\/projects\/[0-9a-f-]{36})"/.exec(await visitor.page(`${base}/`))?.[1] ?? '';
  const opening = new RegExp(`href="(${project}/openings/[0-9a-f-]{36})"`).exec(
    await visitor.page(base + project),
  )?.[1];
  const page = await visitor.page(`${base}${opening ?? ''}`);
  return {
    send: (file: Parameters<Visitor['upload']>[4]) => visitor.upload(base, page, /\/attachments$/, {}, file),
    async file(): Promise<Buffer> {
      const place = /href="(\/projects\/[0-9a-f-]{36}\/attachments\/[0-9a-f-]{36})"/.exec(page)?.[1];
      const answered = await visitor.get(`${base}${place ?? '/none'}`);
      expect(answered.status).toBe(200);
      return Buffer.from(await answered.arrayBuffer());
    },
  };
}
