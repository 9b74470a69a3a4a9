import { execFile } from 'node:child_process';
import { chmod, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { brokenFiles } from '../../src/attachments/verify.ts';
import { createBlobStore } from '../../src/attachments/storage/choose.ts';
import { createDatabase } from '../../src/database/client.ts';
import { startEmbeddedPostgres } from '../../src/database/embedded.ts';
import { demoPassword, demoSignIns } from '../../src/demo/people.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { readConfig } from '../../src/web/config.ts';
import { startServer } from '../support/running-server.ts';
import { testPhoto } from '../support/test-files.ts';
import { Visitor } from '../support/visitor.ts';

/** What README.md says of backups: stop, copy the data folder, start on the copy. Verified there by every hash. */
let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-backup-'));
  // Where only root may pass, the built-in database lies elsewhere, and a copy of the folder would not hold it.
  await chmod(folder, 0o755);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

it('a copied data folder is the same installation: it serves, and every hash holds', async () => {
  const data = path.join(folder, 'data');
  const first = await startServer({ DEMO: 'first proposal' }, data);
  const before = await signedIn(first.url);
  const home = await before.page(`${first.url}/`);
  const project = /href="(\/projects\/[0-9a-f-]{36})"/.exec(home)?.[1] ?? '';
  const opening = new RegExp(`href="(${project}/openings/[0-9a-f-]{36})"`).exec(
    await before.page(first.url + project),
  )?.[1];
  const page = await before.page(`${first.url}${opening ?? ''}`);
  const photo = { field: 'file', ...(await testPhoto(90)) };
  expect((await before.upload(first.url, page, /\/attachments$/, {}, photo)).status).toBe(303);
  expect(await first.stop()).toBe(0);
  const copy = path.join(folder, 'copy');
  await promisify(execFile)('cp', ['-a', data, copy]);
  // Nothing of the first is there to fall back on.
  await rm(data, { recursive: true, force: true });

  const second = await startServer({ DEMO: 'false' }, copy);
  const contractor = await signedIn(second.url);
  expect(await contractor.page(`${second.url}/`)).toContain('Your projects');
  expect(await second.stop()).toBe(0);

  const postgres = await startEmbeddedPostgres({
    dataFolder: path.join(copy, 'postgres'),
    log: () => undefined,
    onUnexpectedEnd: () => undefined,
  });
  const database = createDatabase(postgres.url);
  const blobs = createBlobStore(readConfig({ DATA_DIR: copy }));
  try {
    const { id: projectId } = await database.prisma.project.findFirstOrThrow();
    const report = await verifyProject(database.prisma, projectId);
    expect(report.broken).toBeNull();
    expect(report.versions).toBeGreaterThan(10);
    expect(await allOf(brokenFiles(database.prisma, blobs, projectId))).toEqual([]);
    // A copy that lost a byte is no backup, and says so.
    await damageOne(path.join(copy, 'files'));
    expect(await allOf(brokenFiles(database.prisma, blobs, projectId))).toHaveLength(1);
  } finally {
    await database.close();
    await postgres.stop();
  }
}, 240_000);

async function signedIn(url: string): Promise<Visitor> {
  const visitor = new Visitor();
  const { email } = demoSignIns.find(({ role }) => role === 'contractor')!;
  const form = await visitor.page(`${url}/sign-in`);
  const answer = await visitor.submit(url, form, /^\/sign-in$/, { email, password: demoPassword });
  expect(answer.status).toBe(303);
  return visitor;
}

async function allOf<T>(generator: AsyncGenerator<T, unknown>): Promise<T[]> {
  const all: T[] = [];
  for await (const one of generator) all.push(one);
  return all;
}

async function damageOne(store: string): Promise<void> {
  const names = await readdir(store, { recursive: true, withFileTypes: true });
  const one = names.find((entry) => entry.isFile() && /^[0-9a-f]{60,64}$/.test(entry.name));
  if (one === undefined) throw new Error(`no file lies in ${store}`);
  const file = path.join(one.parentPath, one.name);
  const bytes = await readFile(file);
  bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] ?? 0) ^ 1;
  await writeFile(file, bytes);
}
