import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { tmpdir } from 'node:os';
import path from 'node:path';
import postgres from 'postgres';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '../../../src/actor.ts';
import { receiveFile } from '../../../src/attachments/receive.ts';
import { addAttachments } from '../../../src/attachments/service.ts';
import { demoCriteria } from '../../../src/demo/cinder-ferry.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { createProject } from '../../../src/record/projects/service.ts';
import { compose } from '../../../src/web/compose.ts';
import { readConfig } from '../../../src/web/config.ts';
import { largePdf } from '../../support/large-pdf.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';

/** Resident memory is read from /proc, which Linux alone has. */
const linux = process.platform === 'linux';
const MEGABYTE = 1024 * 1024;
const FILES = 2;
const FILE_MEGABYTES = 60;
const VERSIONS = 13_000;
/** Less than the rows of the longest record here. Without a bound the engine collects late, which says nothing. */
const HEAP = '--max-old-space-size=160';
/** What a longer record may take beside a short one: buffers that fill, memory not yet collected. */
const MORE_MEGABYTES = 96;

let from: FreshDatabase;
let into: FreshDatabase;
let folder: string;
let small: Actor;
let large: Actor;
const peaks = new Map<string, number>();

async function found(name: string, files: number): Promise<Actor> {
  const deps = compose(readConfig({ DATA_DIR: path.join(folder, 'from') }), from.prisma);
  const person = await from.prisma.person.create({
    data: { name, email: `${name}@example.org`, passwordHash: 'none' },
  });
  const lines = { name, address: '1 Row', jurisdiction: 'Town', permitNumber: '' };
  const { projectId } = await createProject(deps, { personId: person.id, name }, lines);
  const actor: Actor = { personId: person.id, name, role: 'contractor', projectId };
  await createItem(deps, actor, {
    openingId: null,
    kind: 'criteria',
    key: 'criteria',
    title: 'Design criteria',
    content: demoCriteria,
  });
  for (let file = 1; file <= files; file += 1) {
    const options = { limitBytes: 2 * FILE_MEGABYTES * MEGABYTE, wasCutShort: () => false };
    const received = await receiveFile(deps.blobs, Readable.from(largePdf(FILE_MEGABYTES)), options);
    await addAttachments(deps, actor, {
      files: [{ ...received, originalName: `drawing-${file}.pdf` }],
      caption: '',
      to: { subject: 'project', subjectId: projectId },
    });
  }
  return actor;
}

/** Runs a program to its end. @returns the most memory it held, in MB */
async function run(
  program: string,
  args: readonly string[],
  database: FreshDatabase,
  data: string,
): Promise<number> {
  const child = spawn(process.execPath, [HEAP, '--import', 'tsx', `src/${program}`, ...args], {
    cwd: path.resolve(import.meta.dirname, '../../..'),
    env: { ...process.env, DATABASE_URL: database.url, DATA_DIR: path.join(folder, data) },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk: Buffer) => (said += chunk.toString()));
  let mostKb = 0;
  const look = setInterval(() => {
    try {
      const status = readFileSync(`/proc/${child.pid ?? 0}/status`, 'utf8');
      mostKb = Math.max(mostKb, Number(/VmHWM:\s+(\d+) kB/.exec(status)?.[1] ?? 0));
    } catch {
      // It has ended.
    }
  }, 10);
  const [code] = (await once(child, 'exit')) as [number | null];
  clearInterval(look);
  expect(code, said).toBe(0);
  return mostKb / 1024;
}

const packed = (name: string) => path.join(folder, `${name}.zip`);
const pack = (name: string, { projectId }: Actor) =>
  run('report/package/main.ts', [projectId, packed(name)], from, 'from');

beforeAll(async () => {
  [from, into, folder] = await Promise.all([
    freshDatabase(),
    freshDatabase(),
    mkdtemp(path.join(tmpdir(), 'lintelbook-packed-')),
  ]);
  small = await found('small', 0);
  large = await found('large', FILES);
  peaks.set('small', await pack('small', small));
}, 300_000);
afterAll(async () => {
  await Promise.all([from.close(), into.close()]);
  await rm(folder, { recursive: true, force: true });
});

describe.skipIf(!linux)('a record of hundreds of megabytes', () => {
  it('is packed in the memory that a small one takes', async () => {
    const peak = await pack('large', large);
    console.log(`most memory: ${peak.toFixed(0)} MB, of the small one ${peaks.get('small')!.toFixed(0)} MB`);
    expect(peak - peaks.get('small')!).toBeLessThan(MORE_MEGABYTES);
    const { projectId } = large;
    const bytes = await from.prisma.attachment.aggregate({ where: { projectId }, _sum: { bytes: true } });
    expect(Number(bytes._sum.bytes)).toBeGreaterThan(FILES * FILE_MEGABYTES * MEGABYTE);
    expect((await stat(packed('large'))).size).toBeGreaterThan((await stat(packed('small'))).size);
  }, 180_000);

  it('is verified by itself and taken in elsewhere in the memory that a small one takes', async () => {
    const verify = (name: string) => run('record/verify/main.ts', ['--package', packed(name)], into, 'into');
    const takeIn = (name: string) => run('report/package/import-main.ts', [packed(name)], into, 'into');
    const [verifiedSmall, verified] = [await verify('small'), await verify('large')];
    expect(verified - verifiedSmall).toBeLessThan(MORE_MEGABYTES);
    const [takenSmall, taken] = [await takeIn('small'), await takeIn('large')];
    console.log(`verified in ${verified.toFixed(0)} MB, taken in in ${taken.toFixed(0)} MB`);
    expect(taken - takenSmall).toBeLessThan(MORE_MEGABYTES);
    expect(await into.prisma.attachment.count()).toBe(FILES);
  }, 180_000);

  it('is packed so with many versions as well', async () => {
    const sql = postgres(from.url, { max: 1, onnotice: () => undefined });
    // Long versions by the thousand, of which only the writing is looked at: they are in no log.
    await sql`
      INSERT INTO version (project_id, item_id, number, content, rests_on, calculation, calculation_hash,
                           engine_version, hash, author_id, author_role)
      SELECT project_id, item_id, number + n, content, rests_on, '"' || repeat('f9 ' || n, 2000) || '"',
             calculation_hash, engine_version, hash, author_id, author_role
      FROM version, generate_series(1, ${VERSIONS}::int) n WHERE project_id = ${large.projectId}`;
    await sql.end();
    await rm(packed('large'));
    const peak = await pack('large', large);
    console.log(`most memory with ${VERSIONS} versions more: ${peak.toFixed(0)} MB`);
    expect(peak - peaks.get('small')!).toBeLessThan(MORE_MEGABYTES);
  }, 180_000);
});
