import { randomBytes } from 'node:crypto';
import { connect } from 'node:net';
import { text } from 'node:stream/consumers';
import { inject } from 'vitest';
import { createDatabase, type Database } from '../../src/database/client.ts';
import type { DoorAnswer } from './database.setup.ts';
import { asAdmin, databaseUrl } from './test-server.ts';

export interface FreshDatabase extends Database {
  readonly url: string;
}

/**
 * A database of its own with all migrations applied and no rows, copied from the run's template. `close`
 * ends its connections and drops it; what a failed test leaves open goes at the end of the run.
 */
export async function freshDatabase(): Promise<FreshDatabase> {
  const { prefix } = await testServer();
  return open(await create(`TEMPLATE ${prefix}_template`));
}

/** A database without any table, for tests of migrations. */
export async function emptyDatabase(): Promise<{ url: string; close(): Promise<void> }> {
  const name = await create('');
  const { adminUrl } = await testServer();
  return { url: databaseUrl(adminUrl, name), close: () => drop(name) };
}

async function create(template: string): Promise<string> {
  const { adminUrl, prefix } = await testServer();
  const name = `${prefix}_${randomBytes(5).toString('hex')}`;
  await asAdmin(adminUrl, (client) => client.query(`CREATE DATABASE ${name} ${template}`));
  return name;
}

async function open(name: string): Promise<FreshDatabase> {
  const { adminUrl } = await testServer();
  const url = databaseUrl(adminUrl, name);
  const database = createDatabase(url);
  return {
    url,
    prisma: database.prisma,
    close: async () => {
      await database.close();
      await drop(name);
    },
  };
}

async function drop(name: string): Promise<void> {
  const { adminUrl } = await testServer();
  await asAdmin(adminUrl, (client) => client.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`));
}

let known: Promise<{ adminUrl: string; prefix: string }> | undefined;

/** The run's server; started by the first call of all test files. */
function testServer(): Promise<{ adminUrl: string; prefix: string }> {
  known ??= knock();
  return known;
}

async function knock(): Promise<{ adminUrl: string; prefix: string }> {
  const answer = JSON.parse(await text(connect(inject('testDatabaseDoor')))) as DoorAnswer;
  if ('problem' in answer) throw new Error(`no test database: ${answer.problem}`);
  return answer;
}
