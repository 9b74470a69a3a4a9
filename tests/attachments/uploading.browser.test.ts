import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, launchChromium } from '../support/chromium.ts';
import { startServer, type RunningServer } from '../support/running-server.ts';
import { testPhoto } from '../support/test-files.ts';

/** What a person sees who sends several photos, over a line that breaks, with script and without. */
describe.skipIf(chromiumPath === undefined)('sending photos', () => {
  let server: RunningServer;
  let browser: Browser;
  beforeAll(async () => {
    server = await startServer({ DEMO: 'false', LOG_LEVEL: 'error' });
    browser = await launchChromium();
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  async function openingPage(script: boolean): Promise<Page> {
    const context = await browser.newContext({ javaScriptEnabled: script });
    const page = await context.newPage();
    await page.goto(`${server.url}/sign-up`);
    await page.getByLabel('Your name').fill('Sender');
    await page.getByLabel('E-mail address').fill(`sender-${Date.now()}@example.org`);
    await page.getByLabel('Password').fill('four words in a row');
    await page.getByRole('button', { name: 'Make the account' }).click();
    await page.getByRole('heading', { name: 'Your projects' }).waitFor();
    await page.goto(`${server.url}/projects/new`);
    for (const name of ['name', 'address', 'jurisdiction']) {
      await page.locator(`[name=${name}]`).fill('One');
    }
    if (!script) await page.locator('[name=timeZone]').selectOption('America/Chicago');
    await page.locator('form[action="/projects"] button[type=submit]').click();
    const project = page.url();
    const token = await page.locator('input[name=_csrf]').first().inputValue();
    const answer = await page.request.post(`${project}/openings`, {
      form: { _csrf: token, name: 'Kitchen' },
      headers: { 'sec-fetch-site': 'same-origin' },
    });
    await page.goto(answer.url());
    for (const details of await page.locator('details:has([data-upload])').all()) {
      if ((await details.getAttribute('open')) === null) await details.locator('summary').click();
    }
    return page;
  }
  const chooser = (page: Page) => page.locator('[data-upload] input[type=file][multiple]');
  const shown = (page: Page) => page.locator('.gallery img');

  it('goes on after broken connections, and sends only the failed one again', async () => {
    const page = await openingPage(true);
    let broken = 0;
    // The first file's first piece breaks once; the second file is answered as no photo.
    await page.route('**/pieces', async (route) => {
      broken += 1;
      if (broken === 1) await route.abort('connectionreset');
      else await route.continue();
    });
    await chooser(page).setInputFiles([
      await testPhoto(11),
      { name: 'words.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no photo') },
    ]);
    await page.getByRole('button', { name: 'Keep these files' }).click();
    const again = page.getByRole('button', { name: 'Send words.jpg again' });
    await again.waitFor();
    expect(await page.getByRole('button', { name: /Send .* again/ }).count()).toBe(1);
    expect(await page.locator('[data-upload-list] li').allTextContents()).toEqual([
      expect.stringContaining('kept'),
      expect.stringContaining('Send a photo as JPEG'),
    ]);
    await page.reload();
    expect(await shown(page).count()).toBe(1);
    // Previews are loaded as they come into view.
    await shown(page).first().scrollIntoViewIfNeeded();
    // Asked from outside: a function that waits inside the page is refused by its policy.
    const width = () => page.evaluate('document.querySelector(".gallery img").naturalWidth');
    await expect.poll(width, { timeout: 20_000 }).toBe(320);
  }, 90_000);

  it('works without script', async () => {
    const page = await openingPage(false);
    await chooser(page).setInputFiles([await testPhoto(12), await testPhoto(13)]);
    await page.getByRole('button', { name: 'Keep these files' }).click();
    await page.getByText('2 files are kept.').waitFor();
    expect(await shown(page).count()).toBe(2);
  }, 90_000);

  it('places a note by a press on the picture', async () => {
    const page = await openingPage(true);
    await chooser(page).setInputFiles([await testPhoto(14)]);
    await page.getByRole('button', { name: 'Keep these files' }).click();
    await page.locator('.gallery a').first().click();
    await page.waitForURL('**/sheet');
    const picture = page.locator('.sheet__picture');
    await page.waitForFunction('document.querySelector(".sheet__picture").naturalWidth > 0');
    const box = await picture.boundingBox();
    await picture.click({ position: { x: (box?.width ?? 0) / 4, y: (box?.height ?? 0) / 2 } });
    expect(Number(await page.getByLabel('From the left').first().inputValue())).toBeCloseTo(25, 0);
    expect(Number(await page.getByLabel('From the top').first().inputValue())).toBeCloseTo(50, 0);
    await page.getByLabel('What is to be seen there').fill('Brace lands here');
    await page.getByRole('button', { name: 'Keep the note' }).click();
    await page.getByText('The note is kept.').waitFor();
    expect(await page.locator('#note-1').textContent()).toContain('Brace lands here');
  }, 90_000);
});
