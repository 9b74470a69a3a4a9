import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import type { Client } from './app.ts';

/** A page on which somebody is signed in already, with a context of its own; whatever it asks is answered with yes. */
export async function pageOf(
  browser: Browser,
  base: string,
  who: Client,
  options: BrowserContextOptions,
): Promise<Page> {
  // So that axe can be put into it, see axeViolations.
  const context = await browser.newContext({ bypassCSP: true, ...options });
  await context.addCookies(
    who
      .cookies()
      .split('; ')
      .map((pair) => {
        const cut = pair.indexOf('=');
        return { name: pair.slice(0, cut), value: decodeURIComponent(pair.slice(cut + 1)), url: base };
      }),
  );
  const page = await context.newPage();
  page.on('dialog', (dialog) => void dialog.accept());
  return page;
}
