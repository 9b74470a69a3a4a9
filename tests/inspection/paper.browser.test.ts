import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeViolations } from '../support/accessibility.ts';
import { chromiumPath, launchChromium } from '../support/chromium.ts';
import { pageOf } from '../support/pages.ts';
import { paperOf } from '../support/paper.ts';
import { testPhoto } from '../support/test-files.ts';
import { buildSite, type Site } from './support/site.ts';

const photo = await testPhoto(33);

/** Scenarios 14 and 15 with a thumb at 360 px, and the list on paper before and after. */
describe.skipIf(chromiumPath === undefined)('a visit, its corrections, and the paper of it', () => {
  let site: Site;
  let browser: Browser;
  let base = '';
  let inspector: Page;
  let contractor: Page;

  beforeAll(async () => {
    site = await buildSite();
    await site.issue();
    base = await site.test.app.listen({ host: '127.0.0.1', port: 0 });
    browser = await launchChromium();
    const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };
    inspector = await pageOf(browser, base, site.inspector, phone);
    contractor = await pageOf(browser, base, site.contractor, phone);
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    await site.test.close();
  });

  const hash = async () =>
    (await site.test.deps.prisma.approvedSet.findFirstOrThrow({ where: { number: 1 } })).hash;
  const openOnes = (page: Page) => page.locator('.checklist__one:has(details.record[open])');

  it.each([
    ['A4', 595, 842],
    ['Letter', 612, 792],
  ] as const)(
    'the empty list prints on %s with its set, its hash and boxes to tick',
    async (format, width, height) => {
      await inspector.goto(`${base}${site.inOpening}/checklist`);
      const { words, size } = await paperOf(inspector, format);
      expect(Math.abs(size[0] - width) + Math.abs(size[1] - height)).toBeLessThanOrEqual(2);
      expect(words).toContain('Checklist from set 1');
      expect(words.replaceAll(' ', '')).toContain(await hash());
      expect(words).toContain('Record of review. Not a sealed document.');
      const checks = await site.test.deps.prisma.check.count();
      expect(words.match(/□ pass/g)).toHaveLength(checks);
      // The code is a picture of its own; it leads to the live list.
      expect(await inspector.locator('img[src$="/checklist/code.svg"]').count()).toBe(1);
    },
  );

  it('scenario 14: three corrections, the rest passed: closes as correction needed, cover stays held', async () => {
    await inspector.goto(`${base}${site.inOpening}/checklist`);
    await inspector
      .locator('section', { has: inspector.getByRole('heading', { name: 'Framing', exact: false }) })
      .getByRole('button', { name: 'Begin this visit' })
      .first()
      .tap();
    await inspector.getByRole('heading', { level: 1, name: /^Visit 1/ }).waitFor();
    expect(await axeViolations(inspector)).toEqual([]);
    const total = await inspector.locator('.checklist__one').count();
    for (let index = 0; index < total; index += 1) {
      const one = openOnes(inspector).first();
      await one.locator('input[type=file]').setInputFiles(photo);
      if (index < 3) {
        await one.getByText('Not in order, or does not apply').tap();
        await one.getByLabel('Reason').fill('Short nails');
        await one.getByRole('button', { name: 'Correction needed' }).tap();
      } else {
        await one.getByRole('button', { name: 'Pass' }).tap();
      }
      await inspector.getByText(`${total - index - 1} to look at`).waitFor();
    }
    await inspector.getByLabel('Passed', { exact: true }).check();
    await inspector.getByRole('button', { name: 'Close the visit' }).tap();
    await inspector
      .getByText(/A correction is open/)
      .first()
      .waitFor();
    await inspector.getByLabel('Correction needed', { exact: true }).check();
    await inspector.getByRole('button', { name: 'Close the visit' }).tap();
    await inspector.getByText('The visit is closed.').waitFor();
    await inspector.goto(`${base}${site.inOpening}/checklist`);
    const cover = inspector.locator('ul:not(.review-index) > li.line', { hasText: 'cover' });
    expect(await cover.first().textContent()).toContain('held');
  }, 180_000);

  it('the contractor says at each correction what was done, and at one what it disturbed', async () => {
    await contractor.goto(`${base}${site.inOpening}/checklist`);
    for (let index = 0; index < 3; index += 1) {
      const form = contractor.locator('form[action$="/answers"]').nth(index);
      await form.getByLabel('What was done about it').fill('Driven anew');
      await form.locator('input[type=file]').setInputFiles(photo);
      if (index === 0) {
        await form.getByText('What was disturbed by it').tap();
        await form.locator('input[type=checkbox]').first().check();
      }
      await form.getByRole('button', { name: 'Say that it is done' }).tap();
      await contractor.getByText('The inspector sees that it is done.').waitFor();
    }
    expect(await axeViolations(contractor)).toEqual([]);
  });

  it('scenario 15: the next visit has these three and what was disturbed, the rest folded away', async () => {
    await inspector.goto(`${base}${site.inOpening}/checklist`);
    await inspector.getByText('Disturbed when a correction was put right').first().waitFor();
    await inspector
      .locator('section', { has: inspector.getByRole('heading', { name: 'Framing', exact: false }) })
      .getByRole('button', { name: 'Begin this visit' })
      .first()
      .tap();
    await inspector.getByText('1 to look at, 3 corrections open.').first().waitFor();
    const shown = inspector.locator('.checklist__one:visible');
    expect(await shown.count()).toBe(4);
    for (let left = 4; left > 0; left -= 1) {
      const one = openOnes(inspector).first();
      await one.locator('input[type=file]').setInputFiles(photo);
      await one.getByRole('button', { name: 'Pass' }).tap();
      await inspector.getByText('Last recorded:').waitFor();
    }
    await inspector.getByText('0 to look at, 0 corrections open.').first().waitFor();
    await inspector.getByLabel('Passed', { exact: true }).check();
    await inspector.getByRole('button', { name: 'Close the visit' }).tap();
    await inspector.getByText('The visit is closed.').waitFor();
  }, 120_000);

  it('the filled list and the closed visit print with what was found, by whom and when', async () => {
    const closed = await paperOf(inspector, 'Letter');
    expect(closed.words).toContain('Outcome Passed');
    expect(closed.words).toMatch(/Signed \w{3} \d+, \d{4}, .* by In Spector/);
    expect(closed.words).toContain('Short nails');
    expect(closed.words.replaceAll(' ', '')).toContain(await hash());
    await inspector.goto(`${base}${site.inOpening}/checklist`);
    const filled = await paperOf(inspector, 'A4');
    expect(filled.words).toContain('Driven anew');
    const open = await site.test.deps.prisma.check.count({ where: { visitKind: { not: 'framing' } } });
    expect(filled.words.match(/□ pass/g) ?? []).toHaveLength(open);
  });
});
