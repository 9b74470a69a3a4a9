import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { chromiumPath, launchChromium } from '../tests/support/chromium.ts';
import { cookiesFor, walkAs, walkers, worthSeeing, type Walk } from '../tests/support/crawl/crawl.ts';
import { startServer } from '../tests/support/running-server.ts';

/** Narrow as a phone, wide as a desk. */
const widths = [360, 1280];
/** A calculation sheet is far longer; the rest of it looks like its beginning. */
const LONGEST_PX = 9000;

/** `/projects/:id/items/:id/edit` as part of a file's name. */
function fileNameOf(pattern: string): string {
  const words = pattern.replace(/\/projects\/:id/, '/project').match(/[a-z][a-z-]*/gi);
  return (
    words
      ?.filter((word) => word !== 'id')
      .join('-')
      .slice(0, 80) ?? 'first-page'
  );
}

async function shoot(page: Page, file: string): Promise<void> {
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  const { width = 0 } = page.viewportSize() ?? {};
  await page.screenshot({
    path: file,
    fullPage: true,
    clip: { x: 0, y: 0, width, height: Math.min(height, LONGEST_PX) },
  });
}

async function main(): Promise<void> {
  const [folder, option] = process.argv.slice(2);
  if (folder === undefined || (option !== undefined && option !== '--dark')) {
    throw new Error('Usage: scripts/screenshots FOLDER [--dark]');
  }
  if (chromiumPath === undefined) throw new Error('Chromium is needed; CHROMIUM_PATH says where it lies.');
  const server = await startServer({ DEMO: 'true' });
  const browser = await launchChromium();
  try {
    const walks: Walk[] = [];
    for (const who of walkers) {
      walks.push(await walkAs(server.url, who, who === 'signed out' ? ['/components'] : []));
    }
    const chosen = worthSeeing(walks, { eachPerson: true });
    for (const { who, cookies } of walks) {
      const into = path.join(folder, who.replace(' ', '-'));
      await mkdir(into, { recursive: true });
      const colorScheme = option === undefined ? 'light' : 'dark';
      const context = await browser.newContext({ reducedMotion: 'reduce', colorScheme });
      await context.addCookies(cookiesFor(server.url, cookies));
      const page = await context.newPage();
      const counts = new Map<string, number>();
      for (const { address, pattern } of chosen.filter((one) => one.who === who)) {
        const name = fileNameOf(pattern);
        const count = (counts.get(name) ?? 0) + 1;
        counts.set(name, count);
        await page.goto(server.url + address);
        for (const width of widths) {
          await page.setViewportSize({ width, height: 800 });
          await shoot(page, path.join(into, `${name}-${count}-${width}.png`));
        }
      }
      await context.close();
      console.log(`${who}: ${[...counts.values()].reduce((sum, one) => sum + one, 0)} pages`);
    }
  } finally {
    await browser.close();
    await server.stop();
  }
}

main().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
});
