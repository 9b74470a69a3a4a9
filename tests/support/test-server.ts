import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { startEmbeddedPostgres } from '../../src/database/embedded.ts';
import { processIsAlive } from '../../src/database/embedded/lock.ts';
import { migrate } from '../../src/database/migrate.ts';

/** A PostgreSQL server for one test run, with a migrated database to copy from. */
export interface TestServer {
  /** A URL that may create databases. */
  readonly adminUrl: string;
  /** Every database of this run has a name that begins so; the template is `<prefix>_template`. */
  readonly prefix: string;
  stop(): Promise<void>;
}

interface RunningServer {
  readonly adminUrl: string;
  readonly description: string;
  stop(): Promise<void>;
}

/**
 * Finds or starts a server: TEST_DATABASE_URL (a role that may create databases), else a container when a
 * container daemon answers, else the built-in PostgreSQL. Prints which. Migrates the template once.
 */
export async function startTestServer(): Promise<TestServer> {
  const server = (await givenServer()) ?? (await containerServer()) ?? (await builtInServer());
  console.log(`Database tests use ${server.description}.`);
  const prefix = `lintelbook_test_${randomBytes(4).toString('hex')}`;
  try {
    await asAdmin(server.adminUrl, (client) => client.query(`CREATE DATABASE ${prefix}_template`));
    await migrate(databaseUrl(server.adminUrl, `${prefix}_template`));
  } catch (error) {
    await dropDatabases(server.adminUrl, prefix).catch(() => undefined);
    await server.stop();
    throw error;
  }
  return {
    adminUrl: server.adminUrl,
    prefix,
    stop: async () => {
      try {
        await dropDatabases(server.adminUrl, prefix);
      } finally {
        await server.stop();
      }
    },
  };
}

/** The same server, another database. */
export function databaseUrl(adminUrl: string, name: string): string {
  const url = new URL(adminUrl);
  url.pathname = `/${name}`;
  return url.href;
}

/** Runs something over a connection of its own. */
export async function asAdmin<T>(adminUrl: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: adminUrl, connectionTimeoutMillis: 10_000 });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

async function dropDatabases(adminUrl: string, prefix: string): Promise<void> {
  await asAdmin(adminUrl, async (client) => {
    const { rows } = await client.query<{ datname: string }>(
      'SELECT datname FROM pg_database WHERE starts_with(datname, $1)',
      [prefix],
    );
    for (const { datname } of rows) {
      await client.query(`DROP DATABASE IF EXISTS ${client.escapeIdentifier(datname)} WITH (FORCE)`);
    }
  });
}

async function givenServer(): Promise<RunningServer | undefined> {
  const adminUrl = process.env.TEST_DATABASE_URL;
  if (adminUrl === undefined || adminUrl === '') return undefined;
  return {
    adminUrl,
    description: `the server of TEST_DATABASE_URL (${new URL(adminUrl).host})`,
    stop: async () => undefined,
  };
}

async function containerServer(): Promise<RunningServer | undefined> {
  const { getContainerRuntimeClient } = await import('testcontainers');
  try {
    await getContainerRuntimeClient();
  } catch {
    return undefined;
  }
  try {
    const { PostgreSqlContainer } = await import('@testcontainers/postgresql');
    const container = await new PostgreSqlContainer('postgres:18-alpine')
      .withCommand(['postgres', '-c', 'fsync=off', '-c', 'max_connections=200'])
      .start();
    return {
      adminUrl: container.getConnectionUri(),
      description: 'a PostgreSQL container',
      stop: async () => {
        await container.stop();
      },
    };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    console.log(`A container daemon answers, but no PostgreSQL container started: ${reason}`);
    return undefined;
  }
}

async function builtInServer(): Promise<RunningServer> {
  await removeAbandoned();
  const dataFolder = await mkdtemp(join(tmpdir(), `lintelbook-test-${process.pid}-`));
  const remove = () => rm(dataFolder, { recursive: true, force: true });
  try {
    const server = await startEmbeddedPostgres({
      dataFolder,
      durable: false,
      maxConnections: 200,
      fallbackParent: join(dataFolder, 'fallback'),
      log: (line) => {
        console.log(line);
      },
    });
    return {
      adminUrl: server.url,
      description: 'the built-in PostgreSQL',
      stop: async () => {
        await server.stop();
        await remove();
      },
    };
  } catch (error) {
    await remove();
    throw error;
  }
}

/** Removes the folders of runs that were killed: their servers ended with them, their files did not. */
async function removeAbandoned(): Promise<void> {
  for (const name of await readdir(tmpdir())) {
    const owner = /^lintelbook-(?:test|door)-(\d+)-/.exec(name)?.[1];
    if (owner !== undefined && !processIsAlive(Number(owner))) {
      // Another user's leftovers are theirs to remove.
      await rm(join(tmpdir(), name), { recursive: true, force: true }).catch(() => undefined);
    }
  }
}
