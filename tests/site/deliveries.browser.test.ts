import { mkdir } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recalculateOpening } from '../../src/record/recalculation/service.ts';
import { axeViolations } from '../support/accessibility.ts';
import { chromiumPath, launchChromium } from '../support/chromium.ts';
import { testPhoto } from '../support/test-files.ts';
import { testPassword } from '../support/app.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';

const shots = process.env.LINTELBOOK_SCREENSHOTS;

/** On a phone beside the truck: the wrong plies, what they hold up, and how a new set makes them right. */
describe.skipIf(chromiumPath === undefined)('a delivery in a browser', () => {
  let site: Site;
  let browser: Browser;
  let url = '';
  let contractor: Page;
  let engineer: Page;

  beforeAll(async () => {
    site = await buildSite();
    await site.issue();
    url = await site.test.app.listen({ host: '127.0.0.1', port: 0 });
    browser = await launchChromium();
    contractor = await signIn(site.contractor.personId, 360);
    engineer = await signIn(site.engineer.personId, 1280);
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    await site.test.close();
  });

  async function signIn(personId: string, width: number): Promise<Page> {
    const { email } = await site.test.deps.prisma.person.findUniqueOrThrow({ where: { id: personId } });
    const context = await browser.newContext({ viewport: { width, height: 740 } });
    const page = await context.newPage();
    page.on('pageerror', (error) => {
      throw error;
    });
    page.on('dialog', (dialog) => void dialog.accept());
    await page.goto(`${url}/sign-in`);
    await page.getByLabel('E-mail address').fill(email!);
    await page.getByLabel('Password').fill(testPassword);
    await page.getByRole('button', { name: 'Sign in', exact: true }).last().click();
    await page.getByRole('heading', { name: 'Your projects' }).waitFor();
    return page;
  }

  async function look(page: Page, name: string): Promise<void> {
    await page.waitForLoadState();
    const over = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
    expect(over, `${name} is wider than its window`).toBeLessThanOrEqual(0);
    expect(await axeViolations(page), name).toEqual([]);
    if (shots === undefined) return;
    await mkdir(shots, { recursive: true });
    await page.screenshot({ path: `${shots}/delivery-${name}.png`, fullPage: true });
  }

  it('scenario 5: 1.9E plies for 2.0E: held, the beam blocked, the engineer told', async () => {
    await contractor.goto(`${url}${site.inOpening}/materials`);
    await look(contractor, 'list');
    await contractor.getByRole('link', { name: 'Orders and deliveries' }).click();
    await look(contractor, 'opening');
    await contractor.getByLabel('Yard').first().fill('The yard');
    await contractor.getByRole('button', { name: 'Check the delivery' }).click();
    const plies = contractor.locator('section', { hasText: '1.75 x 9.5 LVL 2.0E' });
    await plies.getByText('It is on the truck').click();
    await plies.getByLabel('Stored off the ground').check();
    await plies.getByLabel('Covered').check();
    const { name, mimeType, buffer } = await testPhoto(7);
    await plies.getByLabel('Photo of the stamp').setInputFiles({ name, mimeType, buffer });
    await plies.getByText('Something differs').click();
    await plies.getByLabel('Class on the stamp').fill('LVL 1.9E');
    await look(contractor, 'check');
    await plies.getByRole('button', { name: 'Write it down as it is' }).click();
    await contractor.getByText('Called for LVL 2.0E; LVL 1.9E arrived.').first().waitFor();
    await contractor.getByText('opening 1 can’t get its beam; shoring stays').first().waitFor();
    await look(contractor, 'held');
    await engineer.goto(`${url}/`);
    await engineer.getByRole('heading', { name: 'Deliveries that do not match: 1' }).waitFor();
    await look(engineer, 'engineer');
  });

  it('scenario 6: tried against the design, proposed, marked, a new set issued: the same delivery matches', async () => {
    await contractor.getByRole('link', { name: 'Would it do? Try it against the design' }).click();
    await contractor.getByRole('heading', { name: /LVL 1\.9E.* for .*LVL 2\.0E/ }).waitFor();
    await look(contractor, 'tried');
    await contractor.getByRole('button', { name: 'Propose the substitution to the engineer' }).click();
    await contractor.getByText('started as a substitution').waitFor();
    await recalculateOpening(site.test.deps, site.actor(site.contractor, 'contractor'), {
      openingId: site.openingId,
    });
    expect(await site.issue()).toBe(2);
    await contractor.goto(`${url}${site.inOpening}/deliveries`);
    await contractor.getByText('the set in force calls for it now').waitFor();
    expect(await contractor.getByText('beam plies not as called for').count()).toBe(0);
    await look(contractor, 'matched');
    await engineer.goto(`${url}/`);
    expect(await engineer.getByText('Deliveries that do not match').count()).toBe(0);
  });
});
