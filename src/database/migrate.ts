import { join } from 'node:path';
import pg from 'pg';
import { NO_FILTERS, openSchemaEngine, type MigrationList, type SchemaEngine } from './migration/engine.ts';
import { PRISMA_FOLDER, readMigrations, readSchema } from './migration/files.ts';
import { databaseProblem, parseDatabaseUrl, StartProblem } from './problems.ts';

/** The advisory lock of Prisma's own tools, so that they and this code keep out of each other's way. */
const MIGRATION_LOCK = 72_707_369;
const LOCK_LIMIT_MS = 60_000;

export interface MigrateOptions {
  /** Default: the project's prisma/migrations. */
  readonly migrationsFolder?: string;
}

/**
 * Brings the database up to date: applies the migrations it has not seen, in order, each in one
 * transaction together with its row in `_prisma_migrations`. A migration that fails, or a process that is
 * killed, leaves nothing of it behind. Several processes may call this at once; one works, the others
 * wait and then find nothing to do.
 *
 * @returns the names of the migrations applied by this call.
 * @throws StartProblem when the database cannot be reached or does not fit the migrations, or one fails.
 */
export async function migrate(databaseUrl: string, options: MigrateOptions = {}): Promise<string[]> {
  const migrations = await readMigrations(options.migrationsFolder ?? join(PRISMA_FOLDER, 'migrations'));
  return withEngine(databaseUrl, async (session) => {
    await takeLock(session.client);
    const pending = await pendingMigrations(session.engine, migrations);
    for (const name of pending) await applyOne(session, migrations, name);
    return pending;
  });
}

/**
 * Compares a database with schema.prisma, by the engine's own rules: what Prisma cannot express
 * (triggers, functions, CHECKs, partial indexes) is not compared.
 *
 * @returns the SQL that would make the database match, or undefined when nothing differs.
 */
export async function schemaDiffers(
  databaseUrl: string,
  schemaFile = join(PRISMA_FOLDER, 'schema.prisma'),
): Promise<string | undefined> {
  const schema = await readSchema(schemaFile);
  return withEngine(databaseUrl, async ({ engine }) => {
    const difference = await engine.diff({
      from: { tag: 'schemaDatasource', files: schema.files, configDir: PRISMA_FOLDER },
      to: { tag: 'schemaDatamodel', files: schema.files },
      script: true,
      exitCode: true,
      filters: NO_FILTERS,
    });
    // As on the command line: 0 nothing differs, 2 something does.
    return difference.exitCode === 0 ? undefined : (difference.stdout ?? '');
  });
}

interface Session {
  readonly engine: SchemaEngine;
  readonly client: pg.Client;
  /** PostgreSQL's own error from a migration script; the engine passes on less. */
  readonly scriptError: () => unknown;
}

async function withEngine<T>(databaseUrl: string, work: (session: Session) => Promise<T>): Promise<T> {
  parseDatabaseUrl(databaseUrl);
  const client = new pg.Client({
    connectionString: databaseUrl,
    connectionTimeoutMillis: 10_000,
    application_name: 'lintelbook migrate',
  });
  // A connection lost while idle is reported by the next query; without a listener it ends the process.
  client.on('error', () => undefined);
  try {
    // The engine wraps connection errors beyond recognition, so the first contact is made without it.
    await client.connect();
    let scriptError: unknown;
    const engine = await openSchemaEngine(client, (error) => (scriptError = error));
    try {
      return await work({ engine, client, scriptError: () => scriptError });
    } finally {
      engine.free();
    }
  } catch (error) {
    throw databaseProblem(error, databaseUrl) ?? error;
  } finally {
    await client.end();
  }
}

/** Taken for the session; ends with the connection. */
async function takeLock(client: pg.Client): Promise<void> {
  await client.query(`SET lock_timeout = ${LOCK_LIMIT_MS}`);
  try {
    await client.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK]);
  } catch (error) {
    if (!(error instanceof pg.DatabaseError) || error.code !== '55P03') throw error;
    throw new StartProblem(
      'Another process has been migrating this database for a minute.',
      'Wait until it is done, or end it; then start again.',
      error,
    );
  }
  await client.query('SET lock_timeout = 0');
}

async function pendingMigrations(engine: SchemaEngine, migrations: MigrationList): Promise<string[]> {
  const state = await engine.diagnoseMigrationHistory({
    migrationsList: migrations,
    optInToShadowDatabase: false,
    filters: NO_FILTERS,
  });
  const [failed] = state.failedMigrationNames;
  if (failed !== undefined) {
    throw new StartProblem(
      `The migration ${failed} failed in this database earlier, under another tool.`,
      'Repair the database, then mark it with "prisma migrate resolve", or restore a backup.',
    );
  }
  const history = state.history;
  if (history?.diagnostic === 'migrationsDirectoryIsBehind' || history?.diagnostic === 'historiesDiverge') {
    throw new StartProblem(
      `The database has been migrated by another version of the program (${history.unpersistedMigrationNames.join(', ')}).`,
      'Start the version that did it, or a later one.',
    );
  }
  const pending = history?.unappliedMigrationNames ?? [];
  // A migration that was rolled back may have been corrected since; an applied one may not.
  const [edited] = state.editedMigrationNames.filter((name) => !pending.includes(name));
  if (edited !== undefined) {
    throw new StartProblem(
      `The migration ${edited} was changed after it had been applied to this database.`,
      'Restore its file and put the change into a new migration, or use a new, empty database.',
    );
  }
  return pending;
}

/** `_prisma_migrations` and the schema change in one transaction: all of the migration, or nothing. */
async function applyOne(session: Session, migrations: MigrationList, name: string): Promise<void> {
  const { engine, client } = session;
  const last = migrations.migrationDirectories.findIndex((directory) => directory.path === name);
  const upToThisOne = {
    ...migrations,
    migrationDirectories: migrations.migrationDirectories.slice(0, last + 1),
  };
  await client.query('BEGIN');
  try {
    const { appliedMigrationNames } = await engine.applyMigrations({
      migrationsList: upToThisOne,
      filters: NO_FILTERS,
    });
    if (appliedMigrationNames.join() !== name) {
      throw new Error(`expected to apply ${name}, the engine applied "${appliedMigrationNames.join()}"`);
    }
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw migrationProblem(migrations, name, session.scriptError() ?? error);
  }
}

function migrationProblem(migrations: MigrationList, name: string, error: unknown): StartProblem {
  if (error instanceof Error && 'code' in error && error.code === 'P3005') {
    return new StartProblem(
      'The database is not empty, and its tables were not made by this program.',
      'Use a database of its own for it, new and empty.',
      error,
    );
  }
  const said = error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error);
  return new StartProblem(
    `The migration ${name} failed${describeLine(migrations, name, error)}: ${said}.`,
    'Nothing of it was applied. Correct the cause and start again.',
    error,
  );
}

function describeLine(migrations: MigrationList, name: string, error: unknown): string {
  const content = migrations.migrationDirectories.find((directory) => directory.path === name)?.migrationFile
    .content;
  if (!(error instanceof pg.DatabaseError) || error.position === undefined || content?.tag !== 'ok')
    return '';
  const line = content.value.slice(0, Number(error.position) - 1).split('\n').length;
  return ` at line ${line}`;
}
