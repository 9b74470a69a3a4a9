import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPassword, demoSignIns } from '../../src/demo/people.ts';
import { chromiumPath, launchChromium } from '../support/chromium.ts';
import { startServer, type RunningServer } from '../support/running-server.ts';

/** Set, pictures of the line are put there. */
const pictures = process.env.PICTURES;

describe.skipIf(chromiumPath === undefined)('a page that stays open', () => {
  let server: RunningServer;
  let browser: Browser;
  beforeAll(async () => {
    [server, browser] = await Promise.all([startServer({ MAIL_WAIT_SECONDS: '0' }), launchChromium()]);
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  async function as(role: string, width: number): Promise<Page> {
    const context = await browser.newContext({ viewport: { width, height: 800 } });
    const page = await context.newPage();
    await page.goto(`${server.url}/sign-in`);
    const { name } = demoSignIns.find((one) => one.role === role)!;
    await page.getByRole('button', { name: `Enter as the ${role}, ${name}` }).click();
    await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'));
    return page;
  }
  async function openBeam(page: Page): Promise<void> {
    await page.goto(server.url);
    await page.locator('.card__title a[href*="/openings/"]').first().click();
    await page.locator('main a[href*="/items/"]', { hasText: 'Beam' }).first().click();
    await page.getByRole('heading', { name: 'Beam', level: 1 }).waitFor();
  }
  async function ask(page: Page, text: string): Promise<void> {
    const box = page.getByRole('textbox', { name: /question/i }).first();
    if (!(await box.isVisible())) {
      await page
        .locator('details', { hasText: /ask|question/i })
        .first()
        .locator('summary')
        .click();
    }
    await box.fill(text);
    await box.locator('xpath=ancestor::form').getByRole('button').last().click();
    await page.getByText(text).first().waitFor();
  }

  it('says what somebody else did, and leaves alone what is being typed', async () => {
    expect(demoPassword.length).toBeGreaterThan(0);
    const engineer = await as('engineer', 360);
    const contractor = await as('contractor', 1280);
    await openBeam(engineer);
    await openBeam(contractor);
    const typed = contractor.locator('textarea').first();
    const details = contractor.locator('details', { has: contractor.locator('textarea') }).first();
    if (!(await typed.isVisible())) await details.locator('summary').click();
    await typed.fill('Half a sentence');
    await ask(engineer, 'Is the bearing dry?');
    const line = contractor.locator('aside.changes');
    await line.getByText('Something changed: K. O. asks about Beam').waitFor();
    expect(await line.getByRole('status').getAttribute('aria-live')).toBe('polite');
    expect(await typed.inputValue()).toBe('Half a sentence');
    expect(await engineer.locator('aside.changes').isVisible()).toBe(false);
    for (const act of [line.getByRole('link'), line.getByRole('button')]) {
      const size = await act.boundingBox();
      expect(size!.height).toBeGreaterThanOrEqual(44);
    }
    if (pictures !== undefined) {
      await mkdir(pictures, { recursive: true });
      await contractor.screenshot({ path: path.join(pictures, 'changes-1280.png') });
      await contractor.setViewportSize({ width: 360, height: 740 });
      await contractor.screenshot({ path: path.join(pictures, 'changes-360.png') });
      await contractor.goto(`${server.url}/account/mail`);
      await contractor.screenshot({ path: path.join(pictures, 'mail-360.png'), fullPage: true });
      await contractor.goBack();
      await ask(engineer, 'And the post?');
      await line.getByText('Something changed').waitFor();
    }
    await line.getByRole('link', { name: 'Show' }).click();
    await contractor.getByText('Is the bearing dry?').first().waitFor();
  }, 180_000);
});
