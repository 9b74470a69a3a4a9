import type { BrowserContext } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { demoSignIns } from '../../src/demo/people.ts';
import { chromiumPath } from '../support/chromium.ts';
import { startDemo, type RunningDemo } from '../support/demo-service.ts';
import { ScreenReader } from '../support/screen-reader.ts';

/** The main job by what the accessibility tree tells, in a demo that is told up to the first proposal. */
describe.skipIf(chromiumPath === undefined)('the main job by screen reader', () => {
  let demo: RunningDemo;
  let opening = '';
  let context: BrowserContext;

  beforeAll(async () => {
    demo = await startDemo('first proposal');
    const { id, projectId } = await demo.test.deps.prisma.opening.findFirstOrThrow();
    opening = `/projects/${projectId}/openings/${id}`;
  }, 300_000);
  afterEach(() => context.close());
  afterAll(() => demo.stop());

  async function enter(role: string, width = 1280) {
    context = await demo.browser.newContext({ viewport: { width, height: 800 } });
    const page = await context.newPage();
    page.on('dialog', (dialog) => void dialog.accept());
    const reader = new ScreenReader(page);
    const { name } = demoSignIns.find((one) => one.role === role)!;
    await page.goto(`${demo.base}/sign-in`);
    await reader.press('button', `Enter as the ${role}, ${name}`);
    await reader.find('heading', 'Your projects');
    const open = async (address: string) => {
      await page.goto(demo.base + address);
      const headings = await reader.headings();
      // One title, first of all, and no level is skipped on the way down.
      expect(headings.filter(({ level }) => level === 1)).toHaveLength(1);
      expect(headings[0]!.level).toBe(1);
      const skipped = headings.filter(({ level }, at) => at > 0 && level > headings[at - 1]!.level + 1);
      expect(skipped.map(({ name: words }) => words)).toEqual([]);
      expect(await reader.landmarks()).toEqual(
        expect.arrayContaining(['banner', 'navigation Project', 'main', 'contentinfo']),
      );
      expect(await reader.nameless()).toEqual([]);
    };
    return { page, reader, open };
  }

  it('the contractor is told what is wrong in a row and where, puts it right and submits it', async () => {
    const { reader, open } = await enter('contractor');
    await open(opening);
    await reader.press('link', 'Beam plies');
    await reader.press('link', 'Edit');
    await reader.write('Spacing in a row', 'eight');
    await reader.press('button', 'Save as a new version');
    await reader.hears(/There is something to put right[\s\S]*Spacing in a row/);
    const box = await reader.find('textbox', 'Spacing in a row');
    expect(box.invalid).toBe(true);
    expect(box.description).toMatch(/Spacing in a row/);
    // The list of what is wrong leads to the box.
    await reader.press('link', /^Spacing in a row/);
    await expect
      .poll(async () => (await reader.all()).filter(({ focused }) => focused).map(({ name }) => name))
      .toContain('Spacing in a row');
    await reader.write('Spacing in a row', '8"');
    await reader.write(/^Why this version/, 'Closer, for the side load');
    await reader.press('button', 'Save as a new version');
    await reader.hears(/is kept as version 2/);
    await open(opening);
    await reader.press('button', 'Submit these');
    await reader.hears(/1 item handed to the engineer/);
  });

  it('the engineer marks the beam and issues a set', async () => {
    const { reader, open } = await enter('engineer');
    await open(opening);
    await reader.press('link', 'Beam');
    await reader.write(/^Reason/, 'Checked by hand');
    await reader.press('button', 'Approve version 1');
    await reader.hears(/Beam: approved\./);
    await open(opening);
    await reader.press('link', 'Issue an approved set');
    await reader.press('button', 'Issue set 1');
    await reader.hears(/Approved set 1 is issued and frozen\./);
  });

  it('the inspector passes a check and closes the visit', async () => {
    const { reader, open } = await enter('inspector', 360);
    await open(`${opening}/checklist`);
    await reader.press('button', 'Begin this visit');
    await reader.find('heading', /^Visit 1/);
    await reader.press('button', /^Pass/);
    await reader.find('StaticText', /^Last recorded:/);
    await reader.press('radio', /^Partial/i);
    await reader.write(/^Portion that may go on/, 'What was looked at');
    await reader.press('button', 'Close the visit');
    await reader.hears(/The visit is closed\./);
  });

  it('the owner hears first what needs a decision and whether it is safe', async () => {
    const { reader, open } = await enter('owner', 360);
    await open(`${opening}/progress`);
    const parts = (await reader.headings()).map(({ name }) => name);
    expect(parts.slice(0, 3)).toEqual([
      expect.stringMatching(/^How far it is/),
      'What needs your decision',
      'Is it safe?',
    ]);
    await reader.find('note', 'Caution');
    await reader.find('textbox', /^Ask your contractor/);
  });
});
