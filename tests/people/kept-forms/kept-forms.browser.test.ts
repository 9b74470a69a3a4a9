import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { axeViolations } from '../../support/accessibility.ts';
import { testPassword } from '../../support/app.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { pageOf } from '../../support/pages.ts';
import { emailOf, expire } from './session.ts';

/** On site, with a thumb: the session ends between the writing and the pressing. */
describe.skipIf(chromiumPath === undefined).each([{ script: true }, { script: false }])(
  'a visit whose session ends, script $script',
  ({ script }) => {
    let site: Site;
    let browser: Browser;
    let page: Page;
    let visit = '';

    beforeAll(async () => {
      site = await buildSite();
      await site.issue();
      const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
      visit = String(begun.headers.location);
      const base = await site.test.app.listen({ host: '127.0.0.1', port: 0 });
      browser = await launchChromium();
      const phone = { viewport: { width: 360, height: 740 }, javaScriptEnabled: script };
      page = await pageOf(browser, base, site.inspector, phone);
      await page.goto(`${base}${visit}`);
    }, 180_000);
    afterAll(async () => {
      await browser.close();
      await site.test.close();
    });

    /** The sign-in page that the press led to, and back from it. */
    async function signInAgain(): Promise<void> {
      await page.getByText('Your session had ended; nothing was recorded', { exact: false }).waitFor();
      await page.getByLabel('E-mail address').fill(await emailOf(site.test, site.inspector));
      await page.getByLabel('Password').fill(testPassword);
      await page.getByRole('button', { name: 'Sign in', exact: true }).last().click();
      await page.getByRole('heading', { level: 1, name: /^Visit 1/ }).waitFor();
      await page.getByText('is back in the form', { exact: false }).waitFor();
    }
    const findings = () => site.test.deps.prisma.finding.count();
    const closings = () => site.test.deps.prisma.visitClosing.count();

    it('has the finding again as it was typed, and records it then', async () => {
      const first = page.locator('.checklist__one:has(details.record[open])').first();
      const title = (await first.getByRole('heading', { level: 2 }).innerText()).split('\n')[0]!;
      await first.getByText('Not in order, or does not apply').click();
      await first.getByLabel('Reason').fill('Two nails are missing');
      await first.getByLabel('Place', { exact: false }).first().fill('left end, rear face');
      await expire(site.test, site.inspector);
      await first.getByRole('button', { name: 'Correction needed' }).click();
      await signInAgain();
      expect(await findings()).toBe(0);

      const again = page.locator('.checklist__one', { hasText: title.trim() }).first();
      // Unfolded as it was left.
      expect(await again.getByLabel('Reason').isVisible()).toBe(true);
      expect(await again.getByLabel('Reason').inputValue()).toBe('Two nails are missing');
      expect(await again.getByLabel('Place', { exact: false }).first().inputValue()).toBe(
        'left end, rear face',
      );
      if (script) expect(await axeViolations(page)).toEqual([]);
      await again.getByRole('button', { name: 'Correction needed' }).click();
      await page.getByText('Last recorded:').waitFor();
      const [found] = await site.test.deps.prisma.finding.findMany();
      expect(found).toMatchObject({ result: 'correction', reason: 'Two nails are missing' });
    });

    it('has the closing again as it was filled in, and closes then', async () => {
      await page.getByLabel('Correction needed', { exact: true }).check();
      await page.getByLabel('Summary').fill('One correction, the rest was not reached');
      await page.getByLabel('Your name').fill('In Spector, by hand');
      await expire(site.test, site.inspector);
      await page.getByRole('button', { name: 'Close the visit' }).click();
      await signInAgain();
      expect(await closings()).toBe(0);

      expect(await page.getByLabel('Correction needed', { exact: true }).isChecked()).toBe(true);
      expect(await page.getByLabel('Summary').inputValue()).toBe('One correction, the rest was not reached');
      expect(await page.getByLabel('Your name').inputValue()).toBe('In Spector, by hand');
      await page.getByRole('button', { name: 'Close the visit' }).click();
      await page.getByText('The visit is closed.').waitFor();
      expect(await closings()).toBe(1);
    });
  },
);
