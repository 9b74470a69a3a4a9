import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { migrate } from '../../src/database/migrate.ts';
import { grantServing } from '../../src/database/serving-role.ts';
import { prepareDatabase } from '../../src/web/database-of.ts';
import { emptyDatabase } from '../support/database.ts';

/** What PostgreSQL itself refuses the role that serves pages, and what it lets it do. */
const role = `lintelbook_test_serving_${randomBytes(5).toString('hex')}`;
let database: { url: string; close(): Promise<void> };
let serving: pg.Client;
let servingUrl = '';

beforeAll(async () => {
  database = await emptyDatabase();
  servingUrl = as(role, 'first password');
  await prepareDatabase({ url: servingUrl, ownerUrl: database.url, ownRole: true });
  serving = new pg.Client(servingUrl);
  await serving.connect();
});
afterAll(async () => {
  await serving.end();
  const owner = new pg.Client(database.url);
  await owner.connect();
  await owner.query(`DROP OWNED BY ${role}; DROP ROLE ${role}`);
  await owner.end();
  await database.close();
});

function as(name: string, password: string): string {
  const url = new URL(database.url);
  url.username = name;
  url.password = encodeURIComponent(password);
  return url.href;
}

const answerTo = (statement: string) =>
  serving.query(statement).then(
    () => 'done',
    (error: unknown) => (error as pg.DatabaseError).code,
  );

async function answersTo(statements: readonly string[]): Promise<unknown[]> {
  const answers: unknown[] = [];
  for (const statement of statements) answers.push(await answerTo(statement));
  return answers;
}

/** `insufficient_privilege`. */
const REFUSED = '42501';

describe('the role that serves', () => {
  it('can’t change or remove what is only added to, nor switch off what guards it', async () => {
    const statements = [
      'ALTER TABLE event DISABLE TRIGGER ALL',
      'ALTER TABLE version DISABLE TRIGGER version_immutable',
      'DROP TRIGGER event_immutable ON event',
      'DROP TRIGGER version_immutable ON version',
      'CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RETURN NEW; END $$',
      'DROP FUNCTION refuse_change CASCADE',
      "SET session_replication_role = 'replica'",
      'UPDATE event SET hash = hash',
      'DELETE FROM version',
      'TRUNCATE event',
      'UPDATE attachment SET sha256 = sha256',
      'DELETE FROM attachment',
    ];
    const answers = await answersTo(statements);
    expect(answers).toEqual(statements.map(() => REFUSED));
  });

  it('can neither make nor alter nor drop, nor let itself do more', async () => {
    const statements = [
      'CREATE TABLE another (id int)',
      'CREATE TEMPORARY TABLE another (id int)',
      'CREATE SCHEMA another',
      'CREATE TABLE jobs.another (id int)',
      'ALTER TABLE person ADD COLUMN another int',
      'DROP TABLE person',
      'TRUNCATE person',
      'CREATE ROLE another_role',
      `ALTER ROLE ${role} SUPERUSER`,
      'UPDATE _prisma_migrations SET checksum = checksum',
      "COPY person TO PROGRAM 'cat'",
      "SELECT pg_read_file('PG_VERSION')",
      'SELECT * FROM pg_authid',
    ];
    const answers = await answersTo(statements);
    expect(answers).toEqual(statements.map(() => REFUSED));
    // Of another's right nothing is granted: PostgreSQL says so in a warning.
    await answerTo(`GRANT UPDATE ON event TO ${role}`);
    expect(await answerTo('UPDATE event SET hash = hash')).toBe(REFUSED);
  });

  it('is refused a change of exactly those tables that a trigger keeps', async () => {
    const { rows } = await serving.query<{ name: string; kept: boolean; rights: string }>(`
      SELECT c.relname AS name,
        EXISTS (SELECT FROM pg_trigger t WHERE t.tgrelid = c.oid AND t.tgname = c.relname || '_immutable') AS kept,
        concat_ws(' ', CASE WHEN has_table_privilege(c.oid, 'SELECT') THEN 'S' END,
          CASE WHEN has_table_privilege(c.oid, 'INSERT') THEN 'I' END,
          CASE WHEN has_table_privilege(c.oid, 'UPDATE') THEN 'U' END,
          CASE WHEN has_table_privilege(c.oid, 'DELETE') THEN 'D' END) AS rights
      FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'`);
    const odd = rows
      .filter(({ kept, rights }) => rights !== (kept ? 'S I' : 'S I U D'))
      .map(({ name, rights }) => `${name}: ${rights}`);
    expect(odd).toEqual(['_prisma_migrations: S']);
    expect(rows.filter(({ kept }) => kept).length).toBeGreaterThan(20);
  });

  it('starts where nothing is to be migrated without knowing the owner', async () => {
    expect(await migrate(servingUrl)).toEqual([]);
  });

  it('is none that owns the tables, and has to be there where the owner can’t make it', async () => {
    const owner = new pg.Client(database.url);
    await owner.connect();
    const narrow = `${role}_narrow`;
    await owner.query(`CREATE ROLE ${narrow} LOGIN PASSWORD 'narrow'`);
    const options = { schemas: ['jobs'] };
    const { url } = database;
    const ownerAgain = `${url}${url.includes('?') ? '&' : '?'}application_name=again`;
    await expect(grantServing({ owner: url, serving: ownerAgain }, options)).rejects.toThrow(
      'owns the tables',
    );
    const missing = as(`${role}_missing`, 'x');
    await expect(grantServing({ owner: as(narrow, 'narrow'), serving: missing }, options)).rejects.toThrow(
      `The user "${role}_missing" of DATABASE_URL is not there`,
    );
    await owner.query(`DROP ROLE ${narrow}`);
    await owner.end();
  });

  it('is prepared by an owner that is named where it can’t be reached', async () => {
    const wrong = { url: servingUrl, ownerUrl: 'postgresql://nobody@127.0.0.1:1/none', ownRole: false };
    await expect(prepareDatabase(wrong)).rejects.toMatchObject({
      remedy: expect.stringContaining('correct host and port in MIGRATION_DATABASE_URL;') as string,
    });
  });

  it('keeps the password it was given, unless it is of our own making', async () => {
    const other = as(role, 'second password');
    await prepareDatabase({ url: other, ownerUrl: database.url, ownRole: false });
    const tried = new pg.Client(other);
    await expect(tried.connect()).rejects.toThrow('password authentication failed');
    await prepareDatabase({ url: other, ownerUrl: database.url, ownRole: true });
    const again = new pg.Client(other);
    await again.connect();
    await again.end();
  });
});
