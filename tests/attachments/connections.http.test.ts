import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { testPdf, testPhoto } from '../support/test-files.ts';
import { buildHouse, type House } from './support/house.ts';
import { formToken, listen, rawUpload } from './support/raw-upload.ts';

/** Uploads over real connections that break, and many at once. */
let house: House;
let port = 0;
let token = '';
beforeAll(async () => {
  house = await buildHouse({ UPLOAD_LIMIT_MB: '2' });
  port = await listen(house);
  token = await formToken(house);
});
afterAll(() => house.test.close());

/** Waits for a state that the server reaches after a connection has gone; fails by the test's own limit. */
async function until(isSo: () => Promise<boolean>): Promise<void> {
  while (!(await isSo())) await wait(20);
}

it('leaves nothing behind when the sender goes away in the middle', async () => {
  const before = await house.kept();
  const upload = await rawUpload(house, port, token);
  upload.begin(1_000_000);
  upload.socket.write(Buffer.concat([testPdf().buffer, Buffer.alloc(300_000)]));
  await until(async () => (await house.kept()).incoming.length === 1);
  upload.socket.destroy();
  await until(async () => (await house.kept()).incoming.length === 0);
  expect(await house.kept()).toEqual(before);
});

it('leaves nothing behind when the body ends before its form does', async () => {
  const before = await house.kept();
  const upload = await rawUpload(house, port, token);
  const { buffer } = testPdf();
  upload.begin(buffer.length);
  // As long as announced, but the last boundary is missing.
  upload.socket.write(Buffer.concat([buffer, Buffer.alloc(upload.epilogue.length)]));
  expect(await upload.answer()).toMatch(/^HTTP\/1\.1 4\d\d /);
  expect(await house.kept()).toEqual(before);
});

it('answers a file over the limit while it is still being sent', async () => {
  const before = await house.kept();
  const upload = await rawUpload(house, port, token);
  const { buffer } = testPdf();
  upload.begin(buffer.length + 30_000_000);
  upload.socket.write(buffer);
  for (let sent = 0; sent < 30_000_000; sent += 1_000_000) upload.socket.write(Buffer.alloc(1_000_000));
  upload.socket.write(upload.epilogue);
  const answer = await upload.answer();
  expect(answer).toContain('HTTP/1.1 422 ');
  expect(answer).toContain('larger than 2 MB');
  expect(await house.kept()).toEqual(before);
});

it('keeps fifty sent at the same time, each whole', async () => {
  const before = await house.kept();
  const photos = await Promise.all(Array.from({ length: 50 }, (_, index) => testPhoto(index * 5)));
  const answers = await Promise.all(photos.map((photo) => house.send(photo)));
  expect(answers.map((answer) => answer.statusCode)).toEqual(photos.map(() => 303));
  const after = await house.kept();
  expect(after.incoming).toEqual([]);
  expect(after.rows - before.rows).toBe(50);
  expect(new Set(after.blobs).size - before.blobs.length).toBe(50);
}, 120_000);
