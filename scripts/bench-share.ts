import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { Agent, get } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { startEmbeddedPostgres } from '../src/database/embedded.ts';
import { signIn } from '../tests/support/crawl/crawl.ts';
import { mainPages } from '../tests/support/main-pages.ts';
import { freePort } from '../tests/support/running-server.ts';
import { startOver } from './service-over.ts';

/**
 * How many times a second the pages of a work list and of a checklist are answered, as a share of a bare Fastify route
 * with one Prisma query over the same database, in turn within one run. With PROFILE=folder the service writes a CPU
 * profile there.
 */
const AT_ONCE = 8;
const ROUND_MS = 4_000;
const ROUNDS = 3;

const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-share-'));
const postgres = await startEmbeddedPostgres({
  dataFolder: path.join(folder, 'postgres'),
  log: () => undefined,
  onUnexpectedEnd: (problem) => {
    throw problem;
  },
});
const service = await startOver(postgres.url, folder, { nodeOptions: profiling() });
const bare = await startBare();
try {
  const pages = await mainPages(service.base);
  const measured = [];
  for (const [name, page] of [
    ['work list, contractor', 'what waits'],
    ['checklist, inspector', 'checklist'],
    ['opening, contractor', 'opening'],
  ] as const) {
    const found = pages.find((one) => one.name === page);
    if (found === undefined) throw new Error(`no page ${page}`);
    const cookie = (await signIn(service.base, found.who)).cookies();
    measured.push({ name, url: service.base + found.address, cookie });
  }
  const engineer = (await signIn(service.base, 'engineer')).cookies();
  measured.push({ name: 'work list, engineer', url: `${service.base}/`, cookie: engineer });
  const counts = new Map<string, number[]>();
  const routes = [{ name: 'bare route', url: bare.url, cookie: '' }, ...measured];
  for (const route of routes) await rate(route, 1_000);
  for (let round = 0; round < ROUNDS; round += 1) {
    for (const route of routes) {
      counts.set(route.name, [...(counts.get(route.name) ?? []), await rate(route, ROUND_MS)]);
    }
  }
  const best = (name: string) => Math.max(...(counts.get(name) ?? [0]));
  console.table(
    routes.map(({ name }) => ({
      route: name,
      'requests a second': Math.round(best(name)),
      'share of the bare route': `${((100 * best(name)) / best('bare route')).toFixed(1)} %`,
    })),
  );
} finally {
  bare.process.kill();
  await service.stop();
  await postgres.stop();
  await rm(folder, { recursive: true, force: true });
}

function profiling(): readonly string[] {
  const to = process.env.PROFILE;
  return to === undefined || to === '' ? [] : ['--cpu-prof', `--cpu-prof-dir=${to}`];
}

async function startBare(): Promise<{ url: string; process: ChildProcess }> {
  const port = await freePort();
  const child = spawn(process.execPath, ['--import', 'tsx', 'scripts/bare-route.ts'], {
    cwd: path.resolve(import.meta.dirname, '..'),
    env: { ...process.env, NODE_ENV: 'production', DATABASE_URL: postgres.url, PORT: String(port) },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await once(child.stdout, 'data');
  return { url: `http://localhost:${port}/`, process: child };
}

/** Answers in a second, so many asked for at once. */
async function rate(
  { url, cookie }: { readonly url: string; readonly cookie: string },
  forMs: number,
): Promise<number> {
  const agent = new Agent({ keepAlive: true, maxSockets: AT_ONCE });
  const start = performance.now();
  let answered = 0;
  await Promise.all(
    Array.from({ length: AT_ONCE }, async () => {
      while (performance.now() - start < forMs) {
        await taken(url, cookie, agent);
        answered += 1;
      }
    }),
  );
  agent.destroy();
  return (answered * 1000) / (performance.now() - start);
}

function taken(url: string, cookie: string, agent: Agent): Promise<void> {
  return new Promise((resolve, reject) => {
    get(url, { agent, headers: { cookie, accept: 'text/html', 'accept-encoding': 'gzip' } }, (answer) => {
      if (answer.statusCode !== 200) reject(new Error(`${url} answered ${answer.statusCode ?? ''}`));
      answer.resume();
      answer.once('end', resolve);
    }).once('error', reject);
  });
}
