import { mkdtemp, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hasItsHash } from '../../../src/attachments/integrity.ts';
import { BlobMissing, type BlobStore } from '../../../src/attachments/storage/blob-store.ts';
import { createDiskStore } from '../../../src/attachments/storage/disk-store.ts';
import { createObjectStore } from '../../../src/attachments/storage/object-store.ts';
import { sha256Of } from '../support/hostile-files.ts';
import { startObjectStore } from '../support/object-store-server.ts';

/** One store and a look behind it. */
interface Bench {
  readonly store: BlobStore;
  incoming: () => Promise<number>;
  stored: () => Promise<number>;
  damage: (sha256: string) => Promise<void>;
  /** Makes everything look as if it were written a day ago. */
  age: () => Promise<void>;
  close: () => Promise<void>;
}

async function diskBench(): Promise<Bench> {
  const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-store-'));
  const files = async (name: string) =>
    (await readdir(path.join(folder, name), { recursive: true, withFileTypes: true }).catch(() => []))
      .filter((entry) => entry.isFile())
      .map((entry) => path.join(entry.parentPath, entry.name));
  return {
    store: createDiskStore(folder),
    incoming: async () => (await files('incoming')).length,
    stored: async () => (await files('blobs')).length,
    async damage(sha256) {
      const place = path.join(folder, 'blobs', sha256.slice(0, 2), sha256);
      const bytes = await readFile(place);
      bytes[0]! ^= 1;
      await writeFile(place, bytes);
    },
    async age() {
      const yesterday = new Date(Date.now() - 86_400_000);
      for (const file of [...(await files('incoming')), ...(await files('blobs'))]) {
        await utimes(file, yesterday, yesterday);
      }
    },
    close: () => rm(folder, { recursive: true, force: true }),
  };
}

async function objectBench(): Promise<Bench> {
  const server = await startObjectStore();
  const count = (prefix: string) => [...server.objects.keys()].filter((key) => key.startsWith(prefix)).length;
  return {
    store: createObjectStore({
      endpoint: server.endpoint,
      bucket: server.bucket,
      region: 'here',
      accessKeyId: 'test-key',
      secretAccessKey: 'test-secret',
    }),
    incoming: async () => count('incoming/') + server.parts.size,
    stored: async () => count('blobs/'),
    async damage(sha256) {
      const found = server.objects.get(`blobs/${sha256.slice(0, 2)}/${sha256}`);
      found!.bytes[0]! ^= 1;
    },
    async age() {
      const yesterday = new Date(Date.now() - 86_400_000);
      for (const object of server.objects.values()) object.modified = yesterday;
      for (const upload of server.parts.values()) upload.begun = yesterday;
    },
    async close() {
      expect(server.unsigned).toEqual([]);
      await server.close();
    },
  };
}

describe.each([
  ['on disk', diskBench],
  ['in an object store', objectBench],
])('a store %s', (_where, bench) => {
  let one: Bench;
  let store: BlobStore;
  beforeEach(async () => {
    one = await bench();
    ({ store } = one);
  });
  afterEach(() => one.close());
  const small = Buffer.from('two by ten, number two');
  const take = (bytes: Buffer, piece = 100_000) =>
    store.receive(
      Readable.from(
        (function* () {
          for (let at = 0; at < bytes.length; at += piece) yield bytes.subarray(at, at + piece);
        })(),
      ),
    );

  it('takes bytes in, hashes them, shows them only once they are committed', async () => {
    const received = await take(small, 5);
    expect(received).toMatchObject({ sha256: sha256Of(small), bytes: small.length, head: small });
    expect(await store.size(received.sha256)).toBeNull();
    await expect(store.open(received.sha256)).rejects.toThrow(BlobMissing);
    expect(await buffer(received.reread())).toEqual(small);
    expect(await buffer(received.reread({ start: 4, end: 5 }))).toEqual(Buffer.from('by'));
    await received.commit();
    await received.discard();
    expect(await store.size(received.sha256)).toBe(small.length);
    expect(await buffer(await store.open(received.sha256))).toEqual(small);
    expect(await buffer(await store.open(received.sha256, { start: 0, end: 2 }))).toEqual(Buffer.from('two'));
    expect(await one.incoming()).toBe(0);
  });

  it('takes what needs several parts', async () => {
    const large = Buffer.alloc(20 * 1024 * 1024, 'joist');
    const received = await take(large);
    await received.commit();
    expect(received.sha256).toBe(sha256Of(large));
    expect((await buffer(await store.open(received.sha256))).equals(large)).toBe(true);
    expect([await one.incoming(), await one.stored()]).toEqual([0, 1]);
  });

  it('forgets what is discarded, and what a sender breaks off', async () => {
    await (await take(small)).discard();
    const broken = Readable.from(
      (function* () {
        yield Buffer.alloc(9 * 1024 * 1024);
        throw new Error('the sender went away');
      })(),
    );
    await expect(store.receive(broken)).rejects.toThrow('the sender went away');
    expect([await one.incoming(), await one.stored()]).toEqual([0, 0]);
  });

  it('stores the same bytes once, and mends a damaged file by them', async () => {
    for (let time = 0; time < 2; time += 1) await (await take(small)).commit();
    expect(await one.stored()).toBe(1);
    const sha256 = sha256Of(small);
    expect(await hasItsHash(store, sha256)).toBe(true);
    await one.damage(sha256);
    expect(await hasItsHash(store, sha256)).toBe(false);
    await (await take(small)).commit();
    expect(await hasItsHash(store, sha256)).toBe(true);
  });

  it.each(['../../etc/passwd', '', 'A'.repeat(64), 'a'.repeat(63)])(
    'knows no file called %j',
    async (name) => {
      await expect(store.open(name)).rejects.toThrow(BlobMissing);
    },
  );

  it('gives up for the sweep what is old, unnamed and unfinished, and nothing else', async () => {
    const kept = await take(Buffer.from('named'));
    await kept.commit();
    const gone = await take(Buffer.from('unnamed'));
    await gone.commit();
    await take(Buffer.from('never committed'));
    await one.age();
    const young = await take(Buffer.from('young'));
    await young.commit();

    const hourAgo = new Date(Date.now() - 3_600_000);
    const old: string[] = [];
    for await (const sha256 of store.writtenBefore(hourAgo)) old.push(sha256);
    expect(old.sort()).toEqual([kept.sha256, gone.sha256].sort());
    expect(await store.removeUnnamed(kept.sha256, hourAgo, async () => true)).toBe(false);
    expect(await store.removeUnnamed(young.sha256, hourAgo, async () => false)).toBe(false);
    expect(await store.removeUnnamed(gone.sha256, hourAgo, async () => false)).toBe(true);
    expect(await store.removeUnnamed(gone.sha256, hourAgo, async () => false)).toBe(false);
    expect(await store.forgetUnfinished(hourAgo)).toBe(1);
    expect(await buffer(await store.open(kept.sha256))).toEqual(Buffer.from('named'));
    expect([await one.incoming(), await one.stored()]).toEqual([0, 2]);
  });
});
