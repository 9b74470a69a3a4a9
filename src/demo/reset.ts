import pg from 'pg';
import { createDatabase } from '../database/client.ts';
import { databaseProblem, StartProblem } from '../database/problems.ts';
import { compose } from '../web/compose.ts';
import { BadEnvironment, readConfig, type Config } from '../web/config.ts';
import { databaseOf, prepareDatabase, type InstalledDatabase } from '../web/database-of.ts';
import { loadDemo, type DemoExtent } from './load.ts';
import { demoSignIns } from './people.ts';

const USAGE = `usage: scripts/demo [--first-proposal]

Empties the demo's database and tells the demo's story again; with --first-proposal only up to the proposal that
waits for the engineer. Refuses in production, where the database has people who are not of the demo, and while the
service is running.`;

/** A demo has the demo's people and at most those that visitors added to the demo's project; a record has others. */
async function refuseRecords(client: pg.Client): Promise<void> {
  const { rows } = await client.query<{ there: boolean }>(
    "SELECT to_regclass('public.person') IS NOT NULL AS there",
  );
  if (rows[0]?.there !== true) return;
  const people = await client.query<{ email: string }>('SELECT email FROM person');
  const demo = new Set<string>(demoSignIns.map((one) => one.email));
  if (people.rows.some(({ email }) => !demo.has(email))) {
    throw new StartProblem(
      'This database has people who are not of the demo. Nothing was touched.',
      'Point DATA_DIR or DATABASE_URL at the demo’s own.',
    );
  }
}

async function refuseWhileRunning(client: pg.Client): Promise<void> {
  const { rows } = await client.query<{ count: string }>(
    'SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()',
  );
  if (rows[0]?.count !== '0') {
    throw new StartProblem('The demo is running. Nothing was touched.', 'Stop it, then run this again.');
  }
}

/** Takes every table away: what only grows can't be emptied row by row, and is not meant to be. */
async function empty(url: string): Promise<void> {
  const client = new pg.Client(url);
  await client.connect();
  try {
    await refuseWhileRunning(client);
    await refuseRecords(client);
    await client.query('DROP SCHEMA IF EXISTS jobs CASCADE');
    await client.query('DROP SCHEMA public CASCADE');
    await client.query('CREATE SCHEMA public');
  } finally {
    await client.end();
  }
}

async function reset(config: Config, installed: InstalledDatabase, extent: DemoExtent): Promise<void> {
  await empty(installed.ownerUrl);
  await prepareDatabase(installed);
  const database = createDatabase(installed.url);
  try {
    await loadDemo(compose(config, database.prisma), extent);
  } finally {
    await database.close();
  }
}

async function main(): Promise<number> {
  const words = process.argv.slice(2);
  if (words.some((word) => word !== '--first-proposal')) {
    console.error(USAGE);
    return words.includes('--help') ? 0 : 2;
  }
  let stop = async () => Promise.resolve();
  let url = '';
  try {
    const config = readConfig(process.env);
    if (config.production) {
      throw new StartProblem('There is no demo in production.', 'Leave NODE_ENV unset for a demo.');
    }
    const database = await databaseOf(config, { log: console.log });
    stop = () => database.stop();
    url = database.url;
    await reset(config, database, words.length > 0 ? 'first proposal' : 'whole');
    console.log('The demo is as on its first day. Start it with scripts/run.');
    return 0;
  } catch (error) {
    const problem =
      error instanceof StartProblem || error instanceof BadEnvironment ? error : databaseProblem(error, url);
    console.error(
      problem instanceof StartProblem
        ? `${problem.sentence}\n${problem.remedy}`
        : (problem?.message ?? error),
    );
    return 1;
  } finally {
    await stop();
  }
}

process.exitCode = await main();
