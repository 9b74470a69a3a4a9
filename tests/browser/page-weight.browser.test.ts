import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath } from '../support/chromium.ts';
import { cookiesFor, signIn } from '../support/crawl/crawl.ts';
import { startDemo, type RunningDemo } from '../support/demo-service.ts';
import { mainPages, type MainPage } from '../support/main-pages.ts';
import { readShift, watchShifts } from '../support/layout-shift.ts';

const SCRIPT_BYTES = 60_000;
const SHIFT = 0.05;
/** Pictures come this much later than the page, so that a page which makes no room for them moves. */
const PICTURES_LATE_MS = 400;

/** What a phone has to fetch and what moves under the finger; facts, no times. */
describe.skipIf(chromiumPath === undefined)('a main page', () => {
  let demo: RunningDemo;
  let pages: readonly MainPage[];

  beforeAll(async () => {
    demo = await startDemo('whole');
    pages = await mainPages(demo.base);
  }, 300_000);
  afterAll(() => demo.stop());

  async function phoneOf(who: MainPage['who']): Promise<Page> {
    const context = await demo.browser.newContext({
      viewport: { width: 360, height: 740 },
      // Not the zone of the service: its times are written anew as the page opens.
      timezoneId: 'America/Chicago',
    });
    await context.addCookies(cookiesFor(demo.base, (await signIn(demo.base, who)).cookies()));
    const page = await context.newPage();
    await watchShifts(page);
    const session = await context.newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate: 4 });
    await page.route(/\/(preview|photos|code\.svg)/, async (route) => {
      await new Promise((resolve) => setTimeout(resolve, PICTURES_LATE_MS));
      await route.continue();
    });
    return page;
  }

  it('asks nobody else for anything, brings little script, and stays where it is', async () => {
    const wrong: string[] = [];
    const scripts = new Map<string, number>();
    for (const who of new Set(pages.map((one) => one.who))) {
      const page = await phoneOf(who);
      for (const { name, address } of pages.filter((one) => one.who === who)) {
        const asked = new Set<string>();
        const elsewhere: string[] = [];
        page.removeAllListeners('response');
        page.on('response', (response) => {
          if (new URL(response.url()).origin !== demo.base) elsewhere.push(response.url());
          const type = response.headers()['content-type'] ?? '';
          if (response.request().resourceType() === 'script' || type.includes('javascript')) {
            asked.add(response.url());
          }
        });
        const response = await page.goto(demo.base + address, { waitUntil: 'load' });
        // To the end, as somebody reads: what is loaded late below moves, too.
        await page.evaluate(() => {
          window.scrollTo(0, document.documentElement.scrollHeight);
        });
        await page.waitForTimeout(2 * PICTURES_LATE_MS);
        const bytes = await compressed(asked);
        const shift = await readShift(page);
        scripts.set(name, bytes);
        if (response?.status() !== 200) wrong.push(`${name}: answered ${String(response?.status())}`);
        if (elsewhere.length > 0) wrong.push(`${name}: asks ${elsewhere.join(', ')}`);
        if (bytes >= SCRIPT_BYTES) wrong.push(`${name}: ${bytes} bytes of script, compressed`);
        if (shift.score >= SHIFT) wrong.push(`${name}: moves by ${shift.score}: ${shift.what.join('; ')}`);
      }
      await page.context().close();
    }
    expect(wrong).toEqual([]);
    // Every page has the script that all have in common: a page that brings none was not measured.
    expect([...scripts].filter(([, bytes]) => bytes === 0)).toEqual([]);
  }, 300_000);

  it('is measured by an eye that sees a shift', async () => {
    const page = await phoneOf('signed out');
    await page.goto(`${demo.base}/sign-in`);
    await page.evaluate(() => {
      const late = document.createElement('div');
      late.className = 'panel';
      late.textContent = 'late '.repeat(200);
      document.querySelector('main')?.prepend(late);
    });
    await page.waitForTimeout(500);
    expect((await readShift(page)).score).toBeGreaterThan(SHIFT);
    await page.context().close();
  });
});

/** What all of them come to, each compressed by itself as it is served. */
async function compressed(urls: ReadonlySet<string>): Promise<number> {
  let bytes = 0;
  for (const url of urls) {
    const response = await fetch(url);
    if (!response.ok) throw new Error(`${url} answered ${response.status}`);
    bytes += gzipSync(Buffer.from(await response.arrayBuffer())).length;
  }
  return bytes;
}
