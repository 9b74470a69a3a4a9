import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import postgres from 'postgres';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { addCopies } from '../../scripts/growth/load.ts';
import { tellLongRecord } from '../../scripts/growth/long-record.ts';
import { readOriginal } from '../../scripts/growth/original.ts';
import type { VerifiedProject } from '../../src/record/verify/report.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { compose } from '../../src/web/compose.ts';
import { readConfig } from '../../src/web/config.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';

/** What `scripts/bench growth` measures with: copies of a project that are records like any other. */
const COPIES = 3;

let database: FreshDatabase;
let folder: string;
let verified: VerifiedProject[];
beforeAll(async () => {
  database = await freshDatabase();
  folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-copies-'));
  const config = readConfig({ NODE_ENV: 'test', LOG_LEVEL: 'silent', DATA_DIR: folder });
  await tellLongRecord(compose(config, database.prisma), { furtherRows: 2, rounds: 4 });
  const sql = postgres(database.url, { max: 1, onnotice: () => undefined });
  await addCopies(sql, await readOriginal(sql), COPIES, () => undefined);
  await sql.end();
  const projects = await database.prisma.project.findMany({ orderBy: { id: 'asc' } });
  verified = [];
  for (const { id } of projects) verified.push(await verifyProject(database.prisma, id));
});
afterAll(async () => {
  await database.close();
  await rm(folder, { recursive: true, force: true });
});

describe('copies of a project', () => {
  test('verify, as long as the original and with heads of their own', () => {
    expect(verified.map(({ broken }) => broken)).toEqual(Array.from({ length: COPIES + 1 }, () => null));
    const [first] = verified;
    expect(first?.versions).toBeGreaterThan(150);
    for (const { events, versions, marks, sets } of verified) {
      expect({ events, versions, marks, sets }).toEqual({
        events: first?.events,
        versions: first?.versions,
        marks: first?.marks,
        sets: first?.sets,
      });
    }
    expect(new Set(verified.map(({ head }) => head?.hash)).size).toBe(COPIES + 1);
  });

  test('are other people’s: nobody is a member of two', async () => {
    const members = await database.prisma.membership.groupBy({ by: ['personId'], _count: true });
    expect(members).toHaveLength(4 * (COPIES + 1));
    expect(members.every(({ _count }) => _count === 1)).toBe(true);
  });

  test('a copy whose version is changed by one letter does not verify', async () => {
    const { id, projectId, content } = await database.prisma.version.findFirstOrThrow({
      where: { content: { contains: 'sheet 4' } },
      orderBy: { id: 'desc' },
    });
    const sql = postgres(database.url, { max: 1, onnotice: () => undefined });
    await sql`SET session_replication_role = replica`;
    await sql`UPDATE version SET content = ${content.replace('sheet 4', 'sheet 5')} WHERE id = ${id}`;
    await sql.end();
    const { broken } = await verifyProject(database.prisma, projectId);
    expect(broken).toMatchObject({ table: 'version', row: id });
  });
});
