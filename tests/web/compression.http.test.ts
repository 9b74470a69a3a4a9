import { gunzipSync } from 'node:zlib';
import { afterAll, afterEach, beforeAll, expect, it, vi } from 'vitest';
import { startTestApp, type TestApp } from '../support/app.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());
afterEach(() => {
  vi.useRealTimers();
});

const ask = (url: string, accept?: string, method: 'GET' | 'HEAD' = 'GET') =>
  test.app.inject({ method, url, headers: accept === undefined ? {} : { 'accept-encoding': accept } });

it.each(['/', '/assets/forms.css', '/assets/lintelbook.js', '/components'])(
  'sends %s compressed to whoever takes it, the same to whoever does not',
  async (url) => {
    const plain = await ask(url);
    const small = await ask(url, 'br;q=1.0, gzip;q=0.8');
    expect(plain.headers['content-encoding']).toBeUndefined();
    expect(small.headers['content-encoding']).toBe('gzip');
    expect(small.headers.vary).toBe('accept-encoding');
    expect(plain.headers.vary).toBe('accept-encoding');
    expect(small.rawPayload.length).toBeLessThan(plain.rawPayload.length * 0.7);
    // Tokens are new in every answer; the rest is the same.
    const words = (body: string) => body.replace(/name="_csrf" value="[^"]*"/g, '');
    expect(words(gunzipSync(small.rawPayload).toString())).toBe(words(plain.body));
    const length = small.headers['content-length'];
    if (length !== undefined) expect(Number(length)).toBe(small.rawPayload.length);
  },
);

it('leaves alone what is refused, short, asked for without its body, or for programs', async () => {
  expect((await ask('/', 'gzip;q=0, identity')).headers['content-encoding']).toBeUndefined();
  expect((await ask('/health', 'gzip')).headers['content-encoding']).toBeUndefined();
  expect((await ask('/assets/forms.css', 'gzip', 'HEAD')).headers['content-encoding']).toBeUndefined();
  expect((await ask('/api/v1/openapi.json', 'gzip')).headers['content-encoding']).toBeUndefined();
  const { headers } = await ask('/assets/forms.css', 'gzip');
  const again = await test.app.inject({
    method: 'GET',
    url: '/assets/forms.css',
    headers: { 'accept-encoding': 'gzip', 'if-none-match': String(headers.etag) },
  });
  expect(again.statusCode).toBe(304);
  expect(again.rawPayload).toHaveLength(0);
});

it('gives a page that is kept compressed once or not at all, to the letter the same', async () => {
  const someone = await test.person('Som Eone');
  // Kept for the minute it was made in, which does not end meanwhile.
  vi.useFakeTimers({ toFake: ['Date'], now: Date.now() });
  const as = (accept: string) =>
    test.app.inject({
      method: 'GET',
      url: '/',
      headers: { cookie: someone.cookies(), accept: 'text/html', 'accept-encoding': accept },
    });
  await as('identity');
  const plain = await as('identity');
  const [small, again] = [await as('gzip'), await as('gzip')];
  expect(small.headers['content-encoding']).toBe('gzip');
  expect(plain.headers['content-encoding']).toBeUndefined();
  expect(gunzipSync(small.rawPayload).toString()).toBe(plain.body);
  expect(again.rawPayload.equals(small.rawPayload)).toBe(true);
});
