import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { allForms } from '../../src/record/kinds/all.ts';
import { axeViolations } from '../support/accessibility.ts';
import type { TestApp } from '../support/app.ts';
import { chromiumPath } from '../support/chromium.ts';
import { cookiesFor, walkAs, walkers, worthSeeing, type Walk } from '../support/crawl/crawl.ts';
import { startDemo, type RunningDemo } from '../support/demo-service.ts';
import { unlinkedPages } from '../support/crawl/unlinked.ts';
import { routeOf } from '../support/crawl/routes.ts';

/** Addresses that are no pages, and what they are. Everything else has to be reached by somebody. */
const noPages: Readonly<Record<string, string>> = {
  '/assets/*': 'style sheets and scripts',
  '/assets/idb.js': 'a script',
  '/calendar/:token': 'for calendar programs',
  '/health': 'for whoever watches the service',
  '/on-site-worker.js': 'a script',
  '/projects/:projectId/live': 'the line to an open page',
  '/projects/:projectId/phone-photos/:photoId': 'asked by a phone that sends its photos',
  '/projects/:projectId/uploads/:uploadId': 'asked by a page that goes on with an upload',
  '/projects/:projectId/visits/:visitId/kept': 'asked by a phone that takes a visit along',
};

/** Every page that a link leads to, for each person of the demo and for nobody, in both themes, at four widths. */
describe.skipIf(chromiumPath === undefined)('every page', () => {
  let demo: RunningDemo;
  let test: TestApp;
  let base: string;
  let browser: Browser;
  const walks: Walk[] = [];

  beforeAll(async () => {
    demo = await startDemo('whole');
    ({ test, base, browser } = demo);
    const unlinked = await unlinkedPages(test, base);
    for (const who of walkers) walks.push(await walkAs(base, who, unlinked[who]));
  }, 300_000);
  afterAll(() => demo.stop());

  it('is where its link says, for everyone who is shown the link', () => {
    const wrong = walks.flatMap(({ reached }) => reached).filter(({ status }) => status >= 400);
    expect(
      wrong.map(({ who, status, address, from }) => `${who}: ${status} ${address} from ${from}`),
    ).toEqual([]);
  });

  it('marks each time of day, so that a browser writes it in its own zone', () => {
    const bare = walks
      .flatMap(({ reached }) => reached)
      .flatMap(({ who, address, bareMoments }) => bareMoments.map((text) => `${who}: ${address}: ${text}`));
    expect(bare).toEqual([]);
  });

  it('is reached by somebody', () => {
    const routes = test.app
      .routeTable()
      .filter(({ method, url }) => method === 'GET' && !url.startsWith('/api/v1/'))
      .map(({ url }) => url);
    const met = new Set(
      walks.flatMap(({ reached }) => reached.map(({ address }) => routeOf(address, routes))),
    );
    expect(routes.filter((url) => !met.has(url)).sort()).toEqual(Object.keys(noPages).sort());
  });

  it.each(walkers)(
    'has nothing wrong for axe in both themes, narrow and wide, and reflows at 200 and 400 per cent: %s',
    async (who) => {
      const pages = worthSeeing(walks).filter((one) => one.who === who);
      const context = await browser.newContext({
        bypassCSP: true,
        reducedMotion: 'reduce',
        timezoneId: 'America/Chicago',
      });
      await context.addCookies(cookiesFor(base, walks.find((one) => one.who === who)!.cookies));
      const page = await context.newPage();
      const wrong: string[] = [];
      let times = 0;
      let pattern = '';
      page.on('console', (message) => {
        if (message.type() === 'error') wrong.push(`${pattern} complains: ${message.text()}`);
      });
      page.on('pageerror', (error) => wrong.push(`${pattern} breaks: ${error.message}`));
      for (const one of pages) {
        ({ pattern } = one);
        await page.goto(base + one.address);
        const moments = await momentsOn(page);
        times += moments.length;
        const found = [...moments.flatMap(notInChicago), ...(await wrongWith(page))];
        wrong.push(...found.map((line) => `${pattern} ${line} (${one.address})`));
      }
      expect(times).toBeGreaterThan(0);
      await context.close();
      expect(wrong).toEqual([]);
    },
    300_000,
  );

  it('has nothing wrong where a form came back with what was wrong in it', async () => {
    const walk = walks.find(({ who }) => who === 'contractor')!;
    const context = await browser.newContext({ bypassCSP: true, reducedMotion: 'reduce' });
    await context.addCookies(cookiesFor(base, walk.cookies));
    const page = await context.newPage();
    const { id: projectId, openings } = await test.deps.prisma.project.findFirstOrThrow({
      select: { id: true, openings: { select: { id: true } } },
    });
    const forms = [...allForms.keys()].map(
      (kind) => `/projects/${projectId}/items/new?kind=${kind}&opening=${openings[0]!.id}`,
    );
    const wrong: string[] = [];
    for (const address of [...forms, '/projects/new']) {
      await page.goto(base + address);
      await page.evaluate(() => {
        for (const box of document.querySelectorAll<HTMLInputElement>('main input.input, main textarea'))
          box.value = '';
      });
      await page.locator('main .button--main').last().click();
      // Said before the page and at the first box, and the focus is where it is said.
      const summary = page.locator('.error-summary');
      await summary.waitFor();
      const said = await summary.getByRole('link').count();
      const boxes = await page.locator('[aria-invalid="true"]').count();
      if (said === 0 || boxes === 0) wrong.push(`${address} says ${said} things, at ${boxes} boxes`);
      const found = await wrongWith(page);
      wrong.push(...found.map((line) => `${address} ${line}`));
    }
    await context.close();
    expect(wrong).toEqual([]);
  }, 300_000);

  // The last, since it renames what the others look at.
  it('is no wider on a phone for names of 120 letters without a space', async () => {
    const { prisma } = test.deps;
    const name = 'Wandwegnahmezwischenküche'.repeat(5).slice(0, 120);
    await prisma.project.updateMany({ data: { name, address: name, jurisdiction: name } });
    await prisma.opening.updateMany({ data: { name } });
    await prisma.item.updateMany({ data: { title: name } });
    await prisma.person.updateMany({ data: { name } });
    const wide: string[] = [];
    for (const who of walkers) {
      const walk = walks.find((one) => one.who === who)!;
      const context = await browser.newContext({ viewport: { width: 360, height: 800 } });
      await context.addCookies(cookiesFor(base, walk.cookies));
      const page = await context.newPage();
      for (const { pattern, address } of worthSeeing(walks).filter((one) => one.who === who)) {
        await page.goto(base + address);
        const width = await page.evaluate(() => document.documentElement.scrollWidth);
        if (width > 360) wide.push(`${who}: ${pattern} is ${width} px wide (${address})`);
      }
      await context.close();
    }
    expect(wide).toEqual([]);
  }, 300_000);
});

interface Moment {
  readonly datetime: string;
  readonly shows: string;
  readonly words: string;
  readonly title: string;
}
async function momentsOn(page: Page): Promise<Moment[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLTimeElement>('time[data-moment]')].map((time) => ({
      datetime: time.dateTime,
      shows: time.dataset.moment ?? '',
      words: time.textContent,
      title: time.title,
    })),
  );
}

const part = (timeZone: string, options: Intl.DateTimeFormatOptions) =>
  new Intl.DateTimeFormat('en-US', { timeZone, ...options });
const chicagoDay = part('America/Chicago', { dateStyle: 'medium' });
const chicagoTime = part('America/Chicago', { timeStyle: 'short' });
const utcTime = part('UTC', { timeStyle: 'short' });

/** What is wrong with a moment as a browser in Chicago shows it: its day and time there, and the time in UTC beside. */
function notInChicago({ datetime, shows, words, title }: Moment): string[] {
  const at = new Date(datetime);
  const day = chicagoDay.format(at);
  const zones = ['CST', 'CDT'].map((zone) => `${day}, ${chicagoTime.format(at)} ${zone}`);
  const right = shows === 'day' ? words === day : zones.includes(words);
  return right && title.endsWith(`${utcTime.format(at)} UTC`)
    ? []
    : [`shows ${datetime} as “${words}”, with “${title}”`];
}

/** A phone, a window at 400 % and at 200 % of 1280 px, a desk: nothing may run out of them sideways. */
const widths = [320, 640, 1280, 360];

/** A state broken into two lines, which then reads as two; a stop too many, or a comma that stands alone. */
async function spoiltWords(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const chips = [...document.querySelectorAll<HTMLElement>('.chip')]
      .filter((chip) => chip.offsetHeight > 2.4 * Number.parseFloat(getComputedStyle(chip).fontSize))
      .map((chip) => `“${chip.innerText}” is broken into lines`);
    const { innerText } = document.querySelector<HTMLElement>('main') ?? document.body;
    const signs = [...innerText.matchAll(/.{0,30}(?:[^.]\.\.(?!\.)|\s,).{0,10}/g)].map(
      ([found]) => `“${found}”`,
    );
    return [...new Set([...chips, ...signs])];
  });
}

/** All rules at the narrow width; what another width or another theme can spoil, there as well. */
async function wrongWith(page: Page): Promise<string[]> {
  const wrong: string[] = [];
  // What is folded away is part of the page.
  await page.evaluate(() => {
    for (const one of document.querySelectorAll('details')) one.open = true;
  });
  for (const width of widths) {
    await page.setViewportSize({ width, height: 800 });
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    if (wide > width) wrong.push(`is ${wide} px wide at ${width}`);
    if (width !== 360 && width !== 1280) continue;
    wrong.push(...(await spoiltWords(page)).map((line) => `at ${width} px: ${line}`));
    const found = await axeViolations(page, width === 360 ? 'everything' : 'layout');
    wrong.push(...found.map((line) => `at ${width} px: ${line}`));
  }
  await page.emulateMedia({ colorScheme: 'dark' });
  const found = await axeViolations(page, 'colours');
  wrong.push(...found.map((line) => `in the dark: ${line}`));
  await page.emulateMedia({ colorScheme: 'light' });
  return wrong;
}
