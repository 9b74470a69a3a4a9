import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fromBase32 } from '../../src/people/second-factor/base32.ts';
import { codeOf, STEP_SECONDS, stepAt } from '../../src/people/second-factor/one-time-code.ts';
import { axeViolations } from '../support/accessibility.ts';
import { startTestApp, testPassword, type TestApp } from '../support/app.ts';
import { chromiumPath, launchChromium } from '../support/chromium.ts';

/** A new installation on a phone: from the first account to the first submission by what the pages say comes next. */
describe.skipIf(chromiumPath === undefined)('the first minutes of an installation', () => {
  let test: TestApp;
  let browser: Browser;
  let page: Page;
  /** Codes are good for 30 seconds: where they are typed, the service's clock stands still. */
  let stoppedAt: Date | undefined;

  beforeAll(async () => {
    test = await startTestApp({}, undefined, () => stoppedAt ?? new Date());
    browser = await launchChromium();
    const base = await test.app.listen({ host: '127.0.0.1', port: 0 });
    const context = await browser.newContext({
      viewport: { width: 360, height: 800 },
      baseURL: base,
      timezoneId: 'America/Denver',
    });
    page = await context.newPage();
  });
  afterAll(async () => {
    await browser.close();
    await test.close();
  });

  async function fill(boxes: Readonly<Record<string, string>>): Promise<void> {
    for (const [name, text] of Object.entries(boxes)) await page.locator(`[name="${name}"]`).fill(text);
  }
  const follow = (name: string | RegExp) => page.getByRole('link', { name }).first().click();
  async function save(): Promise<void> {
    await page.locator('button[name="do"][value="save"]').last().click();
    await page.getByText('is kept as version 1').waitFor();
  }
  /** From an item back to its opening, by the path above its title. */
  const back = () => page.locator('.breadcrumb').getByRole('link', { name: 'Den to box room' }).click();

  it('makes account, project and criteria, with the standards of the code in force', async () => {
    await page.goto('/');
    await follow('Make an account');
    await fill({ name: 'R. T.', email: 'builder@example.org', password: testPassword });
    await page.getByRole('button', { name: 'Make the account' }).click();
    await page.getByText('No project yet').waitFor();
    await follow('Make a project');
    await fill({ name: 'Bed-sitting room', address: '12 Slipway Row', jurisdiction: 'Cinder Ferry' });
    // Whoever makes the project mostly stands near the house.
    expect(await page.getByLabel('Time zone of the house').inputValue()).toBe('America/Denver');
    await page.getByRole('button', { name: 'Make the project' }).click();
    await follow('By the IRC 2024');
    expect(await page.locator('[name="editions.asce7"]').inputValue()).toBe('7-22');
    // The one figure that nobody can guess for them.
    await fill({ groundSnowPsf: '30' });
    await save();
    await follow('Next: Name the opening.');
    await fill({ name: 'Den to box room' });
    await page.getByRole('button', { name: 'Add the opening' }).click();
  });

  it('enters the survey, with the answer to a question at the field', async () => {
    await follow(/^Enter the survey/);
    const answer = page.getByRole('img', { name: /tape starts at the face of a wall that stays/ });
    expect(await answer.isVisible()).toBe(false);
    await page.getByText('Where do I measure from?').click();
    await answer.waitFor();
    await fill({
      datum: 'left cross wall, room face',
      wallLengthIn: `14'-2"`,
      wallHeightIn: `8'-1 1/8"`,
      wallThicknessIn: '5 1/2"',
      openingFromIn: `1'-8"`,
      openingToIn: `12'-6"`,
    });
    await page.getByRole('button', { name: 'Add: strip' }).click();
    // The page opens at the new row, not at its own beginning, a dozen screens above.
    await page.locator('fieldset:focus', { hasText: 'Strip 1' }).waitFor();
    // A chosen option that is wider than the phone goes on in a second line instead of being cut.
    const heightOf = async (name: string) => (await page.locator(`[name="${name}"]`).boundingBox())!.height;
    expect(await heightOf('strips.0.overWall')).toBeGreaterThan((await heightOf('strips.0.evidence')) + 10);
    await fill({
      'strips.0.label': 'upper floor',
      'strips.0.frontSpanIn': `12'-0"`,
      'strips.0.rearSpanIn': `14'-0"`,
      'strips.0.deadPsf': '12',
    });
    await save();
    await back();
  });

  it('proposes beam, packs and rows as the page says, and submits them', async () => {
    for (const step of [
      'Propose the beam.',
      /^Propose the stud packs/,
      /^Propose the stud pack at the other end/,
      /^Say what is under the packs/,
      /^Say what is under the pack at the other end/,
      /^Enter the hangers that carry/,
      /^Enter the hangers at the other face/,
      /^Plan the temporary walls/,
    ]) {
      await follow(step);
      await save();
      await back();
    }
    await follow(/^Put the fastening rows in/);
    await follow('Propose rows from the design');
    await page.getByRole('button', { name: /^Put the chosen rows/ }).click();
    await page.getByText(/new rows .* kept/).waitFor();
    await back();
    await page.getByText(/^Submit \d+ items to the engineer\.$/).waitFor();
    await page.getByRole('button', { name: 'Submit these' }).click();
    await page.getByText(/^Submission 1: \d+ items handed to the engineer\.$/).waitFor();
  });

  it('guards the account with one-time codes, signs in with one, and ends the session of before', async () => {
    const context = await browser.newContext({
      viewport: { width: 360, height: 800 },
      baseURL: new URL(page.url()).origin,
      bypassCSP: true,
    });
    const other = await context.newPage();
    const wrong: string[] = [];
    const look = async (where: string) => {
      const found = await axeViolations(other);
      const width = await other.evaluate(() => document.documentElement.scrollWidth);
      wrong.push(
        ...found.map((one) => `${where}: ${one}`),
        ...(width > 360 ? [`${where} is ${width} px wide`] : []),
      );
    };
    const box = (label: string) => other.getByRole('textbox', { name: label, exact: true });
    const signIn = async () => {
      await other.goto('/sign-in?next=/account');
      await box('E-mail address').fill('builder@example.org');
      await box('Password').fill(testPassword);
      await other.getByRole('button', { name: 'Sign in', exact: true }).click();
    };
    await signIn();
    await other.getByRole('link', { name: 'Set up one-time codes' }).click();
    await look('codes off');
    await box('Present password').fill(testPassword);
    await other.getByRole('button', { name: 'Go on' }).click();
    const picture = other.getByRole('img', { name: /secret as a picture/ });
    await picture.waitFor();
    expect(await picture.evaluate((img: HTMLImageElement) => img.naturalWidth)).toBeGreaterThan(0);
    await look('codes begun');
    const key = fromBase32((await other.locator('#code-secret').innerText()).replaceAll(' ', ''));
    stoppedAt = new Date();
    await box('Code').fill(codeOf(key, stepAt(stoppedAt)));
    await other.getByRole('button', { name: 'Switch on codes' }).click();
    await other.getByRole('heading', { name: 'Your recovery codes' }).waitFor();
    expect(
      await other
        .getByRole('listitem')
        .filter({ hasText: /^(?:[A-Z2-7]{4}-){6}[A-Z2-7]{4}$/ })
        .count(),
    ).toBe(10);
    await look('recovery codes');
    await other.getByRole('link', { name: 'I have kept them' }).click();
    await other.getByRole('button', { name: 'Sign out everywhere' }).waitFor();

    await context.clearCookies();
    await signIn();
    await look('the code at sign-in');
    await box('Code').fill('12');
    await other.getByRole('button', { name: 'Sign in', exact: true }).click();
    await other.getByText('Enter the six figures').first().waitFor();
    // The one that switched codes on is used up.
    stoppedAt = new Date(stoppedAt.getTime() + STEP_SECONDS * 1000);
    await box('Code').fill(codeOf(key, stepAt(stoppedAt)));
    await other.getByRole('button', { name: 'Sign in', exact: true }).click();
    await other.getByRole('group', { name: 'Sessions to end' }).waitFor();
    await look('sessions');
    other.on('dialog', (dialog) => void dialog.accept());
    await box('Present password').last().fill(testPassword);
    await other.getByRole('button', { name: 'End all others' }).click();
    await other.getByText('You are signed in nowhere else.').waitFor();
    await other.getByRole('link', { name: 'Your one-time codes' }).click();
    await other.getByText('You have 10 unused recovery codes.').waitFor();
    await look('codes on');
    await page.goto('/account');
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    expect(wrong).toEqual([]);
    await context.close();
  });
});
