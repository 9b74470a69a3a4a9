import { createServer, type Server } from 'node:http';
import { readFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { componentsSample } from '../../src/web/components-sample.ts';
import { axeViolations } from '../support/accessibility.ts';
import { chromiumPath, launchChromium } from '../support/chromium.ts';
import { styleSheet } from '../../src/web/served-assets.ts';
import { renderTemplate } from './render-template.ts';

/** The policy the application sends, so that nothing here works only because it is missing. */
const POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; form-action 'self'";
const TYPES: Readonly<Record<string, string>> = {
  '.css': 'text/css',
  '.js': 'text/javascript',
  '.svg': 'image/svg+xml',
};
const assets = new URL('../../src/web/assets/', import.meta.url).pathname;
// Served as the module it comes as, by a route of its own.
const idb = path.resolve(import.meta.dirname, '../../node_modules/idb/build/index.js');

const someone = { id: 'p1', name: 'K. O.' };
const pages: Readonly<Record<string, object>> = {
  '/components': { person: someone, project: { id: '1', name: 'Cinder Ferry' }, role: 'engineer' },
  '/signed-out': { person: null, project: null, role: null },
};

function componentsPage(url: string): string {
  return renderTemplate('components.njk', {
    ...componentsSample(),
    csrfToken: 'token',
    path: url,
    flash: null,
    ...(pages[url] ?? {}),
  });
}

describe.skipIf(chromiumPath === undefined)('the living page of components', () => {
  let browser: Browser;
  let server: Server;
  let origin: string;
  let posts = 0;

  beforeAll(async () => {
    server = createServer((request, response) => {
      const url = request.url ?? '/';
      response.setHeader('content-security-policy', POLICY);
      if (request.method === 'POST') {
        posts += 1;
        // Slow on purpose: long enough for a second press.
        setTimeout(() => response.writeHead(204).end(), 300);
        return;
      }
      if (url === '/on-site-worker.js') {
        // A worker that does nothing: what it does is tested with the kept visits.
        response.setHeader('content-type', 'text/javascript').end('');
        return;
      }
      if (!url.startsWith('/assets/')) {
        response.setHeader('content-type', 'text/html; charset=utf-8').end(componentsPage(url));
        return;
      }
      if (url === styleSheet.address) {
        response.setHeader('content-type', 'text/css').end(styleSheet.text);
        return;
      }
      const file = url === '/assets/idb.js' ? idb : path.join(assets, path.basename(url));
      readFile(file).then(
        (bytes) => response.setHeader('content-type', TYPES[path.extname(file)] ?? '').end(bytes),
        () => response.writeHead(404).end(),
      );
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    browser = await launchChromium();
  });

  afterAll(async () => {
    await browser.close();
    await new Promise((resolve) => server.close(resolve));
  });

  async function open(
    options: Parameters<Browser['newContext']>[0],
    url = '/components',
  ): Promise<{ page: Page; context: BrowserContext; complaints: string[] }> {
    const context = await browser.newContext(options);
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(origin + url);
    return { page, context, complaints };
  }

  describe.each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
    it.each([360, 640, 1280])('at %d px: no axe violation, nothing wider than the page', async (width) => {
      const { page, context, complaints } = await open({
        viewport: { width, height: 900 },
        colorScheme,
        bypassCSP: true,
      });
      expect(await axeViolations(page)).toEqual([]);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(width);
      expect(complaints).toEqual([]);
      await context.close();
    });
  });

  it('has no target lower than 44 px, words within sentences apart', async () => {
    const { page, context } = await open({ viewport: { width: 360, height: 900 } });
    const low = await page.evaluate(`
      [...document.querySelectorAll('a, button, input:not([type=hidden]), select, textarea, summary')]
        .filter((one) => !one.closest('.choice') && !one.closest('p') && !one.matches('.skip'))
        .filter((one) => one.getBoundingClientRect().height > 0 && one.getBoundingClientRect().height < 43.9)
        .map((one) => one.outerHTML.slice(0, 120))`);
    expect(low).toEqual([]);
    await context.close();
  });

  it('carries no script or style that the policy refuses', async () => {
    const { context, complaints } = await open({});
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is whole without script: fields, traces and drawings are there', async () => {
    const { page, context } = await open({ javaScriptEnabled: false });
    expect(await page.locator('svg.dw').count()).toBeGreaterThanOrEqual(4);
    await page.locator('.check:not([open]) > summary').first().click();
    expect(await page.locator('.check').nth(1).locator('.check__body').isVisible()).toBe(true);
    expect(await page.getByRole('textbox', { name: 'Datum' }).inputValue()).toBe(
      'Left cross wall, room face',
    );
    await context.close();
  });

  it('reads a length back while it is typed', async () => {
    const { page, context } = await open({});
    await page.getByLabel('Opening, right face').fill(`12'-6 1/2"`);
    const output = page.locator('output[for="f-openingToIn"]');
    expect(await output.textContent()).toBe('= 150.5 in');
    await page.getByLabel('Opening, right face').fill('12.6');
    expect(await output.textContent()).toBe('');
    await context.close();
  });

  it('sends a form once, however often it is pressed', async () => {
    const { page, context } = await open({});
    posts = 0;
    const answered = page.waitForResponse((response) => response.request().method() === 'POST');
    await page.getByRole('button', { name: 'Save the strip' }).dblclick();
    await answered;
    await page.waitForTimeout(400);
    expect(posts).toBe(1);
    await context.close();
  });

  it('asks before what is hard to take back, and sends nothing on "no"', async () => {
    const { page, context } = await open({});
    posts = 0;
    const asked: string[] = [];
    page.on('dialog', (dialog) => {
      asked.push(dialog.message());
      void dialog.dismiss();
    });
    await page.getByRole('button', { name: 'Withdraw the invitation' }).click();
    await page.waitForTimeout(400);
    expect(asked).toEqual(['Withdraw this invitation?']);
    expect(posts).toBe(0);
    await context.close();
  });

  it('keeps entries over a session that ran out, and offers them to the same person', async () => {
    const { page, context } = await open({});
    await page.getByRole('textbox', { name: 'Datum' }).press('End');
    await page.getByRole('textbox', { name: 'Datum' }).pressSequentially(', north');
    await expect.poll(() => page.evaluate(`Object.keys(localStorage).join()`)).toContain('p1.components');
    // Sent, but the next page is one for nobody: it did not arrive.
    await page.getByRole('button', { name: 'Save the strip' }).click();
    await page.goto(`${origin}/signed-out`);
    await page.goto(`${origin}/components`);
    await page.getByRole('button', { name: 'Put them back' }).click();
    expect(await page.getByRole('textbox', { name: 'Datum' }).inputValue()).toBe(
      'Left cross wall, room face, north',
    );
    // Sent, and an ordinary page follows: done with.
    await page.getByRole('button', { name: 'Save the strip' }).click();
    await page.goto(`${origin}/components`);
    expect(await page.getByRole('button', { name: 'Put them back' }).count()).toBe(0);
    expect(await page.evaluate(`localStorage.length`)).toBe(0);
    await context.close();
  });
});
