import { existsSync } from 'node:fs';
import { chromium, type Browser } from 'playwright-core';

const places = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** Where Chromium lies; undefined where there is none, and then the browser tests say that they were skipped. */
export const chromiumPath = process.env.CHROMIUM_PATH ?? places.find((place) => existsSync(place));

if (chromiumPath === undefined) {
  console.log('SKIPPED: browser tests need Chromium (apt-get install chromium, or set CHROMIUM_PATH).');
}

export function launchChromium(): Promise<Browser> {
  return chromium.launch({
    ...(chromiumPath === undefined ? {} : { executablePath: chromiumPath }),
    args: [
      '--headless',
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}
