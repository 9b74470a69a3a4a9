import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Writable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import yazl from 'yazl';
import { loadDemo } from '../../../src/demo/load.ts';
import { Prisma } from '../../../src/database/generated/client.ts';
import { escapeHtml } from '../../../src/report/package/index-page.ts';
import { MANIFEST, manifestSchema, SUMS, sumsOf } from '../../../src/report/package/manifest.ts';
import { leftBehind, packedTables } from '../../../src/report/package/tables.ts';
import { openPackage } from '../../../src/report/package/unpack.ts';
import { verifyPackage } from '../../../src/report/package/verify.ts';
import { writePackage } from '../../../src/report/package/write.ts';
import { canonicalJson, sha256Hex } from '../../../src/record/canonical.ts';
import { compose } from '../../../src/web/compose.ts';
import { readConfig } from '../../../src/web/config.ts';
import { runVerify } from '../../record/support/scripts.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';

const run = promisify(execFile);
const script = fileURLToPath(new URL('../../../scripts/package', import.meta.url));

let database: FreshDatabase;
let folder: string;
let file: string;
let projectId: string;

beforeAll(async () => {
  [database, folder] = await Promise.all([
    freshDatabase(),
    mkdtemp(path.join(tmpdir(), 'lintelbook-package-')),
  ]);
  await loadDemo(compose(readConfig({ DATA_DIR: folder }), database.prisma), 'whole');
  projectId = (await database.prisma.project.findFirstOrThrow({ select: { id: true } })).id;
  // Words that would be markup if the page took them as such.
  await database.prisma.person.updateMany({ data: { name: '<script>alert(1)</script>' } });
  file = path.join(folder, 'record.zip');
  const env = { ...process.env, DATABASE_URL: database.url, DATA_DIR: folder };
  await run(script, [projectId, file], { env });
}, 300_000);
afterAll(async () => {
  await database.close();
  await rm(folder, { recursive: true, force: true });
});

/** The package as name → bytes, to be made anew with something changed. */
async function contents(): Promise<Map<string, Buffer>> {
  const opened = await openPackage(file);
  try {
    const all = new Map<string, Buffer>();
    for (const name of opened.names) all.set(name, await buffer(opened.read(name)));
    const manifest = `${canonicalJson(opened.manifest)}\n`;
    all.set(MANIFEST, Buffer.from(manifest));
    all.set(
      SUMS,
      Buffer.from(sumsOf([...opened.manifest.entries, { name: MANIFEST, sha256: sha256Hex(manifest) }])),
    );
    return all;
  } finally {
    opened.close();
  }
}

type Named = readonly (readonly [string, Buffer, number?])[];
async function zipOf(entries: Named, rename?: (bytes: Buffer) => void): Promise<string> {
  const zip = new yazl.ZipFile();
  for (const [name, bytes, mode] of entries)
    zip.addBuffer(bytes, name, { mode: mode ?? 0o100644, compress: false });
  zip.end();
  const bytes = await buffer(zip.outputStream);
  rename?.(bytes);
  const made = path.join(folder, `made-${Math.random().toString(36).slice(2)}.zip`);
  await writeFile(made, bytes);
  return made;
}

/** Puts a changed file in, and the sums of the package right again, as a forger would. */
function forged(all: ReadonlyMap<string, Buffer>, name: string, bytes: Buffer): Named {
  const manifest = manifestSchema.parse(JSON.parse((all.get(MANIFEST) ?? Buffer.alloc(0)).toString()));
  const sha256 = sha256Hex(bytes.toString('utf8'));
  const entries = manifest.entries.map((one) =>
    one.name === name ? { name, bytes: bytes.length, sha256 } : one,
  );
  const text = `${canonicalJson({ ...manifest, entries })}\n`;
  const sums = sumsOf([...entries, { name: MANIFEST, sha256: sha256Hex(text) }]);
  const next = new Map([...all, [name, bytes], [MANIFEST, Buffer.from(text)], [SUMS, Buffer.from(sums)]]);
  return [...next];
}

const breakOf = async (made: string) =>
  verifyPackage(made).then(
    () => null,
    (error: unknown) => (error as { broken?: unknown }).broken,
  );

it('carries every table of a record or says why not', () => {
  const known = [...packedTables.map(({ table }) => table), ...Object.keys(leftBehind)];
  const there = Object.values(Prisma.ModelName).map((name) =>
    name.replace(/(?<!^)[A-Z]/g, '_$&').toLowerCase(),
  );
  expect([...known].sort()).toEqual([...there].sort());
});

it('is verified by scripts/verify, and unpacked by sha256sum alone', async () => {
  const { code, stdout } = await runVerify({}, '--package', file);
  expect(stdout).toMatch(/OK: \d+ files, \d+ events/);
  expect(code).toBe(0);
  const unpacked = path.join(folder, 'unpacked');
  for (const [name, bytes] of await contents()) {
    const target = path.join(unpacked, name);
    await mkdir(path.dirname(target), { recursive: true });
    await writeFile(target, bytes);
  }
  const sums = await run('sha256sum', ['-c', 'SHA256SUMS'], { cwd: unpacked });
  const lines = sums.stdout.trim().split('\n');
  expect(lines.every((line) => line.endsWith(': OK'))).toBe(true);
  for (const paper of [
    'calculation-of-set-1',
    'drawings-of-set-1',
    'checklist-of-set-1',
    'visit-1',
    'owner-summary',
  ])
    expect(lines, paper).toContain(`papers/opening-1-${paper}.pdf: OK`);
  const index = await readFile(path.join(unpacked, 'index.html'), 'utf8');
  expect(index).not.toContain('<script');
  expect(index).toContain(escapeHtml('<script>alert(1)</script>'));
});

it('has the rows that the database has, and nothing that lets anybody in', async () => {
  const all = await contents();
  const lines = (name: string) =>
    (all.get(`records/${name}.jsonl`) ?? '').toString().split('\n').filter(Boolean);
  expect(lines('version')).toHaveLength(await database.prisma.version.count());
  expect(lines('finding')).toHaveLength(await database.prisma.finding.count());
  expect(lines('event')).toHaveLength(await database.prisma.event.count());
  const people = lines('person').map((line) => Object.keys(JSON.parse(line) as object));
  expect(people.length).toBeGreaterThan(3);
  for (const keys of people) expect(keys).toEqual(['id', 'name']);
  const secrets = await database.prisma.person.findMany({ select: { passwordHash: true, email: true } });
  for (const [name, bytes] of all) {
    if (!name.startsWith('records/')) continue;
    for (const { passwordHash, email } of secrets) {
      expect(bytes.includes(passwordHash)).toBe(false);
      expect(bytes.includes(email ?? '-')).toBe(false);
    }
  }
});

describe('names the first break', () => {
  it('of a changed byte in any file', async () => {
    const all = await contents();
    const papers = [...all.keys()].filter((name) => name.startsWith('papers/'));
    // Papers are all alike to a package, and many.
    const looked = [...all.keys()].filter((name) => papers.indexOf(name) < 3);
    for (const name of looked) {
      const changed = [...all].map(([one, bytes]) => {
        if (one !== name || bytes.length === 0) return [one, bytes] as const;
        const copy = Buffer.from(bytes);
        copy[copy.length >> 1] = (copy[copy.length >> 1] ?? 0) ^ 1;
        return [one, copy] as const;
      });
      if ((all.get(name)?.length ?? 0) === 0) continue;
      // A changed manifest no longer agrees with the list of sums, and is named by either.
      const expected = name === MANIFEST || name === SUMS ? /^(manifest|SHA)/ : new RegExp(`^${name}$`);
      const found = await breakOf(await zipOf(changed));
      expect(found).toMatchObject({ table: 'package' });
      expect((found as { row: string }).row).toMatch(expected);
    }
  });

  it.each([
    ['project', 'id'],
    ['event', 'actor_name'],
    ['version', 'engine_version'],
    ['approved_set', 'content'],
    ['mark', 'version_hash'],
  ])('of a forged %s whose sums were made right', async (table, column) => {
    const all = await contents();
    const name = `records/${table}.jsonl`;
    const [first = '', ...rest] = (all.get(name) ?? '').toString().split('\n');
    const row = { ...(JSON.parse(first) as object), [column]: 'forged' };
    const bytes = Buffer.from([canonicalJson(row), ...rest].join('\n'));
    expect(await breakOf(await zipOf(forged(all, name, bytes)))).toMatchObject({ table });
  });
});

describe('refuses what is no package', () => {
  it('a name twice, a file too many, a file too few, a link', async () => {
    const all = [...(await contents())];
    const bytes = Buffer.from('x');
    expect(await breakOf(await zipOf([...all, ['index.html', bytes]]))).toMatchObject({ row: 'index.html' });
    expect(await breakOf(await zipOf([...all, ['more.txt', bytes]]))).toMatchObject({ row: 'more.txt' });
    const fewer = all.filter(([name]) => name !== 'index.html');
    expect(await breakOf(await zipOf(fewer))).toMatchObject({ row: 'index.html' });
    const linked = await breakOf(await zipOf([...fewer, ['index.html', bytes, 0o120777]]));
    expect(linked).toMatchObject({ row: 'index.html', sentence: 'It is a link, not a file.' });
  });

  it('a name that leads out of the folder', async () => {
    // The packer refuses such a name itself: it is written over one of the same length.
    const made = await zipOf([['aa/aa/evil.txt', Buffer.from('x')]], (bytes) => {
      for (let at = bytes.indexOf('aa/aa'); at >= 0; at = bytes.indexOf('aa/aa')) bytes.write('../..', at);
    });
    expect(await breakOf(made)).toMatchObject({ sentence: 'invalid relative path: ../../evil.txt' });
  });

  it('a size other than the manifest’s, and a file that is no ZIP', async () => {
    const all = await contents();
    const longer = [...all].map(
      ([name, bytes]) => [name, name === 'index.html' ? Buffer.alloc(50_000_000) : bytes] as const,
    );
    expect(await breakOf(await zipOf(longer))).toMatchObject({ row: 'index.html' });
    const text = path.join(folder, 'text.zip');
    await writeFile(text, 'no archive');
    expect(await breakOf(text)).toMatchObject({ table: 'package' });
  });
});

it('leaves nothing open where the reader goes away', async () => {
  const deps = compose(readConfig({ DATA_DIR: folder }), database.prisma);
  const order = { databaseUrl: database.url, projectId, projectName: 'House', actor: null };
  const away = new Writable({
    highWaterMark: 1,
    write(_chunk, _encoding, done) {
      done(new Error('The reader went away.'));
    },
  });
  await expect(writePackage(deps, order, away)).rejects.toThrow('The reader went away.');
  await expect
    .poll(async () => {
      const rows = await database.prisma.$queryRaw<{ count: bigint }[]>`
        SELECT count(*) FROM pg_stat_activity
        WHERE datname = current_database() AND state LIKE 'idle in transaction%'`;
      return Number(rows[0]?.count);
    })
    .toBe(0);
});

it('writes no package where the bytes of a file are not those recorded', async () => {
  const { sha256 } = await database.prisma.attachment.findFirstOrThrow({ select: { sha256: true } });
  const blob = path.join(folder, 'files', 'blobs', sha256.slice(0, 2), sha256);
  const kept = await readFile(blob);
  await writeFile(blob, Buffer.concat([kept, Buffer.from('x')]));
  const env = { ...process.env, DATABASE_URL: database.url, DATA_DIR: folder };
  const target = path.join(folder, 'never.zip');
  await expect(run(script, [projectId, target], { env })).rejects.toMatchObject({ code: 2 });
  await writeFile(blob, kept);
  expect((await readdir(folder)).filter((name) => name.startsWith('never'))).toEqual([]);
});
