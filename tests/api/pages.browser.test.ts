import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPassword, demoSignIns } from '../../src/demo/people.ts';
import { axeViolations } from '../support/accessibility.ts';
import { chromiumPath, launchChromium } from '../support/chromium.ts';
import { startServer, type RunningServer } from '../support/running-server.ts';

/** The pages around the interface as people use them, on a narrow page and a wide one. */
describe.skipIf(chromiumPath === undefined)('the pages for programs', () => {
  let server: RunningServer;
  let browser: Browser;
  let page: Page;
  let inProject = '';

  beforeAll(async () => {
    server = await startServer();
    browser = await launchChromium();
    page = await (await browser.newContext({ bypassCSP: true })).newPage();
    page.on('dialog', (dialog) => void dialog.accept());
    await page.goto(`${server.url}/sign-in`);
    await page.fill('input[type=email]', demoSignIns.find((one) => one.role === 'contractor')?.email ?? '');
    await page.fill('input[type=password]', demoPassword);
    await page.press('input[type=password]', 'Enter');
    await page.waitForURL(`${server.url}/`);
    const link = await page.getAttribute('a[href^="/projects/"]', 'href');
    inProject = /\/projects\/[\w-]+/.exec(link ?? '')?.[0] ?? '';
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  async function isSound(): Promise<void> {
    for (const width of [360, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      expect(await axeViolations(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    }
  }

  it('a token is made, works, and is revoked', async () => {
    await page.goto(`${server.url}/account/tokens`);
    await page.fill('[name=name]', 'takeoff sheet');
    await page.getByLabel(/^Propose/).check();
    await page.getByRole('button', { name: 'Make the token' }).click();
    const token = await page.inputValue('#new-token');
    await isSound();
    const asked = () =>
      fetch(`${server.url}/api/v1/projects`, { headers: { authorization: `Bearer ${token}` } });
    expect((await asked()).status).toBe(200);
    await page.getByRole('button', { name: 'Revoke takeoff sheet' }).click();
    await page.getByText('The token is revoked.').waitFor();
    expect((await asked()).status).toBe(401);
  });

  it('a calendar’s address is made, and reads as a calendar', async () => {
    await page.goto(`${server.url}/account/calendar`);
    await page.getByRole('button', { name: 'Make an address' }).click();
    const address = new URL(await page.inputValue('#calendar-address'));
    await isSound();
    const calendar = await fetch(server.url + address.pathname);
    expect(await calendar.text()).toMatch(/^BEGIN:VCALENDAR\r\n/);
  });

  it('a webhook is made and ended', async () => {
    await page.goto(server.url + inProject);
    await page.getByRole('link', { name: 'Webhooks of this project' }).click();
    await page.fill('[name=url]', 'https://example.org/told');
    await page.getByLabel('An approved set is issued').check();
    await page.getByRole('button', { name: 'Have it told' }).click();
    expect(await page.inputValue('#new-secret')).toMatch(/^[\w-]{43}$/);
    await isSound();
    await page.getByRole('button', { name: 'End this webhook' }).click();
    await page.getByText('The webhook is ended.').waitFor();
  });

  it('the operations are shown', async () => {
    await page.goto(`${server.url}/api`);
    await isSound();
  });
});
