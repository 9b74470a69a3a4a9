import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type BrowserContext, type Page } from 'playwright-core';
import type { Client } from '../../support/app.ts';
import { chromiumPath } from '../../support/chromium.ts';

/** A phone: a browser whose storage outlives its being closed, or killed. */
export interface PhoneBrowser {
  page: () => Page;
  open: () => Promise<Page>;
  close: () => Promise<void>;
  /** The whole browser goes at once, without a word to any page. */
  kill: () => Promise<void>;
  signIn: (who: Client) => Promise<void>;
  offline: (yes: boolean) => Promise<void>;
  throwAway: () => Promise<void>;
}

export async function buyPhone(url: string): Promise<PhoneBrowser> {
  const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-phone-'));
  let context: BrowserContext | undefined;
  let page: Page | undefined;

  async function open(): Promise<Page> {
    // What a killed browser leaves of its lock.
    for (const name of ['SingletonLock', 'SingletonCookie', 'SingletonSocket'])
      await rm(path.join(folder, name), { force: true });
    context = await chromium.launchPersistentContext(folder, {
      ...(chromiumPath === undefined ? {} : { executablePath: chromiumPath }),
      viewport: { width: 360, height: 740 },
      hasTouch: true,
      // Not the zone of the service.
      timezoneId: 'America/Chicago',
      args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'],
    });
    page = context.pages()[0] ?? (await context.newPage());
    page.on('dialog', (dialog) => void dialog.accept());
    return page;
  }
  async function close(): Promise<void> {
    await context?.close();
    context = undefined;
  }
  return {
    page: () => page!,
    open,
    close,
    async kill() {
      const gone = new Promise((resolve) => context!.once('close', resolve));
      const session = await context!.newCDPSession(page!);
      await session.send('Browser.crash').catch(() => undefined);
      await gone;
      context = undefined;
    },
    async signIn(who) {
      const expires = Math.floor(Date.now() / 1000) + 86_400;
      const cookies = who.cookies().split('; ');
      await context!.clearCookies();
      await context!.addCookies(
        cookies.map((pair) => {
          const [name = '', value = ''] = pair.split('=');
          return { name, value, url, expires };
        }),
      );
    },
    offline: async (yes) => context!.setOffline(yes),
    async throwAway() {
      await close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
