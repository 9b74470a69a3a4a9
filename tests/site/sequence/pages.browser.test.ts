import { mkdir } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeViolations } from '../../support/accessibility.ts';
import type { Client } from '../../support/app.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { pageOf } from '../../support/pages.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { demoShoring } from '../../inspection/support/shoring.ts';

const shots = process.env.LINTELBOOK_SCREENSHOTS;

/** Scenario 17 on a phone in the house, and what the others then see. */
describe.skipIf(chromiumPath === undefined)('the order of work in a browser', () => {
  let site: Site;
  let browser: Browser;
  let url = '';

  beforeAll(async () => {
    site = await buildSite();
    await site.add('shoring', 'shoring', 'Shoring plan', demoShoring);
    await site.issue();
    url = await site.test.app.listen({ host: '127.0.0.1', port: 0 });
    browser = await launchChromium();
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    await site.test.close();
  });

  const open = (who: Client, width: number, colorScheme: 'light' | 'dark' = 'light') =>
    pageOf(browser, url, who, { viewport: { width, height: 760 }, colorScheme });

  async function look(page: Page, name: string): Promise<void> {
    await page.waitForLoadState();
    const over = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
    expect(over, `${name} is wider than its window`).toBeLessThanOrEqual(0);
    expect(await axeViolations(page), name).toEqual([]);
    if (shots === undefined) return;
    await mkdir(shots, { recursive: true });
    await page.screenshot({ path: `${shots}/sequence-${name}.png`, fullPage: true });
  }

  it('the contractor plans days, is told no, logs the wall as out all the same; the engineer sees the flag', async () => {
    const contractor = await open(site.contractor, 360);
    await contractor.goto(`${url}${site.inOpening}`);
    await contractor.getByRole('link', { name: 'Order of work' }).first().click();
    await look(contractor, 'list');
    await contractor.getByRole('link', { name: 'Plan days and people' }).click();
    const wall = contractor.getByRole('group', { name: /Wall taken out/ });
    await wall.getByLabel('Day').fill('2026-12-04');
    await wall.getByLabel('What the household will notice').fill('dust, no heat until four');
    await look(contractor, 'plan');
    await contractor.getByRole('button', { name: 'Keep this plan' }).click();
    await contractor.getByText('The order of work is planned.').waitFor();
    await contractor.goto(`${url}${site.inOpening}/wall-down`);
    await contractor.getByText('No: the wall stays').waitFor();
    await look(contractor, 'no');
    await contractor.getByRole('link', { name: 'Log that it is out' }).click();
    await contractor.getByLabel('By whom').fill('R. T. and crew');
    await contractor.getByRole('button', { name: 'Log it' }).click();
    await contractor.getByText('This is out of order. Nothing was logged yet.').first().waitFor();
    await look(contractor, 'warned');
    expect(await contractor.getByLabel('By whom').inputValue()).toBe('R. T. and crew');
    await contractor.getByLabel('It was done all the same').check();
    await contractor.getByRole('button', { name: 'Log it' }).click();
    await contractor.getByText('Logged, and flagged as out of order.').waitFor();
    await look(contractor, 'logged');

    const engineer = await open(site.engineer, 1280, 'dark');
    await engineer.goto(`${url}${site.inOpening}`);
    await engineer.getByText('“Wall taken out” was done out of order').waitFor();
    await engineer.goto(`${url}${site.inOpening}/sequence`);
    await look(engineer, 'engineer');
    const inspector = await open(site.inspector, 360);
    await inspector.goto(`${url}${site.inOpening}/checklist`);
    await inspector.getByText('“Wall taken out” was done out of order').waitFor();
    const owner = await open(site.owner, 360);
    await owner.goto(`${url}${site.inOpening}/progress`);
    await owner.getByText('The wall comes out').waitFor();
    await look(owner, 'owner');
  });

  it('something that can be used again is listed and decided', async () => {
    const contractor = await open(site.contractor, 360);
    await contractor.goto(`${url}${site.inOpening}/salvage`);
    await look(contractor, 'salvage-empty');
    await contractor.getByLabel('What it is').fill('Oak strip flooring');
    await contractor.getByLabel('How many, or how much').fill('40 sq ft');
    await contractor.getByRole('button', { name: 'List it' }).click();
    await look(contractor, 'salvage-contractor');
    const owner = await open(site.owner, 360, 'dark');
    await owner.goto(`${url}${site.inOpening}/progress`);
    await owner.getByRole('link', { name: 'What comes out and can be used again' }).click();
    await owner.getByRole('button', { name: 'Give it away' }).click();
    await owner.getByText('give it away').first().waitFor();
    await look(owner, 'salvage-owner');
  });
});
