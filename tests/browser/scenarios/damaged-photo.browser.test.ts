import { readFile, writeFile } from 'node:fs/promises';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildHouse, type House } from '../../attachments/support/house.ts';
import { sha256Of } from '../../attachments/support/hostile-files.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { pageOf } from '../../support/pages.ts';
import { testPhoto } from '../../support/test-files.ts';

describe.skipIf(chromiumPath === undefined)('a damaged photo, in the browser', () => {
  let house: House;
  let browser: Browser;
  let base = '';
  beforeAll(async () => {
    house = await buildHouse();
    base = await house.test.app.listen({ host: '127.0.0.1', port: 0 });
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser.close();
    await house.test.close();
  });

  it('scenario 10: the engineer opens a photo whose bytes were damaged: a hash failure, never the photo', async () => {
    const photo = await testPhoto(90);
    expect((await house.send(photo)).statusCode).toBe(303);
    const place = house.blobPath(sha256Of(photo.buffer));
    // The disk, not the service, changes a bit.
    const bytes = await readFile(place);
    bytes[bytes.length - 30]! ^= 1;
    await writeFile(place, bytes);

    const page = await pageOf(browser, base, house.engineer, { viewport: { width: 390, height: 800 } });
    const answers = new Map<string, number>();
    page.on('response', (answer) => answers.set(new URL(answer.url()).pathname, answer.status()));
    const own = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
    await page.goto(`${base}${own}/sheet`, { waitUntil: 'load' });
    const previews = [...answers].filter(([path]) => path.includes('/preview/'));
    expect(previews.length).toBeGreaterThan(0);
    for (const [, status] of previews) expect(status).toBe(500);

    await page.goto(`${base}${own}`);
    await page.getByRole('heading', { name: 'The stored file is damaged' }).waitFor();
    await page.getByText('Hash failure').first().waitFor();
  });
});
