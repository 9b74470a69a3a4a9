import { execFile } from 'node:child_process';
import { createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { loadDemo } from '../../../src/demo/load.ts';
import { importPackage } from '../../../src/report/package/import.ts';
import { writePackage } from '../../../src/report/package/write.ts';
import type { Manifest } from '../../../src/report/package/manifest.ts';
import { compose } from '../../../src/web/compose.ts';
import { readConfig } from '../../../src/web/config.ts';
import { runVerify } from '../../record/support/scripts.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';

const script = fileURLToPath(new URL('../../../scripts/import', import.meta.url));
const letIn = fileURLToPath(new URL('../../../scripts/let-in', import.meta.url));

let from: FreshDatabase;
let into: FreshDatabase;
let folder: string;
let file: string;
let written: Manifest;

const store = (name: string) => path.join(folder, name);
const depsOf = (database: FreshDatabase, name: string) =>
  compose(readConfig({ DATA_DIR: store(name) }), database.prisma);

async function write(database: FreshDatabase, name: string, to: string): Promise<Manifest> {
  const { id, name: projectName } = await database.prisma.project.findFirstOrThrow();
  const order = { databaseUrl: database.url, projectId: id, projectName, actor: null };
  return writePackage(depsOf(database, name), order, createWriteStream(to));
}

const hashes = ({ entries }: Manifest) => entries.filter(({ name }) => /^(records|files)\//.test(name));

beforeAll(async () => {
  [from, into, folder] = await Promise.all([
    freshDatabase(),
    freshDatabase(),
    mkdtemp(path.join(tmpdir(), 'lintelbook-import-')),
  ]);
  await loadDemo(depsOf(from, 'from'), 'whole');
  file = path.join(folder, 'record.zip');
  written = await write(from, 'from', file);
}, 300_000);
afterAll(async () => {
  await Promise.all([from.close(), into.close()]);
  await rm(folder, { recursive: true, force: true });
});

it('leaves no row where the record can’t be taken in whole', async () => {
  const deps = { prisma: into.prisma, blobs: depsOf(into, 'into').blobs, databaseUrl: into.url };
  // A row of the end of the list is refused by the database after all others went in.
  await into.prisma.$executeRaw`ALTER TABLE event ADD CONSTRAINT refused CHECK (seq < 5) NOT VALID`;
  await expect(importPackage(deps, file)).rejects.toThrow();
  await into.prisma.$executeRaw`ALTER TABLE event DROP CONSTRAINT refused`;
  expect(await into.prisma.project.count()).toBe(0);
  expect(await into.prisma.person.count()).toBe(0);
});

it('reproduces the record with its hashes; the same again changes nothing; other content is refused', async () => {
  const env = { ...process.env, DATABASE_URL: into.url, DATA_DIR: store('into') };
  const first = await promisify(execFile)(script, [file], { env });
  expect(first.stdout).toContain('taken in and verified');
  const { code, stdout } = await runVerify({ DATABASE_URL: into.url, DATA_DIR: store('into') }, '--all');
  expect(stdout).toContain(`the log ends at ${written.head?.seq ?? ''} ${written.head?.hash ?? ''}`);
  expect(code).toBe(0);

  const again = await write(into, 'into', path.join(folder, 'again.zip'));
  expect(hashes(again)).toEqual(hashes(written));
  expect(hashes(written).filter(({ name }) => name.startsWith('files/')).length).toBeGreaterThan(2);

  const people = await into.prisma.person.findMany({ select: { email: true, passwordHash: true } });
  expect(people.length).toBeGreaterThan(3);
  expect(people.every(({ email, passwordHash }) => email === null && passwordHash === 'none')).toBe(true);

  const second = await promisify(execFile)(script, [file], { env });
  expect(second.stdout).toContain('is here already; nothing changed');

  await expect(into.prisma.$executeRaw`UPDATE mark SET reason = 'other'`).rejects.toThrow();
  await into.prisma.project.updateMany({ data: { name: 'Another name' } });
  await expect(promisify(execFile)(script, [file], { env })).rejects.toMatchObject({ code: 1 });
});

it('lets an account in for one of its people, with that role; what was done keeps its author', async () => {
  const env = { ...process.env, DATABASE_URL: into.url, DATA_DIR: store('into') };
  const { prisma } = into;
  const { id } = await prisma.project.findFirstOrThrow();
  const before = await prisma.membership.findFirstOrThrow({
    where: { projectId: id, role: 'contractor', revokedAt: null },
    include: { person: true },
  });
  const authors = () =>
    prisma.version.findMany({ select: { id: true, authorId: true }, orderBy: { id: 'asc' } });
  const written = await authors();
  expect(written.some(({ authorId }) => authorId === before.personId)).toBe(true);
  const run = (...words: string[]) => promisify(execFile)(letIn, words, { env });
  const email = 'newcomer@example.org';

  await expect(run(id, email, before.person.name)).rejects.toMatchObject({ code: 1 });
  const { id: personId } = await prisma.person.create({
    data: { name: 'New Comer', email, passwordHash: 'none' },
  });
  await expect(run(id, email, 'Nobody of that name')).rejects.toMatchObject({ code: 1 });
  await expect(run(personId, email, before.person.name)).rejects.toMatchObject({ code: 1 });
  expect(await prisma.membership.count({ where: { personId } })).toBe(0);

  expect((await run(id, email, before.person.name)).stdout).toContain(
    'New Comer is in the project now, as contractor',
  );
  const present = await prisma.membership.findMany({
    where: { projectId: id, role: 'contractor', revokedAt: null },
    select: { personId: true },
  });
  expect(present).toEqual([{ personId }]);
  expect(await authors()).toEqual(written);
  const lines = await prisma.event.findMany({ where: { projectId: id }, orderBy: { seq: 'desc' }, take: 2 });
  expect(lines.map(({ type, actorId }) => [type, actorId])).toEqual([
    ['member.joined', null],
    ['member.removed', null],
  ]);
  // Once in, the place is taken: by the same account, and by whoever can sign in.
  await expect(run(id, email, before.person.name)).rejects.toMatchObject({ code: 1 });
  await expect(run(id, email, 'New Comer')).rejects.toMatchObject({ code: 1 });
  const { code } = await runVerify({ DATABASE_URL: into.url, DATA_DIR: store('into') }, '--all');
  expect(code).toBe(0);
});
