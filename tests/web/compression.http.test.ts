import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startTestApp, type TestApp } from '../support/app.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

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
