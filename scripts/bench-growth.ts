import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import postgres from 'postgres';
import { createDatabase } from '../src/database/client.ts';
import { startEmbeddedPostgres } from '../src/database/embedded.ts';
import { migrate } from '../src/database/migrate.ts';
import { compose } from '../src/web/compose.ts';
import { readConfig } from '../src/web/config.ts';
import { addCopies } from './growth/load.ts';
import { tellLongRecord } from './growth/long-record.ts';
import { readOriginal } from './growth/original.ts';
import { measureBoth } from './growth/measure.ts';
import { sizes } from './growth/sizes.ts';
import { verifyAll } from './growth/verify.ts';

/**
 * A small installation and a large one beside each other: the same project in both, and in the large one so many
 * copies of it. Main pages and marks are timed in turn in both, as ratios; then plans, sizes, and `scripts/verify`.
 */
const [projects, rounds] = [Number(process.argv[2] ?? 1000), Number(process.argv[3] ?? 13)];
const FURTHER_ROWS = 29;

const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-growth-'));
const server = await startEmbeddedPostgres({
  dataFolder: path.join(folder, 'postgres'),
  durable: false,
  log: () => undefined,
  onUnexpectedEnd: (problem) => {
    throw problem;
  },
});
const admin = postgres(server.url, { max: 1, onnotice: () => undefined });
const urlOf = (name: string) => server.url.replace(/[^/]*$/, name);
const dataFolder = path.join(folder, 'data');
try {
  await mkdir(dataFolder);
  const start = performance.now();
  const passed = () => `${((performance.now() - start) / 1000).toFixed(0)} s`;
  await admin`CREATE DATABASE small`;
  await migrate(urlOf('small'));
  const database = createDatabase(urlOf('small'));
  const config = readConfig({
    NODE_ENV: 'production',
    LOG_LEVEL: 'silent',
    DATA_DIR: dataFolder,
    DEMO: 'true',
  });
  await tellLongRecord(compose(config, database.prisma), { furtherRows: FURTHER_ROWS, rounds });
  await database.close();
  console.log(`one project told in ${passed()}`);
  await admin`CREATE DATABASE large TEMPLATE small`;
  const large = postgres(urlOf('large'), { max: 2, onnotice: () => undefined });
  await addCopies(large, await readOriginal(large), projects - 1, (done) => {
    if (done % 100 === 0) console.log(`${done} copies after ${passed()}`);
  });
  await sizes(large);
  await large.end();
  await measureBoth({ small: urlOf('small'), large: urlOf('large'), dataFolder });
  await verifyAll(urlOf('large'), dataFolder);
} finally {
  await admin.end();
  await server.stop();
  await rm(folder, { recursive: true, force: true });
}
