import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createHash } from 'node:crypto';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeEach, describe, expect, test } from 'vitest';
import { migrate, schemaDiffers } from '../../src/database/migrate.ts';
import { StartProblem } from '../../src/database/problems.ts';
import { emptyDatabase, freshDatabase } from '../support/database.ts';
import { asAdmin } from '../support/test-server.ts';

const folders: string[] = [];
let database: Awaited<ReturnType<typeof emptyDatabase>>;

beforeEach(async () => {
  database = await emptyDatabase();
});
afterEach(async () => {
  await database.close();
});
afterAll(async () => {
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

async function migrationsOf(scripts: Record<string, string>): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'lintelbook-migrations-'));
  folders.push(folder);
  await change(folder, scripts);
  return folder;
}

async function change(folder: string, scripts: Record<string, string>): Promise<void> {
  for (const [name, sql] of Object.entries(scripts)) {
    await mkdir(join(folder, name), { recursive: true });
    await writeFile(join(folder, name, 'migration.sql'), sql);
  }
}

async function rows(sql: string): Promise<Record<string, unknown>[]> {
  const { rows: found } = await asAdmin(database.url, (client) => client.query<Record<string, unknown>>(sql));
  return found;
}

async function problemOf(work: Promise<unknown>): Promise<StartProblem> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(StartProblem);
  return error as StartProblem;
}

const TABLE = 'CREATE TABLE beam (id int PRIMARY KEY);';
const BODY = `-- a comment; with a semicolon
CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'never; changed' USING ERRCODE = 'restrict_violation';
END;
$$;
CREATE TRIGGER beam_kept BEFORE UPDATE ON beam FOR EACH ROW EXECUTE FUNCTION refuse();
INSERT INTO beam VALUES (1);`;

describe("the project's own migrations", () => {
  test('lead to the schema that schema.prisma describes', async () => {
    expect((await migrate(database.url)).length).toBeGreaterThan(0);
    expect(await schemaDiffers(database.url)).toBeUndefined();
    expect(await migrate(database.url)).toEqual([]);
  });

  test('a difference is seen and named', async () => {
    const copy = await freshDatabase();
    try {
      await asAdmin(copy.url, (client) => client.query('ALTER TABLE project DROP COLUMN address'));
      expect(await schemaDiffers(copy.url)).toMatch(/ALTER TABLE "project" ADD COLUMN\s+"address"/);
    } finally {
      await copy.close();
    }
  });
});

test('function bodies and triggers arrive whole', async () => {
  const folder = await migrationsOf({ '1_table': TABLE, '2_body': BODY });
  expect(await migrate(database.url, { migrationsFolder: folder })).toEqual(['1_table', '2_body']);
  await expect(rows('UPDATE beam SET id = 2')).rejects.toThrow('never; changed');
});

test("the history is Prisma's own: name, SHA-256 of the file, one step, finished", async () => {
  const folder = await migrationsOf({ '1_table': TABLE });
  await migrate(database.url, { migrationsFolder: folder });
  expect(
    await rows(
      `SELECT migration_name, checksum, applied_steps_count, rolled_back_at, finished_at IS NOT NULL AS finished
       FROM _prisma_migrations`,
    ),
  ).toEqual([
    {
      migration_name: '1_table',
      checksum: createHash('sha256').update(TABLE).digest('hex'),
      applied_steps_count: 1,
      rolled_back_at: null,
      finished: true,
    },
  ]);
});

test('a failing migration leaves nothing behind, earlier ones stay, and it can be corrected', async () => {
  const folder = await migrationsOf({
    '1_table': TABLE,
    '2_bad': 'CREATE TABLE half (id int);\nSELECT * FROM nowhere;',
  });
  const problem = await problemOf(migrate(database.url, { migrationsFolder: folder }));
  expect(problem.sentence).toBe('The migration 2_bad failed at line 2: relation "nowhere" does not exist.');
  expect(await rows("SELECT to_regclass('beam') AS beam, to_regclass('half') AS half")).toEqual([
    { beam: 'beam', half: null },
  ]);
  expect(await rows('SELECT migration_name FROM _prisma_migrations')).toEqual([
    { migration_name: '1_table' },
  ]);
  await change(folder, { '2_bad': 'CREATE TABLE half (id int);' });
  expect(await migrate(database.url, { migrationsFolder: folder })).toEqual(['2_bad']);
});

test('several processes at once: each migration is applied by exactly one', async () => {
  const folder = await migrationsOf({
    '1_table': `${TABLE} SELECT pg_sleep(0.2);`,
    '2_row': 'INSERT INTO beam VALUES (1);',
  });
  const results = await Promise.all(
    [1, 2, 3, 4].map(() => migrate(database.url, { migrationsFolder: folder })),
  );
  expect(results.flat().sort()).toEqual(['1_table', '2_row']);
  expect(await rows('SELECT count(*)::int AS n FROM beam')).toEqual([{ n: 1 }]);
});

test('an applied migration that was edited is refused', async () => {
  const folder = await migrationsOf({ '1_table': TABLE });
  await migrate(database.url, { migrationsFolder: folder });
  await change(folder, { '1_table': 'CREATE TABLE other (id int);' });
  const problem = await problemOf(migrate(database.url, { migrationsFolder: folder }));
  expect(problem.sentence).toContain('1_table was changed after it had been applied');
});

test('a database of a later version is refused', async () => {
  const later = await migrationsOf({ '1_table': TABLE, '2_row': 'INSERT INTO beam VALUES (1);' });
  await migrate(database.url, { migrationsFolder: later });
  const earlier = await migrationsOf({ '1_table': TABLE });
  const problem = await problemOf(migrate(database.url, { migrationsFolder: earlier }));
  expect(problem.sentence).toContain('another version of the program (2_row)');
});

test("another program's tables are left alone", async () => {
  await rows('CREATE TABLE stranger (id int)');
  const folder = await migrationsOf({ '1_table': TABLE });
  const problem = await problemOf(migrate(database.url, { migrationsFolder: folder }));
  expect(problem.sentence).toContain('not empty');
  expect(await rows("SELECT to_regclass('beam') AS beam")).toEqual([{ beam: null }]);
});

test.each(['BEGIN;', 'COMMIT;', 'CREATE TABLE a (id int); commit', 'START TRANSACTION;'])(
  'transaction control in a migration is refused: %s',
  async (sql) => {
    const folder = await migrationsOf({ '1_table': sql });
    const problem = await problemOf(migrate(database.url, { migrationsFolder: folder }));
    expect(problem.sentence).toContain('controls transactions itself');
  },
);
