import { mkdir, writeFile } from 'node:fs/promises';
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPassword, demoSignIns } from '../../../src/demo/people.ts';
import { axeViolations } from '../../support/accessibility.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { startServer, type RunningServer } from '../../support/running-server.ts';

const shots = process.env.LINTELBOOK_SCREENSHOTS;

/** The demo house: rows from the design at the wall, one revised by the engineer as it is typed, printed. */
describe.skipIf(chromiumPath === undefined)('the fastener schedule in a browser', () => {
  let server: RunningServer;
  let browser: Browser;
  let contractor: Page;
  let engineer: Page;
  let schedule = '';

  beforeAll(async () => {
    server = await startServer({ DEMO: 'first proposal' });
    browser = await launchChromium();
    contractor = await signIn('contractor', 390);
    engineer = await signIn('engineer', 1280);
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    expect(await server.stop()).toBe(0);
  });

  async function signIn(role: 'contractor' | 'engineer', width: number): Promise<Page> {
    const context = await browser.newContext({ viewport: { width, height: 800 } });
    const page = await context.newPage();
    page.on('pageerror', (error) => {
      throw error;
    });
    page.on('response', (response) => {
      if (response.status() >= 500) throw new Error(`${response.url()} answered ${response.status()}`);
    });
    await page.goto(`${server.url}/sign-in`);
    await page.getByLabel('E-mail address').fill(demoSignIns.find((one) => one.role === role)!.email);
    await page.getByLabel('Password').fill(demoPassword);
    await page.getByRole('button', { name: 'Sign in', exact: true }).last().click();
    await page
      .getByRole('link', { name: /Cinder Ferry/ })
      .first()
      .click();
    await page.getByRole('link', { name: 'Den to box room' }).first().click();
    return page;
  }

  async function look(page: Page, name: string): Promise<void> {
    await page.waitForLoadState();
    // Nothing is wider than the page; what scrolls sideways does so in its own frame.
    const over = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
    expect(over, `${name} is wider than its window`).toBeLessThanOrEqual(0);
    expect(await axeViolations(page), name).toEqual([]);
    if (shots === undefined) return;
    await mkdir(shots, { recursive: true });
    const width = page.viewportSize()?.width ?? 0;
    await page.screenshot({ path: `${shots}/schedule-${name}-${width}.png`, fullPage: true });
  }

  it('proposes rows from the design and keeps the chosen ones', async () => {
    await contractor.getByRole('link', { name: 'Nailing and fastener schedule' }).click();
    await contractor.getByRole('heading', { level: 1, name: 'Nailing and fastener schedule' }).waitFor();
    schedule = contractor.url();
    await look(contractor, 'document');
    await contractor.getByRole('link', { name: 'Propose rows from the design' }).first().click();
    await look(contractor, 'proposal');
    const ticks = contractor.locator('input[type=checkbox]:checked');
    expect(await ticks.count()).toBeGreaterThan(10);
    await contractor.getByRole('button', { name: 'Put the chosen rows into the schedule' }).click();
    await contractor.getByText(/\d+ new rows \(N7 to N\d+\) kept\./).waitFor();
    await look(contractor, 'after-proposal');
  });

  it('recomputes a row as the engineer types, and keeps the revision', async () => {
    await engineer.goto(schedule);
    await engineer.getByRole('link', { name: 'N1', exact: true }).click();
    await engineer.getByRole('link', { name: 'Revise it yourself' }).click();
    const line = engineer.locator('[data-live-line]');
    await engineer.locator('[data-verdict="not met"][data-live-line]').waitFor();
    const weak = await line.textContent();
    await engineer.locator('[name="fastener.style"]').selectOption('common');
    await engineer.locator('[name="fastener.diameterIn"]').fill('0.162"');
    await engineer.locator('[name="fastener.lengthIn"]').fill('3 1/2"');
    await engineer.locator('[name="pattern.rows"]').fill('3');
    // Three rows 5 in apart leave the ply: strong enough, and still not met.
    await engineer.locator('.check--over', { hasText: 'Rows within the face of the piece' }).waitFor();
    await engineer.locator('[name="pattern.rowSpacingIn"]').fill('2 3/4"');
    await engineer.locator('[data-verdict="met"][data-live-line]').waitFor();
    // A count is asked only of a counted pattern.
    expect(await engineer.locator('[name="pattern.count"]').isVisible()).toBe(false);
    expect(await line.textContent()).not.toBe(weak);
    expect(await engineer.locator('[data-live-result] .drawing').count()).toBe(1);
    // An unfinished entry says what is missing and breaks nothing.
    await engineer.locator('[name="pattern.rows"]').fill('');
    await engineer.getByText('Not complete yet: Rows').first().waitFor();
    await engineer.locator('[name="pattern.rows"]').fill('3');
    await engineer.locator('[data-verdict="met"][data-live-line]').waitFor();
    await look(engineer, 'live');
    if (shots !== undefined) await engineer.screenshot({ path: `${shots}/schedule-live-window.png` });
    await engineer.getByLabel('Why this version').fill('16d common where box nails fell short.');
    await engineer.getByRole('button', { name: 'Save as a new version' }).click();
    await engineer.getByText('version 2 is yours and stands as revised').waitFor();
  });

  it('shows the revision in the schedule at both widths, and prints it', async () => {
    await engineer.goto(schedule);
    const row = engineer.locator('#N1');
    await row.getByText('fastener style box → common').waitFor();
    await row.getByRole('img', { name: 'revision 2' }).first().waitFor();
    await row.getByText('16d common where box nails fell short.').first().waitFor();
    await look(engineer, 'revised');
    await contractor.goto(schedule);
    await look(contractor, 'revised');
    const pdf = await engineer.pdf({ preferCSSPageSize: true, printBackground: true });
    const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? [];
    // Letter on its side for the table, upright for the patterns.
    const boxes = new Set(pdf.toString('latin1').match(/\/MediaBox\s*\[[^\]]*\]/g));
    expect(pages.length).toBeGreaterThan(2);
    expect([...boxes].some((box) => box.includes('792 612'))).toBe(true);
    if (shots !== undefined) await writeFile(`${shots}/schedule.pdf`, pdf);
  });

  it('finds what else in the truck does, and puts it in the form', async () => {
    await contractor.goto(schedule);
    await contractor.getByRole('link', { name: 'N4', exact: true }).click();
    await contractor.getByRole('link', { name: 'What else in the truck satisfies this row?' }).click();
    await contractor.locator('summary', { hasText: 'Common nails' }).click();
    await contractor.getByLabel('0.148 × 3 in nail (10d common)').check();
    await contractor.locator('[name="own.0.diameter"]').fill('.12');
    await contractor.locator('[name="own.0.length"]').fill('3 1/4');
    await contractor.getByRole('button', { name: 'Try them in this row' }).click();
    await contractor.getByText('passes as it is').first().waitFor();
    await look(contractor, 'substitutes');
    await contractor.getByRole('button', { name: 'Put 0.148 × 3 in nail (10d common) in the form' }).click();
    await contractor.getByText('The substitute is in the form.').waitFor();
    expect(await contractor.locator('[name="fastener.diameterIn"]').inputValue()).toBe('0.148"');
    await contractor.locator('[data-verdict="met"][data-live-line]').waitFor();
    await look(contractor, 'substitute-form');
  });

  it('takes the schedule out and in through the browser', async () => {
    await contractor.goto(schedule);
    const [download] = await Promise.all([
      contractor.waitForEvent('download'),
      contractor.getByRole('link', { name: 'Take it out as CSV' }).click(),
    ]);
    const path = await download.path();
    await contractor.goto(`${schedule}/import`);
    await contractor.getByLabel('CSV file').setInputFiles({
      name: 'schedule.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(
        readFileSync(path, 'utf8').replace('Holds the pack together.', 'Holds it together.'),
      ),
    });
    await contractor.getByRole('button', { name: 'Read it' }).click();
    await contractor.getByText('source Holds the pack together. → Holds it together.').waitFor();
    await look(contractor, 'import');
    await contractor.getByRole('button', { name: 'Keep this row' }).click();
    await contractor.getByText('1 new version (N4) kept.').waitFor();
    await contractor.goto(`${server.url}/provisions`);
    await look(contractor, 'provisions');
  });
});
