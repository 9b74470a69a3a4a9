import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings } from '../../../src/demo/cinder-ferry.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { axeViolations } from '../../support/accessibility.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { pageOf } from '../../support/pages.ts';

/** Scenarios 4 and 16 in the browser: engineer, contractor and inspector each at a page of their own. */
describe.skipIf(chromiumPath === undefined)('what holds the work, in the browser', () => {
  let site: Site;
  let browser: Browser;
  let base = '';
  let engineer: Page;
  let contractor: Page;
  let inspector: Page;

  beforeAll(async () => {
    site = await buildSite();
    await site.add('footing', 'right', 'Right footing', demoFootings[1]);
    base = await site.test.app.listen({ host: '127.0.0.1', port: 0 });
    browser = await launchChromium();
    const phone = { viewport: { width: 390, height: 800 } };
    engineer = await pageOf(browser, base, site.engineer, { viewport: { width: 1280, height: 900 } });
    contractor = await pageOf(browser, base, site.contractor, phone);
    inspector = await pageOf(browser, base, site.inspector, phone);
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    expect((await verifyProject(site.test.deps.prisma, site.projectId)).broken).toBeNull();
    await site.test.close();
  });

  const heading = (page: Page, name: string | RegExp) =>
    page.getByRole('heading', { level: 1, name }).waitFor();
  /** The line of a step among those held until checks pass, as the person reads it. */
  async function step(page: Page, name: string): Promise<string> {
    await page.goto(`${base}${site.inOpening}/checklist`);
    const line = page.locator('li.line', { has: page.locator('strong', { hasText: name }) });
    const all = line.first().locator('summary');
    if ((await all.count()) > 0) await all.click();
    return (await line.first().innerText()).replaceAll(/\s+/g, ' ');
  }

  /** A word on each item that waits, by the engineer, on the review page. */
  async function review(returned: string | null, reason: string): Promise<void> {
    await engineer.goto(`${base}${site.inOpening}/review`);
    for (const one of await engineer.locator('article.review__item').all()) {
      const title = await one.getByRole('heading', { level: 2 }).innerText();
      const back = returned !== null && title.startsWith(returned);
      await one.locator(`input[type=radio][value=${back ? 'returned' : 'approved'}]`).check();
      await one.locator('textarea[name^="reason."]').fill(back ? reason : 'Looked at by hand');
    }
    await engineer.getByRole('button', { name: 'Record these marks' }).click();
    await engineer.getByText(/^Approved: /).waitFor();
  }
  async function issue(number: number): Promise<void> {
    await engineer.goto(`${base}${site.inOpening}/sets/new`);
    await engineer.getByRole('button', { name: `Issue set ${number}` }).click();
    await heading(engineer, `Approved set ${number}`);
  }

  it('scenario 4: a footing is returned, the rest approved: the set says what it leaves open, the pour is held', async () => {
    await contractor.goto(`${base}${site.inOpening}`);
    await contractor.getByRole('button', { name: 'Submit these' }).click();
    await contractor.getByText('handed to the engineer', { exact: false }).waitFor();

    await review('Right footing', 'Cores show 4 1/4 in: a pad, please');
    // Before it is issued the engineer reads what it will leave open.
    await engineer.goto(`${base}${site.inOpening}/sets/new`);
    await engineer.getByRole('heading', { name: 'What it leaves open' }).waitFor();
    expect(await engineer.getByLabel(/^Right footing/).count()).toBe(0);
    expect(await engineer.getByLabel(/^Beam, version/).isChecked()).toBe(true);
    await issue(1);
    await engineer.getByText('Right footing: version 1 returned by Eng Ineer', { exact: false }).waitFor();

    // The contractor, whose page stood open meanwhile, reads the reason where it waits and on the item.
    await contractor.goto(base);
    const sentBack = contractor.locator('section', { hasText: 'Sent back: 1' });
    await sentBack.getByText('Cores show 4 1/4 in: a pad, please', { exact: false }).waitFor();
    await sentBack.getByRole('link', { name: 'Right footing' }).click();
    await heading(contractor, /^Right footing/);
    await contractor.getByText('returned by Eng Ineer', { exact: false }).first().waitFor();

    // The inspector, who began from the set: open in it, nothing to look at of it, and the pour waits.
    await inspector.goto(`${base}${site.inOpening}`);
    await inspector.getByRole('link', { name: 'Set 1', exact: true }).click();
    await inspector.getByText('partial: 1 left open').waitFor();
    await inspector.getByRole('heading', { name: 'Left open by it' }).waitFor();
    expect(await axeViolations(inspector)).toEqual([]);
    for (const page of [inspector, contractor]) {
      const pour = await step(page, 'pour the footing');
      expect(pour).toContain('Left open by this set: Right footing');
      expect(pour).not.toContain('released');
      const asked = await page.locator('.checklist__one').allInnerTexts();
      expect(asked.length).toBeGreaterThan(0);
      expect(asked.filter((words) => words.includes('Right footing'))).toEqual([]);
    }
  });

  it('scenario 4, gone on: the footing approved after all, and the next set no longer leaves it open', async () => {
    await engineer.goto(`${base}${site.inProject}/items/${site.items['Right footing']!}`);
    await engineer.getByLabel('Reason').first().fill('Left as it is after all');
    await engineer.getByRole('button', { name: 'Approve version 1' }).click();
    await engineer.getByText('Withdraw this approval').waitFor();
    await issue(2);
    await inspector.goto(`${base}${site.inOpening}/checklist`);
    await heading(inspector, 'Checklist from set 2');
    expect(await inspector.locator('li.line', { hasText: 'Left open by this set' }).count()).toBe(0);
  });

  it('scenario 16: everything passed, and taking the shoring out is released', async () => {
    await inspector.goto(`${base}${site.inOpening}/checklist`);
    await inspector
      .locator('section', { has: inspector.getByRole('heading', { level: 2, name: /^Final/ }) })
      .getByRole('button', { name: 'Begin this visit' })
      .click();
    await heading(inspector, /^Visit 1/);
    const open = inspector.locator('.checklist__one:has(details.record[open])');
    for (let left = await open.count(); left > 0; left -= 1) {
      await open.first().getByRole('button', { name: 'Pass' }).click();
      await inspector.getByText(`${left - 1} to look at`).waitFor();
    }
    expect(await step(inspector, 'take the shoring out')).toContain('released');
    expect(await step(contractor, 'take the shoring out')).toContain('released');
  }, 180_000);

  it('scenario 16, gone on: jacks from two to three, and it is held again before the eyes of all three', async () => {
    await contractor.goto(base);
    expect(await contractor.getByText('Held again', { exact: false }).count()).toBe(0);

    await engineer.goto(`${base}${site.inProject}/items/${site.items['Support left']!}/edit`);
    const jacks = engineer.getByLabel('Jacks under the beam');
    expect(await jacks.inputValue()).toBe('2');
    await jacks.fill('3');
    await engineer.getByLabel('Why this version').fill('The plate crushes under two');
    await engineer.getByRole('button', { name: 'Save as a new version' }).click();
    await engineer.getByText('version 2 is yours and stands as revised', { exact: false }).waitFor();

    for (const page of [inspector, contractor]) {
      const shoring = await step(page, 'take the shoring out');
      expect(shoring).toContain('Support left: version 2 is approved since, and in no set yet');
      expect(shoring).not.toContain('released');
    }
    await contractor.goto(base);
    await contractor.getByRole('heading', { name: 'Held again: 1' }).waitFor();
    await contractor.getByText('Changed after it was looked at: Support left').waitFor();
    const changed = contractor.locator('section', { hasText: 'Changed by the engineer: 1' });
    await changed.getByText('The plate crushes under two', { exact: false }).waitFor();
    expect(await axeViolations(contractor)).toEqual([]);

    // Two to three is what the contractor reads of it.
    await changed.getByRole('link', { name: 'Support left' }).click();
    await contractor.getByRole('link', { name: 'what changed' }).first().click();
    await contractor.locator('.differences').first().waitFor();
    const words = (await contractor.locator('.differences').first().innerText()).replaceAll(/\s+/g, ' ');
    expect(words).toMatch(/Jacks[^:]*: ?2 → 3/i);
  });

  it('scenario 16, gone on: the next set opens the support’s checks again, and it stays held by them', async () => {
    await issue(3);
    await inspector.goto(`${base}${site.inOpening}/checklist`);
    const pack = inspector.locator('.checklist__one', { hasText: 'Pack at the left end' }).first();
    await pack.getByText('Open again.', { exact: false }).waitFor();
    const other = inspector.locator('.checklist__one', { hasText: 'Pack at the right end' }).first();
    await other.getByText('Carried over from set 2', { exact: false }).waitFor();
    expect(await step(contractor, 'take the shoring out')).toContain('Pack at the left end');
  });
});
