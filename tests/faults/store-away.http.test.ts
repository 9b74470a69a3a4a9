import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { buildHouse, type House } from '../attachments/support/house.ts';
import { startObjectStore, type ObjectStoreServer } from '../attachments/support/object-store-server.ts';
import { testPhoto } from '../support/test-files.ts';

/** The store of files fails or breaks off; what needs no file works on. */
let store: ObjectStoreServer;
let house: House;
let file = '';
let page = '';
let base = '';
beforeAll(async () => {
  store = await startObjectStore();
  house = await buildHouse({
    S3_ENDPOINT: store.endpoint,
    S3_BUCKET: store.bucket,
    S3_REGION: 'here',
    S3_ACCESS_KEY_ID: 'test-key',
    S3_SECRET_ACCESS_KEY: 'test-secret',
  });
  await house.test.app.listen({ host: '127.0.0.1', port: 0 });
  base = `http://127.0.0.1:${(house.test.app.server.address() as AddressInfo).port}`;
  page = `/projects/${house.projectId}/openings/${house.openingId}`;
});
afterAll(async () => {
  await house.test.close();
  await store.close();
});

/** A file of its own for each test: a service may remember that it looked at one lately. */
let red = 100;
let bytes: Buffer = Buffer.alloc(0);
beforeEach(async () => {
  const photo = await testPhoto((red += 1));
  bytes = photo.buffer;
  expect((await house.send(photo)).statusCode).toBe(303);
  const { id } = await house.test.deps.prisma.attachment.findFirstOrThrow({
    orderBy: { uploadedAt: 'desc' },
  });
  file = `/projects/${house.projectId}/attachments/${id}`;
});
const read = () => fetch(base + file, { headers: { cookie: house.contractor.cookies() } });

it('says that files can’t be reached, when to come back, and shows pages all the same', async () => {
  const before = await house.test.deps.prisma.attachment.count();
  let failing = true;
  store.meet({ times: 1_000, on: () => failing, status: 500, code: 'InternalError' });
  const sent = await house.send(await testPhoto(90));
  expect(sent.statusCode).toBe(503);
  expect(sent.headers['retry-after']).toBe('60');
  expect(sent.body).toContain('The file store does not answer. Nothing was kept');
  expect((await house.contractor.get(page)).statusCode).toBe(200);
  expect(await house.test.deps.prisma.attachment.count()).toBe(before);
  failing = false;
});

it('does not take a store that breaks off in the middle for a damaged file, nor half a file for a whole one', async () => {
  store.meet({ times: 1, on: (method) => method === 'GET', breaksOff: true });
  const broken = await read();
  const whole = await broken.arrayBuffer().then(
    (body) => broken.status === 200 && body.byteLength === bytes.length,
    () => false,
  );
  expect(whole).toBe(false);
  expect([200, 503]).toContain(broken.status);
  const again = await read();
  expect(again.status).toBe(200);
  expect(Buffer.from(await again.arrayBuffer()).equals(bytes)).toBe(true);
});
