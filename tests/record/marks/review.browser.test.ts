import { mkdir } from 'node:fs/promises';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPassword, demoSignIns } from '../../../src/demo/people.ts';
import { axeViolations } from '../../support/accessibility.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { startServer, type RunningServer } from '../../support/running-server.ts';

const shots = process.env.LINTELBOOK_SCREENSHOTS;
const MOST_TABS = 600;

/** The demo house reviewed by an engineer who has a keyboard and nothing else. */
describe.skipIf(chromiumPath === undefined).each([
  { script: true, width: 1280 },
  { script: false, width: 360 },
])('the review page by keyboard, script $script, $width px', ({ script, width }) => {
  let server: RunningServer;
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    server = await startServer({ DEMO: 'first proposal' });
    browser = await launchChromium();
    const context = await browser.newContext({
      viewport: { width, height: 800 },
      javaScriptEnabled: script,
    });
    page = await context.newPage();
    page.on('pageerror', (error) => {
      throw error;
    });
    await page.goto(`${server.url}/sign-in`);
    await page.getByLabel('E-mail address').fill(demoSignIns.find((one) => one.role === 'engineer')!.email);
    await page.getByLabel('Password').fill(demoPassword);
    await page.getByRole('button', { name: 'Sign in', exact: true }).last().click();
    await page.getByRole('heading', { name: 'Your projects' }).waitFor();
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    expect(await server.stop()).toBe(0);
  });

  const hasFocus = async (target: Locator) => (await target.and(page.locator(':focus')).count()) > 0;

  /** Presses Tab until the target has the focus, as somebody would who sees where it is. */
  async function tabTo(target: Locator): Promise<void> {
    await target.waitFor();
    for (let pressed = 0; pressed < MOST_TABS; pressed += 1) {
      if (await hasFocus(target)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error('The keyboard never came to it.');
  }
  /** The words on one item: a radio group is one stop, and the arrows walk in it. */
  const wordsOn = (title: string) =>
    page.getByRole('group', { name: `Your mark on ${title}, version 1` }).getByRole('radio');

  async function look(name: string): Promise<void> {
    const over = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
    expect(over, `${name} is wider than its window`).toBeLessThanOrEqual(0);
    if (script) {
      expect(await axeViolations(page), name).toEqual([]);
    }
    if (shots === undefined) return;
    await mkdir(shots, { recursive: true });
    await page.screenshot({ path: `${shots}/review-${name}-${width}.png`, fullPage: true });
  }

  it('comes to it from the first page and unfolds a check to its steps', async () => {
    await tabTo(page.getByRole('link', { name: /^Review what waits/ }));
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Review: Den to box room' }).waitFor();
    await look('open');
    const check = page.locator('details.check').first();
    await tabTo(check.locator('summary'));
    await page.keyboard.press('Enter');
    await check.getByText('Values put in').first().waitFor();
  });

  it('marks two items at once; one is refused with its sentence, and its words stay', async () => {
    await tabTo(wordsOn('Left support').first());
    await page.keyboard.press('ArrowDown');
    expect(await wordsOn('Left support').nth(1).isChecked()).toBe(true);
    await page.keyboard.press('Tab');
    await page.keyboard.type('Looked at by hand');
    await tabTo(wordsOn('Right support').first());
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    expect(await wordsOn('Right support').nth(2).isChecked()).toBe(true);
    await tabTo(page.getByRole('button', { name: 'Record these marks' }));
    await page.keyboard.press('Enter');
    await page.getByText('On record. Approved: Left support.').waitFor();
    await look('refused');
    // The sentence at the top leads to the box that it is about.
    await tabTo(page.getByRole('link', { name: 'Right support: Say what has to change.' }));
    await page.keyboard.press('Enter');
    expect(await wordsOn('Right support').nth(2).isChecked()).toBe(true);
    await tabTo(page.getByLabel('Reason for Right support'));
    await page.keyboard.type('Three jacks, please.');
    await tabTo(page.getByRole('button', { name: 'Record these marks' }));
    await page.keyboard.press('Enter');
    await page.getByText('Returned: Right support.').waitFor();
    expect(await page.getByRole('group', { name: /^Your mark on (Left|Right) support/ }).count()).toBe(0);
  });
});
