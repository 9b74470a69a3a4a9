import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPassword, demoSignIns } from '../../../src/demo/people.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { startServer, type RunningServer } from '../../support/running-server.ts';

/** The demo house's beam changed and not saved: what was typed is there again, for whoever typed it. */
describe.skipIf(chromiumPath === undefined)('drafts in a browser', () => {
  let server: RunningServer;
  let browser: Browser;
  let edit = '';

  beforeAll(async () => {
    server = await startServer({ DEMO: 'first proposal' });
    browser = await launchChromium();
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    expect(await server.stop()).toBe(0);
  });

  async function signIn(javaScriptEnabled = true): Promise<BrowserContext> {
    const context = await browser.newContext({ viewport: { width: 360, height: 800 }, javaScriptEnabled });
    const page = await context.newPage();
    await page.goto(`${server.url}/sign-in`);
    const { email } = demoSignIns.find((one) => one.role === 'contractor')!;
    await page.getByLabel('E-mail address').fill(email);
    await page.getByLabel('Password').fill(demoPassword);
    await page.getByRole('button', { name: 'Sign in', exact: true }).last().click();
    await page.getByRole('link', { name: 'Den to box room' }).first().click();
    await page.getByRole('link', { name: 'Beam', exact: true }).click();
    await page.getByRole('link', { name: 'Edit' }).click();
    await page.locator('[name="_reason"]').waitFor();
    // Its scripts run before this.
    await page.waitForLoadState('load');
    edit = page.url();
    return context;
  }
  const state = (page: Page) => page.locator('[data-draft-state]');
  const reason = (page: Page) => page.locator('[name="_reason"]');

  it('keeps what is typed, says when, and has it again after the tab was closed', async () => {
    const context = await signIn();
    const [page] = context.pages();
    await reason(page!).pressSequentially('Stiffer');
    await state(page!)
      .getByText(/^Draft kept \d?\d:\d\d/)
      .waitFor();
    await page!.close();
    const next = await context.newPage();
    await next.goto(edit);
    await next.getByText('is back in the form', { exact: false }).waitFor();
    expect(await reason(next).inputValue()).toBe('Stiffer');
    // Kept for the person, not for the browser.
    const other = await signIn();
    expect(await reason(other.pages()[0]!).inputValue()).toBe('Stiffer');
    await other.close();
    await context.close();
  });

  it('says that it could not be kept without a connection, and keeps it when there is one', async () => {
    const context = await signIn();
    const page = context.pages()[0]!;
    await context.setOffline(true);
    await reason(page).fill('Stiffer beam');
    await state(page).getByText('No connection: the draft could not be kept.').waitFor();
    await context.setOffline(false);
    await state(page).getByText('Draft kept').waitFor();
    await page.reload();
    expect(await reason(page).inputValue()).toBe('Stiffer beam');
    await context.close();
  });

  it('says that it is not kept once the session has ended', async () => {
    const context = await signIn();
    const page = context.pages()[0]!;
    await context.clearCookies({ name: 'lintelbook' });
    await reason(page).fill('Stiffer still');
    await state(page).getByText('You are signed out here: not kept.').waitFor();
    await context.close();
  });

  it('keeps a new item half filled in, and has it again after the tab was closed', async () => {
    const context = await signIn();
    const [page] = context.pages();
    await page!.goto(server.url);
    await page!.getByRole('link', { name: 'Den to box room' }).first().click();
    await page!.getByRole('heading', { level: 1, name: 'Den to box room' }).waitFor();
    const opening = page!.url();
    await page!.getByRole('link', { name: 'Add: fastening row' }).click();
    await page!.getByRole('heading', { level: 1, name: 'New: Fastening row' }).waitFor();
    // Its scripts run before this.
    await page!.waitForLoadState('load');
    await page!.getByLabel('Title').fill('Blocking at the stair');
    await state(page!)
      .getByText(/^Draft kept \d?\d:\d\d/)
      .waitFor();
    await page!.getByLabel('Title').fill('Blocking at the stair, rear');
    // Closed before the pause is over: the page takes it along as it goes.
    await page!.close({ runBeforeUnload: true });
    const next = await context.newPage();
    await next.goto(opening);
    const begun = next.locator('.notice', { hasText: 'Begun by you and not saved' });
    await begun.getByRole('link', { name: 'Fastening row' }).click();
    await next.getByText('is back in the form', { exact: false }).waitFor();
    // Nobody waits for what a closed tab sends: it may arrive after the next page was asked for.
    while ((await next.getByLabel('Title').inputValue()) !== 'Blocking at the stair, rear') {
      await next.reload();
      await next.getByText('is back in the form', { exact: false }).waitFor();
    }
    // Typed on, and not saved: thrown away all the same, not kept once more by the page as it goes.
    await next.waitForLoadState('load');
    await next.getByLabel('Title').fill('Blocking at the stair, front');
    next.once('dialog', (dialog) => void dialog.accept());
    await next.getByRole('button', { name: 'Throw the draft away' }).click();
    await next.getByRole('button', { name: 'Throw the draft away' }).waitFor({ state: 'detached' });
    await next.getByRole('heading', { level: 1, name: 'New: Fastening row' }).waitFor();
    expect(await next.getByLabel('Title').inputValue()).not.toContain('stair');
    await next.reload();
    await next.getByRole('heading', { level: 1, name: 'New: Fastening row' }).waitFor();
    expect(await next.getByLabel('Title').inputValue()).not.toContain('stair');
    expect(await next.locator('.draft-offer').count()).toBe(0);
    await context.close();
  });

  it('has a button for it without script', async () => {
    const context = await signIn(false);
    const page = context.pages()[0]!;
    await reason(page).fill('By hand');
    await page.getByRole('button', { name: 'Keep as draft' }).click();
    await page.getByText('Your draft is kept; nobody else sees it.').waitFor();
    expect(await reason(page).inputValue()).toBe('By hand');
    await context.close();
  });
});
