import { randomUUID } from 'node:crypto';
import { mkdir, rename, utimes } from 'node:fs/promises';
import path from 'node:path';
import { Readable } from 'node:stream';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { sweep } from '../../src/attachments/sweep.ts';
import { testPhoto } from '../support/test-files.ts';
import { buildHouse, type House } from './support/house.ts';
import { sha256Of } from './support/hostile-files.ts';

let house: House;
beforeAll(async () => {
  house = await buildHouse();
});
afterAll(() => house.test.close());

async function orphan(text: string, hoursOld: number): Promise<string> {
  const received = await house.test.deps.blobs.receive(Readable.from([Buffer.from(text)]));
  await received.commit();
  const time = new Date(Date.now() - hoursOld * 3_600_000);
  await utimes(house.blobPath(received.sha256), time, time);
  return received.sha256;
}

it('leaves a store alone whose files the database does not know at all', async () => {
  const sha256 = await orphan('of another database', 5);
  expect((await sweep(house.test.deps)).removed).toBe(0);
  expect((await house.kept()).blobs).toEqual([sha256]);
});

it('takes away what no row names after an hour, and nothing that a row names', async () => {
  const photo = await testPhoto(3);
  await house.send(photo);
  const named = sha256Of(photo.buffer);
  const old = new Date(Date.now() - 9 * 3_600_000);
  await utimes(house.blobPath(named), old, old);
  await orphan('two hours', 2);
  const young = await orphan('half an hour', 0.5);
  const swept = await sweep(house.test.deps);
  expect(swept).toEqual({ removed: 2, forgotten: 0 });
  expect((await house.kept()).blobs.sort()).toEqual([named, young].sort());
});

it('puts back what a sweep that was killed had set aside, and a row names by now', async () => {
  const photo = await testPhoto(4);
  await house.send(photo);
  const named = sha256Of(photo.buffer);
  const blob = house.blobPath(named);
  const incoming = path.resolve(house.test.deps.config.dataFolder, 'files', 'incoming');
  await mkdir(incoming, { recursive: true });
  const aside = path.join(incoming, `${randomUUID()}-${named}`);
  await rename(blob, aside);
  const old = new Date(Date.now() - 9 * 3_600_000);
  await utimes(aside, old, old);
  expect(await house.test.deps.blobs.size(named)).toBeNull();
  await sweep(house.test.deps);
  expect(await house.test.deps.blobs.size(named)).toBe(photo.buffer.length);
  expect((await house.kept()).incoming).toEqual([]);
});
