import { randomBytes } from 'node:crypto';
import path from 'node:path';
import { CALL_QUEUE } from '../api/webhooks/work.ts';
import { startEmbeddedPostgres, type EmbeddedPostgresOptions } from '../database/embedded.ts';
import { migrate } from '../database/migrate.ts';
import { StartProblem } from '../database/problems.ts';
import { grantServing } from '../database/serving-role.ts';
import { JOBS_SCHEMA, makeQueues } from '../notify/jobs/mail-jobs.ts';
import type { Config } from './config.ts';

export interface InstalledDatabase {
  /** For whoever serves. */
  readonly url: string;
  /** For whoever owns the tables and migrates; the same where one role does both. */
  readonly ownerUrl: string;
  /** The serving role is of our own making. */
  readonly ownRole: boolean;
  stop(): Promise<void>;
}

const SERVING_ROLE = 'lintelbook_serving';

/** The database of an installation: the one it is told of, or its own under DATA_DIR, started here. */
export async function databaseOf(
  config: Config,
  options: Pick<EmbeddedPostgresOptions, 'log' | 'onUnexpectedEnd'>,
): Promise<InstalledDatabase> {
  const { databaseUrl, migrationDatabaseUrl } = config;
  if (databaseUrl !== null) {
    const ownerUrl = migrationDatabaseUrl ?? databaseUrl;
    return { url: databaseUrl, ownerUrl, ownRole: false, stop: () => Promise.resolve() };
  }
  const dataFolder = path.resolve(config.dataFolder, 'postgres');
  const postgres = await startEmbeddedPostgres({ dataFolder, ...options });
  const serving = new URL(postgres.url);
  serving.username = SERVING_ROLE;
  // Another one at each start; nobody else is let in by it.
  serving.password = randomBytes(24).toString('base64url');
  return { url: serving.href, ownerUrl: postgres.url, ownRole: true, stop: () => postgres.stop() };
}

/**
 * Brings the database up to date and, where another role serves than owns, gives that role what it needs and no more.
 *
 * @throws StartProblem as `migrate` and `grantServing`
 */
export async function prepareDatabase({
  url,
  ownerUrl,
  ownRole,
}: Omit<InstalledDatabase, 'stop'>): Promise<void> {
  await migrate(ownerUrl).catch((error: unknown) => {
    throw ownerUrl === url ? error : aboutOwner(error);
  });
  if (ownerUrl === url) return;
  await makeQueues(ownerUrl, [CALL_QUEUE]);
  await grantServing({ owner: ownerUrl, serving: url }, { schemas: [JOBS_SCHEMA], ownRole });
}

/** What is said of the owner's connection names the setting that it came from. */
function aboutOwner(error: unknown): unknown {
  if (!(error instanceof StartProblem)) return error;
  const remedy = error.remedy.replaceAll(/(?<!_)DATABASE_URL/g, 'MIGRATION_DATABASE_URL');
  return new StartProblem(error.sentence, remedy, error.cause);
}
