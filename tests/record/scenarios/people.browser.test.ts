import { randomUUID } from 'node:crypto';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoBeam, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import { removeMember } from '../../../src/people/memberships/service.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { axeViolations } from '../../support/accessibility.ts';
import type { Client } from '../../support/app.ts';
import { chromiumPath, launchChromium } from '../../support/chromium.ts';
import { pageOf } from '../../support/pages.ts';
import { paperOf } from '../../support/paper.ts';
import { testPdf } from '../../support/test-files.ts';

/** The scenarios in which a person acts, in the browser: each has a page of their own open, as on the day. */
describe.skipIf(chromiumPath === undefined)('scenarios, in the browser', () => {
  let site: Site;
  let browser: Browser;
  let base = '';
  let engineer: Page;
  let contractor: Page;

  beforeAll(async () => {
    site = await buildSite();
    await submitVersions(site.test.deps, site.actor(site.contractor, 'contractor'), {
      openingId: site.openingId,
    });
    base = await site.test.app.listen({ host: '127.0.0.1', port: 0 });
    browser = await launchChromium();
    engineer = await signedIn(site.engineer);
    contractor = await signedIn(site.contractor);
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    expect((await verifyProject(site.test.deps.prisma, site.projectId)).broken).toBeNull();
    await site.test.close();
  });

  const signedIn = (who: Client) => pageOf(browser, base, who, { viewport: { width: 390, height: 800 } });
  const itemPage = (title: string) => `${base}${site.inProject}/items/${site.items[title]!}`;
  const marks = (title: string) =>
    site.test.deps.prisma.mark.count({ where: { version: { itemId: site.items[title]! } } });
  const heading = (page: Page, name: string | RegExp) =>
    page.getByRole('heading', { level: 1, name }).waitFor();

  it('scenario 18: a double tap on “Approve” is one mark', async () => {
    await engineer.goto(itemPage('Support left'));
    await engineer.getByLabel('Reason').first().fill('Looked at by hand');
    await engineer.getByRole('button', { name: 'Approve version 1' }).dblclick();
    await engineer.getByText('approved', { exact: false }).first().waitFor();
    expect(await marks('Support left')).toBe(1);
  });

  it('scenario 1: a version saved meanwhile: nothing is marked, and both are before the engineer', async () => {
    await engineer.goto(itemPage('Beam'));
    await site.change('Beam', { ...demoBeam, bearingLeftIn: 4.5 });
    await engineer.getByLabel('Reason').first().fill('Looked at by hand');
    await engineer.getByRole('button', { name: 'Approve version 1' }).click();
    await heading(engineer, 'Nothing was marked');
    await engineer.getByText('What you saw').waitFor();
    await engineer.getByText('Bearing 4 1/2" left', { exact: false }).first().waitFor();
    expect(await axeViolations(engineer)).toEqual([]);
    expect(await marks('Beam')).toBe(0);
  });

  it('scenario 2: two people at one row: the second sees the first’s and keeps what was typed', async () => {
    const edit = `${itemPage('Beam plies')}/edit`;
    await engineer.goto(edit);
    await contractor.goto(edit);
    await engineer.locator('[name="pattern.rows"]').fill('3');
    await engineer.locator('[name="_reason"]').fill('Three rows, for the side load');
    await engineer.locator('form[action$="/versions"] button.button--main').last().click();
    await heading(engineer, /Beam plies/);
    await contractor.locator('[name="note"]').fill('Driven from the den first');
    await contractor.locator('[name="_reason"]').fill('Order of driving');
    await contractor.locator('form[action$="/versions"] button.button--main').last().click();
    await contractor.getByText('Three rows, for the side load', { exact: false }).first().waitFor();
    await contractor.getByText('Driven from the den first', { exact: false }).first().waitFor();
    await contractor.getByText('Eng Ineer', { exact: false }).first().waitFor();
    expect(await axeViolations(contractor)).toEqual([]);
  });

  it('scenario 3: the survey’s span changes as it is typed on site; what rests on it is out of date', async () => {
    await contractor.goto(`${itemPage('Survey')}/edit`);
    const span = contractor.locator('[name="strips.0.frontSpanIn"]');
    expect(await span.inputValue()).toBe(`12'-0"`);
    await span.fill(`12'-8"`);
    await contractor.locator('[name="_reason"]').fill('Measured again');
    await contractor.locator('form[action$="/versions"] button.button--main').last().click();
    await heading(contractor, /Survey/);
    await contractor.goto(`${base}${site.inOpening}`);
    const box = contractor.locator('.notice', { hasText: 'Out of date' }).first();
    for (const title of ['Support left', 'Support right', 'Beam plies']) {
      await box.getByText(title, { exact: false }).first().waitFor();
    }
    await contractor.getByRole('button', { name: 'Recalculate what is out of date' }).click();
    await heading(contractor, 'Recalculated');
  });

  it('scenario 19: an approval taken back stays to be seen, and the set that holds it is flagged', async () => {
    expect(await site.issue()).toBe(1);
    await engineer.goto(itemPage('Support right'));
    await engineer.getByText('Withdraw this approval').click();
    await engineer.getByLabel('Why it is withdrawn').fill('Looked at the wrong sheet');
    await engineer.getByRole('button', { name: 'Withdraw the approval' }).click();
    await engineer.getByText('withdrawn', { exact: false }).first().waitFor();
    const inspector = await signedIn(site.inspector);
    const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({ where: { number: 1 } });
    await inspector.goto(`${base}${site.inProject}/sets/${set.id}`);
    await inspector.getByText('was withdrawn by Eng Ineer', { exact: false }).first().waitFor();
    await inspector.close();
  });

  it('scenario 20: the number on a printed set, typed in after the next one, says superseded and what changed', async () => {
    await site.change('Survey', { ...demoSurvey, wallLengthIn: 171 });
    await contractor.goto(`${base}${site.inOpening}`);
    const again = contractor.getByRole('button', { name: 'Recalculate what is out of date' });
    if ((await again.count()) > 0) await again.click();
    await site.change('Beam', { ...demoBeam, bearingLeftIn: 5, bearingRightIn: 4.5 });
    expect(await site.issue()).toBe(2);
    const inspector = await signedIn(site.inspector);
    await inspector.goto(`${base}/set-check`);
    await inspector.locator('[name="set"]').fill('1');
    await inspector.locator('main form button').click();
    await inspector
      .getByText(/superseded/i)
      .first()
      .waitFor();
    await inspector.getByText('Beam', { exact: false }).first().waitFor();
    await inspector.getByText('Not a sealed document', { exact: false }).first().waitFor();
    expect(await axeViolations(inspector)).toEqual([]);
    await inspector.close();
  });

  it('scenario 20: the disclaimer prints on both sets and on both lists, the superseded ones marked as such', async () => {
    const inspector = await signedIn(site.inspector);
    const footer =
      'Record of review. Not a sealed document. The licensed engineer and the authority having jurisdiction decide.';
    const sets = await site.test.deps.prisma.approvedSet.findMany({ orderBy: { number: 'asc' } });
    expect(sets.map(({ number }) => number)).toEqual([1, 2]);
    for (const { id, number } of sets) {
      for (const address of [`${site.inProject}/sets/${id}`, `${site.inOpening}/checklist?set=${number}`]) {
        await inspector.goto(`${base}${address}`);
        await inspector.emulateMedia({ media: 'print' });
        const sentence = inspector.locator('footer').getByText(footer);
        expect(await sentence.isVisible()).toBe(true);
        // Black on white, and of a size that is read at arm's length.
        const [colour, size] = await sentence.evaluate((one) => {
          const { color, fontSize } = getComputedStyle(one);
          return [color, fontSize] as const;
        });
        expect(colour).toBe('rgb(0, 0, 0)');
        expect(parseFloat(size)).toBeGreaterThanOrEqual(10);
        const { words } = await paperOf(inspector, 'Letter');
        expect(words).toContain(footer);
        expect(words.toLowerCase()).toContain(`set ${number}`);
        expect(words.includes('Superseded'), `${address} on paper`).toBe(number === 1);
        await inspector.emulateMedia({ media: null });
      }
    }
    await inspector.close();
  });

  it('scenario 11: an owner at the engineer’s own page', async () => {
    const owner = await signedIn(site.owner);
    const answer = await owner.goto(`${base}${site.inOpening}/review`);
    expect(answer?.status()).toBe(403);
    await owner.getByText('Your role in this project does not include that.').waitFor();
    expect(await owner.locator('main').textContent()).not.toContain('Eng Ineer');
    await owner.close();
  });

  it('scenario 12: a stranger at the link of a drawing, and at one of none', async () => {
    const sent = await site.contractor.upload(
      `${site.inProject}/attachments`,
      { subject: 'opening', subjectId: site.openingId, caption: 'Plan', back: site.inOpening },
      [{ field: 'file', ...testPdf() }],
    );
    expect(sent.statusCode).toBe(303);
    const { id } = await site.test.deps.prisma.attachment.findFirstOrThrow();
    const stranger = await signedIn(await site.test.person('El Sewhere'));
    for (const drawing of [id, randomUUID()]) {
      const answer = await stranger.goto(`${base}${site.inProject}/attachments/${drawing}/sheet`);
      expect(answer?.status()).toBe(404);
      await stranger.getByText('There is nothing here for you at this address.').waitFor();
    }
    await stranger.close();
  });

  it('scenario 13: an old tab of somebody who was taken out saves nothing', async () => {
    const second = await site.test.person('Sec Ond');
    await site.test.join(second, site.projectId, 'contractor');
    const tab = await signedIn(second);
    await tab.goto(`${itemPage('Survey')}/edit`);
    const { id: membershipId } = await site.test.deps.prisma.membership.findFirstOrThrow({
      where: { personId: second.personId },
    });
    await removeMember(site.test.deps, site.actor(site.contractor, 'contractor'), { membershipId });
    const before = await site.test.deps.prisma.version.count();
    await tab.locator('[name="wallLengthIn"]').fill(`14'-4"`);
    await tab.locator('form[action$="/versions"] button.button--main').last().click();
    await tab.getByText('There is nothing here for you at this address.').waitFor();
    expect(await site.test.deps.prisma.version.count()).toBe(before);
    await tab.close();
  });
});
