import type { Browser, Page } from 'playwright-core';
import { chromiumPath, launchChromium } from '../tests/support/chromium.ts';
import { cookiesFor, signIn } from '../tests/support/crawl/crawl.ts';
import { readShift, watchShifts } from '../tests/support/layout-shift.ts';
import { mainPages, type MainPage } from '../tests/support/main-pages.ts';
import { startServer } from '../tests/support/running-server.ts';

/**
 * Main pages of the demo on a slow phone: a processor four times slower than this one and a slow 3G line
 * (400 kbit/s each way, 400 ms for each answer), nothing kept from before. Figures for a person to judge.
 */
const SLOW_3G = {
  offline: false,
  latency: 400,
  downloadThroughput: 400_000 / 8,
  uploadThroughput: 400_000 / 8,
};
const SLOWER = 4;
/** Without a long task for so long, a page has come to rest. */
const QUIET_MS = 1000;

interface Watched {
  longTasks?: { startTime: number; duration: number }[];
}

async function watchLongTasks(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const tasks: { startTime: number; duration: number }[] = [];
    (window as unknown as Watched).longTasks = tasks;
    new PerformanceObserver((list) => {
      for (const { startTime, duration } of list.getEntries()) tasks.push({ startTime, duration });
    }).observe({ type: 'longtask', buffered: true });
  });
}

async function measure(browser: Browser, base: string, { name, who, address }: MainPage): Promise<object> {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 } });
  await context.addCookies(cookiesFor(base, (await signIn(base, who)).cookies()));
  const page = await context.newPage();
  await watchShifts(page);
  await watchLongTasks(page);
  const session = await context.newCDPSession(page);
  await session.send('Network.enable');
  await session.send('Network.emulateNetworkConditions', SLOW_3G);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  let received = 0;
  let requests = 0;
  session.on('Network.loadingFinished', ({ encodedDataLength }) => {
    received += encodedDataLength;
    requests += 1;
  });
  await page.goto(base + address, { waitUntil: 'load', timeout: 120_000 });
  await page.waitForTimeout(QUIET_MS);
  const times = await page.evaluate(() => {
    const [navigation] = performance.getEntriesByType('navigation') as PerformanceNavigationTiming[];
    const [paint] = performance.getEntriesByName('first-contentful-paint');
    const scripts = navigation?.domContentLoadedEventEnd ?? 0;
    const tasks = (window as unknown as Watched).longTasks ?? [];
    const busyUntil = Math.max(0, ...tasks.map(({ startTime, duration }) => startTime + duration));
    const first = paint?.startTime ?? 0;
    return { first, interactive: Math.max(first, scripts, busyUntil), loaded: navigation?.loadEventEnd ?? 0 };
  });
  const { score } = await readShift(page);
  await context.close();
  const seconds = (ms: number) => Number((ms / 1000).toFixed(2));
  return {
    page: name,
    'first seen, s': seconds(times.first),
    'to be used, s': seconds(times.interactive),
    'all there, s': seconds(times.loaded),
    'kB over the line': Math.round(received / 1000),
    requests,
    shift: Number(score.toFixed(3)),
  };
}

async function main(): Promise<void> {
  if (chromiumPath === undefined) throw new Error('Chromium is needed; CHROMIUM_PATH says where it lies.');
  const server = await startServer({ DEMO: 'true', NODE_ENV: 'production' });
  const browser = await launchChromium();
  try {
    const rows: object[] = [];
    for (const one of await mainPages(server.url)) rows.push(await measure(browser, server.url, one));
    console.table(rows);
  } finally {
    await browser.close();
    await server.stop();
  }
}

main().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
});
