import { spawnSync } from 'node:child_process';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Readable } from 'node:stream';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { createDiskStore } from '../../src/attachments/storage/disk-store.ts';
import { StorageFull } from '../../src/problems.ts';
import { testPhoto } from '../support/test-files.ts';
import { buildHouse, type House } from './support/house.ts';

let house: House;
beforeAll(async () => {
  house = await buildHouse();
});
afterAll(() => house.test.close());
afterEach(() => {
  vi.restoreAllMocks();
});

it('answers 507 where the store takes nothing more, and keeps no row', async () => {
  vi.spyOn(house.test.deps.blobs, 'receive').mockRejectedValue(new StorageFull());
  const before = await house.kept();
  const answer = await house.send(await testPhoto(1));
  expect(answer.statusCode).toBe(507);
  expect(answer.body).toContain('Nothing was kept');
  expect(await house.kept()).toEqual(before);
});

it('keeps no row where the bytes cannot be moved to their place', async () => {
  const real = house.test.deps.blobs.receive.bind(house.test.deps.blobs);
  vi.spyOn(house.test.deps.blobs, 'receive').mockImplementation(async (bytes) => ({
    ...(await real(bytes)),
    commit: () => Promise.reject(new StorageFull()),
  }));
  const before = await house.kept();
  expect((await house.send(await testPhoto(2))).statusCode).toBe(507);
  expect(await house.kept()).toEqual(before);
});

/** A disk of 256 kB, where the machine lets us mount one. */
const disk = await mkdtemp(path.join(tmpdir(), 'lintelbook-full-'));
const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=256k', 'tmpfs', disk]).status === 0;
if (!mounted) console.log('SKIPPED: the test on a full disk needs to mount a tmpfs (root).');
afterAll(async () => {
  if (mounted) spawnSync('umount', [disk]);
  await rm(disk, { recursive: true, force: true });
});

describe.skipIf(!mounted)('on a disk that runs full', () => {
  it('says so and takes the half-written file away', async () => {
    const store = createDiskStore(disk);
    await expect(store.receive(Readable.from([Buffer.alloc(600_000, 1)]))).rejects.toThrow(StorageFull);
    expect(await readdir(path.join(disk, 'incoming'))).toEqual([]);
    const small = await store.receive(Readable.from([Buffer.from('fits again')]));
    await small.commit();
    expect(await store.size(small.sha256)).toBe(10);
  });
});
