import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { assetFolder } from '../../src/web/served-assets.ts';
import { startTestApp, type TestApp } from '../support/app.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

const get = (url: string) => test.app.inject({ method: 'GET', url });
const linked = (body: string, rel: string) =>
  [...body.matchAll(new RegExp(`<link rel="${rel}" href="([^"]+)"`, 'g'))].map(([, href = '']) => href);

it.each(['/', '/sign-in', '/on-site'])(
  '%s asks for one style sheet, which may be kept for good',
  async (url) => {
    const sheets = linked((await get(url)).body, 'stylesheet');
    expect(sheets).toHaveLength(1);
    const sheet = await get(sheets[0]!);
    expect(sheet.statusCode).toBe(200);
    expect(sheet.headers['content-type']).toBe('text/css; charset=utf-8');
    expect(sheet.headers['cache-control']).toBe('public, max-age=31536000, immutable');
  },
);

it('no part of the style is left out', async () => {
  const { body } = await get(linked((await get('/')).body, 'stylesheet')[0]!);
  const apart = readdirSync(assetFolder)
    .filter((name) => name.endsWith('.css'))
    .filter((name) => !body.includes(readFileSync(`${assetFolder}/${name}`, 'utf8')));
  // Linked by the pages that need them.
  expect(apart).toEqual(['components.css', 'schedule-sheet.css']);
});

it('a page from before an upgrade still has a style, which is not kept under the old name', async () => {
  const old = await get(`/assets/lintelbook.${'0'.repeat(16)}.css`);
  expect(old.statusCode).toBe(200);
  expect(old.headers['cache-control']).toBe('no-cache');
  expect((await get('/assets/lintelbook.css')).statusCode).toBe(404);
});

it('a page asks at once for every module that its script stands on', async () => {
  const asked = linked((await get('/')).body, 'modulepreload');
  const wanted = new Set<string>();
  for (const from of ['/assets/lintelbook.js', ...asked]) {
    const module = await get(from);
    expect(module.statusCode).toBe(200);
    for (const [, name = ''] of module.body.matchAll(/from '\.\/([^']+)'/g)) wanted.add(`/assets/${name}`);
  }
  expect(wanted.size).toBeGreaterThan(5);
  expect([...asked].sort()).toEqual([...wanted].sort());
});

it('what is kept for a phone without a network has the style sheet of its page', async () => {
  const [sheet = ''] = linked((await get('/on-site')).body, 'stylesheet');
  const { files } = JSON.parse(
    /globalThis\.shell = (\{.*\});/.exec((await get('/on-site-worker.js')).body)?.[1] ?? '{}',
  ) as { files: string[] };
  expect(files).toContain(sheet);
  for (const file of files) expect((await get(file)).statusCode, file).toBe(200);
});
