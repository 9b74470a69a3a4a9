import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { get, type IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createDatabase } from '../src/database/client.ts';
import { startEmbeddedPostgres } from '../src/database/embedded.ts';
import { createSessions } from '../src/people/sessions/sessions.ts';
import { startOver } from './service-over.ts';

/**
 * What open pages cost: the same service with none, one and a hundred of them open, within one run. A page that is
 * asked for meanwhile, the time until all have heard of an event, and resident memory. Linux, which alone has /proc.
 */
const PAGES = 100;
const OF_ONE_PERSON = 10;

const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-live-'));
const postgres = await startEmbeddedPostgres({
  dataFolder: path.join(folder, 'postgres'),
  log: () => undefined,
  onUnexpectedEnd: (problem) => {
    throw problem;
  },
});
const database = createDatabase(postgres.url);
const service = await startOver(postgres.url, folder, { demo: 'first proposal' });
const { base } = service;
try {
  await measure();
} finally {
  await service.stop();
  await database.close();
  await postgres.stop();
  await rm(folder, { recursive: true, force: true });
}

async function measure(): Promise<void> {
  const { prisma } = database;
  const project = await prisma.project.findFirstOrThrow();
  const contractor = await prisma.membership.findFirstOrThrow({
    where: { projectId: project.id, role: 'contractor' },
  });
  const opening = await prisma.opening.findFirstOrThrow({ where: { projectId: project.id } });
  const cookie = await signedIn(contractor.personId);
  const page = `${base}/projects/${project.id}/openings/${opening.id}`;
  const live = `${base}/projects/${project.id}/live`;
  const inspectors: string[] = [];
  for (let person = 0; person < PAGES / OF_ONE_PERSON; person += 1) {
    const { id } = await prisma.person.create({
      data: { name: `Inspector ${person}`, email: `${person}@bench.example.org`, passwordHash: '' },
    });
    await prisma.membership.create({
      data: { projectId: project.id, personId: id, role: 'inspector' },
    });
    inspectors.push(await signedIn(id));
  }
  for (let warm = 0; warm < 150; warm += 1) await taken(page, cookie);

  const open: Listening[] = [];
  const rows: { open: number; pageMs: number; heardMs: number; residentMb: number }[] = [];
  // None once more at the end: how far the figures drift by themselves.
  for (const count of [0, 1, PAGES, 0]) {
    while (open.length > count) open.pop()?.end();
    while (open.length < count) {
      open.push(await listen(live, inspectors[Math.floor(open.length / OF_ONE_PERSON)] ?? ''));
    }
    const pageMs = await medianOf(21, () => taken(page, cookie));
    const heardMs =
      count === 0
        ? Number.NaN
        : await medianOf(7, async () => {
            const start = performance.now();
            const heard = Promise.all(open.map((one) => one.next()));
            await ask(page, cookie);
            await heard;
            return performance.now() - start;
          });
    rows.push({ open: count, pageMs, heardMs, residentMb: await residentMb() });
  }
  const [none, single, all] = rows;
  if (none === undefined || single === undefined || all === undefined) return;
  console.log('open pages   a page meanwhile   until all have heard   resident memory');
  for (const row of rows) {
    console.log(
      [
        String(row.open).padStart(10),
        `${row.pageMs.toFixed(1)} ms (${(row.pageMs / none.pageMs).toFixed(2)} x)`.padStart(19),
        Number.isNaN(row.heardMs)
          ? ''.padStart(22)
          : `${row.heardMs.toFixed(1)} ms (${(row.heardMs / single.heardMs).toFixed(2)} x)`.padStart(22),
        `${row.residentMb.toFixed(0)} MB`.padStart(17),
      ].join(''),
    );
  }
  console.log(
    `resident memory for one open page: ${(((all.residentMb - none.residentMb) / PAGES) * 1024).toFixed(0)} kB`,
  );
}

interface Listening {
  /** Resolves with the next line that is told. */
  readonly next: () => Promise<void>;
  readonly end: () => void;
}

async function listen(url: string, cookie: string): Promise<Listening> {
  const request = get(url, { headers: { accept: 'text/event-stream', cookie }, agent: false });
  const [response] = (await once(request, 'response')) as [IncomingMessage];
  if (response.statusCode !== 200) throw new Error(`${url} answered ${response.statusCode ?? ''}`);
  let waiting: (() => void) | null = null;
  response.setEncoding('utf8');
  response.on('data', (chunk: string) => {
    if (chunk.includes('data:')) waiting?.();
  });
  return {
    next: () =>
      new Promise((resolve) => {
        waiting = resolve;
      }),
    end: () => request.destroy(),
  };
}

async function taken(url: string, cookie: string): Promise<number> {
  const start = performance.now();
  const answer = await fetch(url, { headers: { cookie } });
  await answer.text();
  if (answer.status !== 200) throw new Error(`${url} answered ${answer.status}`);
  return performance.now() - start;
}

/** An event that every role hears of: something is listed for use again. */
async function ask(opening: string, cookie: string): Promise<void> {
  const form = await fetch(`${opening}/salvage`, { headers: { cookie } });
  const body = await form.text();
  const jar = [cookie, ...form.headers.getSetCookie().map((one) => one.split(';')[0] ?? '')].join('; ');
  const token = /name="_csrf" value="([^"]+)"/.exec(body)?.[1] ?? '';
  const what = `Door ${performance.now()}`;
  const answer = await fetch(`${opening}/salvage`, {
    method: 'POST',
    redirect: 'manual',
    headers: { cookie: jar, 'sec-fetch-site': 'same-origin' },
    body: new URLSearchParams({ _csrf: token, what, howMany: '1' }),
  });
  if (answer.status !== 303) throw new Error(`listing answered ${answer.status}`);
}

async function medianOf(times: number, work: () => Promise<number>): Promise<number> {
  const all: number[] = [];
  for (let time = 0; time < times; time += 1) all.push(await work());
  return all.sort((one, other) => one - other)[Math.floor(times / 2)] ?? Number.NaN;
}

async function residentMb(): Promise<number> {
  const status = await readFile(`/proc/${service.process.pid ?? 0}/status`, 'utf8');
  return Number(/VmRSS:\s+(\d+) kB/.exec(status)?.[1]) / 1024;
}

async function signedIn(personId: string): Promise<string> {
  const cookie = await createSessions(database.prisma, { secureCookies: false }).start(personId);
  return cookie.split(';')[0] ?? '';
}
