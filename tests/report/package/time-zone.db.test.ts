import { createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { createProject } from '../../../src/record/projects/service.ts';
import { importPackage } from '../../../src/report/package/import.ts';
import { writePackage } from '../../../src/report/package/write.ts';
import { compose } from '../../../src/web/compose.ts';
import { readConfig } from '../../../src/web/config.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';

let from: FreshDatabase;
let into: FreshDatabase;
let folder: string;

beforeEach(async () => {
  [from, into, folder] = await Promise.all([
    freshDatabase(),
    freshDatabase(),
    mkdtemp(path.join(tmpdir(), 'lintelbook-zone-')),
  ]);
});
afterEach(async () => {
  await Promise.all([from.close(), into.close()]);
  await rm(folder, { recursive: true, force: true });
});

/** A house in Phoenix, packed after `before` and taken in elsewhere. */
async function takeAcross(before: () => Promise<unknown>): Promise<string> {
  const depsOf = ({ prisma }: FreshDatabase) => compose(readConfig({ DATA_DIR: folder }), prisma);
  const { id: personId } = await from.prisma.person.create({
    data: { name: 'Con', email: 'con@example.org', passwordHash: 'none' },
  });
  const { projectId } = await createProject(
    depsOf(from),
    { personId, name: 'Con' },
    { name: 'Den', address: '1 Row', jurisdiction: 'Town', permitNumber: '', timeZone: 'America/Phoenix' },
  );
  await before();
  const file = path.join(folder, 'record.zip');
  const order = { databaseUrl: from.url, projectId, projectName: 'Den', actor: null };
  await writePackage(depsOf(from), order, createWriteStream(file));
  await importPackage({ prisma: into.prisma, blobs: depsOf(into).blobs, databaseUrl: into.url }, file);
  return (await into.prisma.project.findUniqueOrThrow({ where: { id: projectId } })).timeZone;
}

it('goes with the record', async () => {
  expect(await takeAcross(() => Promise.resolve())).toBe('America/Phoenix');
});

it('is untold where the package is older than zones', async () => {
  expect(await takeAcross(() => from.prisma.$executeRaw`ALTER TABLE project DROP COLUMN time_zone`)).toBe(
    'UTC',
  );
});

it('is not taken in where no clock here knows it', async () => {
  const elsewhere = () => from.prisma.project.updateMany({ data: { timeZone: 'Mars/Olympus' } });
  await expect(takeAcross(elsewhere)).rejects.toThrow('Its time zone is not known here.');
  expect(await into.prisma.project.count()).toBe(0);
});
