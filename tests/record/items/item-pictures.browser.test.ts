import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPassword, demoSignIns } from '../../../src/demo/people.ts';
import { axeViolations } from '../../support/accessibility.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { startServer, type RunningServer } from '../../support/running-server.ts';

/** A4 between its margins, px. */
const PAPER_WIDTH = 678;

describe.skipIf(chromiumPath === undefined)('drawings of footing, hangers and shoring in a browser', () => {
  let server: RunningServer;
  let browser: Browser;
  let page: Page;
  let opening: string;

  beforeAll(async () => {
    server = await startServer({ DEMO: 'true' });
    browser = await launchChromium();
    const context = await browser.newContext({ bypassCSP: true });
    page = await context.newPage();
    await page.goto(`${server.url}/sign-in`);
    await page.getByLabel('E-mail address').fill(demoSignIns.find((one) => one.role === 'engineer')!.email);
    await page.getByLabel('Password').fill(demoPassword);
    await page.getByRole('button', { name: 'Sign in', exact: true }).last().click();
    await page.getByRole('heading', { name: 'Your projects' }).waitFor();
    await page.locator('main a[href^="/projects/"]').first().click();
    opening = (await page.locator('main a[href*="/openings/"]').first().getAttribute('href'))!.replace(
      /(\/openings\/[^/?#]+).*/,
      '$1',
    );
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    expect(await server.stop()).toBe(0);
  });

  it.each([
    ['Left footing', 'Under the left pack, across the wall'],
    ['Hangers, front', 'Joist at the front face of the beam'],
    ['Shoring plan', 'Temporary walls, across'],
  ])('%s: legible in both themes on a phone, whole on paper', async (item, title) => {
    await page.setViewportSize({ width: 360, height: 740 });
    await page.goto(`${server.url}${opening}`);
    const href = await page.getByRole('link', { name: item, exact: true }).first().getAttribute('href');
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ media: 'screen', colorScheme });
      await page.goto(`${server.url}${href}`);
      await page.getByRole('img', { name: title, exact: true }).waitFor();
      expect(
        await page.getByRole('img', { name: title, exact: true }).getAttribute('aria-describedby'),
      ).toMatch(/./);
      expect(await axeViolations(page), colorScheme).toEqual([]);
      const over = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
      expect(over).toBeLessThanOrEqual(0);
    }
    await page.emulateMedia({ media: 'print', colorScheme: 'light' });
    await page.setViewportSize({ width: PAPER_WIDTH, height: 900 });
    const cut = await page
      .locator('.drawing__sheet')
      .evaluateAll((sheets) => sheets.filter((sheet) => sheet.scrollWidth > sheet.clientWidth).length);
    expect(cut).toBe(0);
  });
});
