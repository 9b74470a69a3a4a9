import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import postgres from 'postgres';
import { createDatabase, type Database } from '../src/database/client.ts';
import { startEmbeddedPostgres } from '../src/database/embedded.ts';
import { migrate } from '../src/database/migrate.ts';
import { demoPhoto } from '../src/demo/pictures/photo.ts';
import { createSessions } from '../src/people/sessions/sessions.ts';
import { compose } from '../src/web/compose.ts';
import { readConfig } from '../src/web/config.ts';
import { Visitor } from '../tests/support/visitor.ts';
import { addCopies } from './growth/load.ts';
import { tellLongRecord } from './growth/long-record.ts';
import { startOver } from './service-over.ts';
import { readOriginal } from './growth/original.ts';
import { actsOf, type Act, type Worker } from './load/acts.ts';
import { Figures } from './load/figures.ts';
import { OpenPage } from './load/open-page.ts';

/**
 * So many signed-in people at work for so long, each with an open page that hears of what happens: pages, drafts,
 * versions, marks, checks passed and photos, in projects of four people each. Between two acts a person reads and
 * thinks. What this process takes of the machine is in the figures.
 */
const [people, seconds] = [Number(process.argv[2] ?? 200), Number(process.argv[3] ?? 600)];
const THINKS_MS = Number(process.env.THINK_MS ?? 8_000);
/** Without a bound the engine lets its heap grow as long as there is room, which says nothing of leaks. */
const HEAP = '--max-old-space-size=512';
/** With PROFILE=folder the service writes a CPU profile there. */
const profile = process.env.PROFILE ?? '';
const PROFILING = profile === '' ? [] : ['--cpu-prof', `--cpu-prof-dir=${profile}`];
/** People come one after another; what they meet before all are there is not counted. */
const ARRIVING_MS = 60_000;
const WARM_MS = 75_000;
const MEMORY_LINES = 10;

const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-load-'));
const server = await startEmbeddedPostgres({
  dataFolder: path.join(folder, 'postgres'),
  log: () => undefined,
  onUnexpectedEnd: (problem) => {
    throw problem;
  },
});
const figures = new Figures();
const database = createDatabase(server.url);
try {
  await populate();
  const service = await startOver(server.url, folder, { nodeOptions: [HEAP, ...PROFILING] });
  try {
    await atWork(service.base, service.process.pid ?? 0, database);
  } finally {
    await service.stop();
  }
} finally {
  await database.close();
  await server.stop();
  await rm(folder, { recursive: true, force: true });
}

async function populate(): Promise<void> {
  await migrate(server.url);
  const config = readConfig({ NODE_ENV: 'production', LOG_LEVEL: 'silent', DATA_DIR: folder });
  await tellLongRecord(compose(config, database.prisma), { furtherRows: 0, rounds: 1 });
  const sql = postgres(server.url, { max: 1, onnotice: () => undefined });
  await addCopies(sql, await readOriginal(sql), Math.ceil(people / 4) - 1, () => undefined);
  await sql.end();
}

async function atWork(base: string, pid: number, { prisma }: Database): Promise<void> {
  const members = await prisma.membership.findMany({ orderBy: { projectId: 'asc' }, take: people });
  const openings = await prisma.opening.findMany({
    where: { ordinal: 1 },
    include: { items: { where: { kind: 'fastening' }, select: { id: true } } },
  });
  const sessions = createSessions(prisma, { secureCookies: base.startsWith('https:') });
  const photo = await demoPhoto('attic', new Date(), 1);
  const workers: Worker[] = [];
  for (const { personId, projectId, role } of members) {
    const opening = openings.find((one) => one.projectId === projectId);
    if (opening === undefined) continue;
    const cookie = (await sessions.start(personId)).split(';')[0] ?? '';
    const inProject = `/projects/${projectId}`;
    const inOpening = `${inProject}/openings/${opening.id}`;
    const itemIds = opening.items.map(({ id }) => id);
    const visitor = new Visitor(cookie);
    const screen = new OpenPage(base, cookie, (problem) => figures.errors.push(problem));
    workers.push({ role, base, inProject, inOpening, itemIds, photo, visitor, screen });
  }
  console.log(`${workers.length} people, ${seconds} s; one act about every ${THINKS_MS / 1000} s each`);
  const start = performance.now();
  const until = start + WARM_MS + seconds * 1000;
  const looking = watchMemory(pid, until);
  await Promise.all(workers.map((worker) => works(worker, start + WARM_MS, until)));
  for (const { screen } of workers) screen.close();
  figures.table();
  console.table(await looking);
  console.log(`${figures.errors.length} errors`);
  for (const error of figures.errors.slice(0, 20)) console.log(error);
}

async function works(worker: Worker, from: number, until: number): Promise<void> {
  await sleep(Math.random() * ARRIVING_MS);
  while (performance.now() < until) {
    const act = chosen(actsOf[worker.role]);
    const start = performance.now();
    try {
      const done = await act.does(worker);
      if (start >= from) {
        if (done) figures.add(act.name, performance.now() - start);
        else figures.told(act.name);
      }
    } catch (error) {
      figures.errors.push(`${act.name}: ${error instanceof Error ? error.message : String(error)}`);
    }
    // Exponential: people come in bunches.
    await sleep(-Math.log(1 - Math.random()) * THINKS_MS);
  }
}

function chosen(acts: readonly Act[]): Act {
  let left = Math.random() * acts.reduce((sum, act) => sum + act.weight, 0);
  const found = acts.find((act) => (left -= act.weight) < 0);
  if (found === undefined) throw new Error('A role without acts.');
  return found;
}

/** Resident memory of the service in equal parts of the time: most and least in each. */
async function watchMemory(pid: number, until: number): Promise<object[]> {
  const rows = [];
  const part = (until - performance.now()) / MEMORY_LINES;
  for (let line = 1; line <= MEMORY_LINES; line += 1) {
    const end = performance.now() + part;
    const seen: number[] = [];
    while (performance.now() < end) {
      const status = await readFile(`/proc/${pid}/status`, 'utf8');
      seen.push(Number(/VmRSS:\s+(\d+) kB/.exec(status)?.[1]) / 1024);
      await sleep(1_000);
    }
    rows.push({
      part: line,
      'least, MB': Math.round(Math.min(...seen)),
      'most, MB': Math.round(Math.max(...seen)),
    });
  }
  return rows;
}
