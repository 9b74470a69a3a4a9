import { Readable } from 'node:stream';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { createObjectStore } from '../../../src/attachments/storage/object-store.ts';
import { StorageFull, StorageUnavailable } from '../../../src/problems.ts';
import { BadEnvironment, readConfig } from '../../../src/web/config.ts';
import { startObjectStore, type ObjectStoreServer } from '../support/object-store-server.ts';

/** The object store over a line that is slow, broken or full. */
let server: ObjectStoreServer;
beforeEach(async () => {
  server = await startObjectStore();
});
afterEach(() => server.close());

const open = (patienceMs?: number) =>
  createObjectStore({
    endpoint: server.endpoint,
    bucket: server.bucket,
    region: 'here',
    accessKeyId: 'test-key',
    secretAccessKey: 'test-secret',
    ...(patienceMs === undefined ? {} : { patienceMs }),
  });
const bytes = (length: number) => Readable.from([Buffer.alloc(length, 7)]);

it('tries again after a moment’s trouble', async () => {
  server.meet({ times: 2, status: 503 });
  const received = await open().receive(bytes(10));
  server.meet({ times: 1, status: 500, code: 'InternalError' });
  await received.commit();
  expect(await open().size(received.sha256)).toBe(10);
});

it('tries one part again without the others', async () => {
  server.meet({ times: 1, on: (_method, url) => url.includes('partNumber=2') });
  const received = await open().receive(bytes(20 * 1024 * 1024));
  expect(received.bytes).toBe(20 * 1024 * 1024);
  expect(server.requests.filter((line) => line.includes('partNumber=1')).length).toBe(1);
  expect(server.requests.filter((line) => line.includes('partNumber=2')).length).toBe(2);
});

it('says that the store does not answer, and gives its parts up', async () => {
  server.meet({ times: 99, on: (_method, url) => url.includes('partNumber=2') });
  await expect(open().receive(bytes(20 * 1024 * 1024))).rejects.toThrow(StorageUnavailable);
  expect([server.parts.size, server.objects.size]).toEqual([0, 0]);
});

it('does not wait forever for a store that is silent', async () => {
  server.meet({ times: 99, silent: true });
  await expect(open(200).receive(bytes(10))).rejects.toThrow(StorageUnavailable);
});

it('says that the store is full', async () => {
  server.meet({ times: 99, status: 507, code: 'InsufficientStorage' });
  await expect(open().receive(bytes(10))).rejects.toThrow(StorageFull);
});

it('takes a refusal for what it is: no answer to build on', async () => {
  server.meet({ times: 99, status: 403, code: 'AccessDenied' });
  await expect(open().size('a'.repeat(64))).rejects.toThrow(StorageUnavailable);
});

it('reaches nobody where nobody listens', async () => {
  const nobody = createObjectStore({
    endpoint: 'http://127.0.0.1:9',
    bucket: 'record',
    region: 'here',
    accessKeyId: 'k',
    secretAccessKey: 's',
  });
  await expect(nobody.receive(bytes(10))).rejects.toThrow(StorageUnavailable);
});

it('is chosen by five variables, all or none, and no value of theirs is repeated', () => {
  const all = {
    S3_ENDPOINT: 'https://objects.example.org',
    S3_BUCKET: 'record',
    S3_REGION: 'here',
    S3_ACCESS_KEY_ID: 'the-key',
    S3_SECRET_ACCESS_KEY: 'the-secret',
  };
  expect(readConfig({}).objectStore).toBeNull();
  expect(readConfig(all).objectStore).toEqual({
    endpoint: 'https://objects.example.org',
    bucket: 'record',
    region: 'here',
    accessKeyId: 'the-key',
    secretAccessKey: 'the-secret',
  });
  for (const name of Object.keys(all)) {
    const some: Record<string, string | undefined> = { ...all, [name]: undefined };
    expect(() => readConfig(some)).toThrow(BadEnvironment);
    expect(() => readConfig(some)).toThrow(new RegExp(`${name}: missing`));
    expect(() => readConfig(some)).not.toThrow(/the-secret/);
  }
  expect(() => readConfig({ ...all, S3_ENDPOINT: 'file:///etc' })).toThrow(BadEnvironment);
});
