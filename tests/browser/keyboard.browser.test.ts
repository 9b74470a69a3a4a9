import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoSignIns } from '../../src/demo/people.ts';
import { chromiumPath } from '../support/chromium.ts';
import { startDemo, type RunningDemo } from '../support/demo-service.ts';
import { KeyboardPerson } from '../support/keyboard.ts';

/** The main job without a mouse, in a demo that is told up to the first proposal. */
describe.skipIf(chromiumPath === undefined)('the main job by keyboard alone', () => {
  let demo: RunningDemo;
  let browser: Browser;
  let opening = '';

  beforeAll(async () => {
    demo = await startDemo('first proposal');
    ({ browser } = demo);
    const { id, projectId } = await demo.test.deps.prisma.opening.findFirstOrThrow();
    opening = `${demo.base}/projects/${projectId}/openings/${id}`;
  }, 300_000);
  afterAll(() => demo.stop());

  async function enter(role: string, width = 1280): Promise<{ page: Page; keys: KeyboardPerson }> {
    const context = await browser.newContext({ viewport: { width, height: 800 } });
    const page = await context.newPage();
    // The question before what cannot be taken back is the browser's own; Enter answers it.
    page.on('dialog', (dialog) => void dialog.accept());
    const keys = new KeyboardPerson(page);
    await page.goto(`${demo.base}/sign-in`);
    const { name } = demoSignIns.find((one) => one.role === role)!;
    await keys.press(page.getByRole('button', { name: `Enter as the ${role}, ${name}` }));
    await page.goto(opening);
    return { page, keys };
  }

  it('skips to the main part and shows the focus at every stop of a page', async () => {
    const { page, keys } = await enter('contractor');
    expect(await keys.skip()).toBe('main');
    await page.goto(opening);
    const stops = await keys.walkRound();
    expect(stops.filter(({ shown }) => !shown).map(({ words }) => words)).toEqual([]);
    const reachable = await page
      .locator('main a[href], main button:not([tabindex="-1"]), main summary, main textarea, main input')
      .evaluateAll((all) => all.filter((one) => (one as HTMLElement).checkVisibility()).length);
    expect(stops.length).toBeGreaterThanOrEqual(reachable);
    await page.context().close();
  });

  it('the contractor changes a row and submits it', async () => {
    const { page, keys } = await enter('contractor');
    await keys.press(page.getByRole('link', { name: 'Beam plies', exact: true }).first());
    await keys.press(page.locator('main a[href$="/edit"]').first());
    await keys.type(page.locator('[name="pattern.spacingIn"]'), '8"');
    await keys.type(page.locator('[name="_reason"]'), 'Closer, for the side load');
    await keys.press(page.locator('button[name="do"][value="save"]').last());
    await page.getByText('is kept as version 2').waitFor();
    await page.goto(opening);
    await keys.press(page.getByRole('button', { name: 'Submit these' }));
    await page.getByText('1 item handed to the engineer').waitFor();
    expect(keys.unseen).toEqual([]);
    await page.context().close();
  });

  it('the engineer approves the beam and issues a set that says what it leaves open', async () => {
    const { page, keys } = await enter('engineer');
    await keys.press(page.getByRole('link', { name: 'Beam', exact: true }));
    await keys.type(page.getByLabel('Reason'), 'Checked by hand');
    await keys.press(page.getByRole('button', { name: 'Approve version 1' }));
    await page.getByText('Beam: approved.').waitFor();
    await page.goto(opening);
    await keys.press(page.getByRole('link', { name: 'Issue an approved set' }));
    await keys.press(page.getByRole('button', { name: 'Issue set 1' }));
    await page.getByText('Approved set 1 is issued and frozen.').waitFor();
    expect(keys.unseen).toEqual([]);
    await page.context().close();
  });

  it('the inspector passes a check and closes the visit, on a phone with keys', async () => {
    const { page, keys } = await enter('inspector', 360);
    await page.goto(`${opening}/checklist`);
    await keys.press(page.getByRole('button', { name: 'Begin this visit' }).first());
    await page.getByRole('heading', { name: /^Visit 1/ }).waitFor();
    await keys.press(page.getByRole('button', { name: 'Pass' }).first());
    await page.getByText('Last recorded:').waitFor();
    await keys.choose(page.locator('fieldset', { hasText: 'Outcome' }).last(), 'partial');
    await keys.type(page.getByLabel('Portion that may go on'), 'What was looked at');
    await keys.press(page.getByRole('button', { name: 'Close the visit' }));
    await page.getByText('The visit is closed.').waitFor();
    expect(keys.unseen).toEqual([]);
    await page.context().close();
  });
});
