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
    engineer = await pageOf(site.engineer);
    contractor = await pageOf(site.contractor);
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    expect((await verifyProject(site.test.deps.prisma, site.projectId)).broken).toBeNull();
    await site.test.close();
  });

  async function pageOf(who: Client): Promise<Page> {
    const context = await browser.newContext({ viewport: { width: 390, height: 800 } });
    const cookies = who.cookies().split('; ');
    await context.addCookies(
      cookies.map((pair) => {
        const cut = pair.indexOf('=');
        return { name: pair.slice(0, cut), value: decodeURIComponent(pair.slice(cut + 1)), url: base };
      }),
    );
    const page = await context.newPage();
    page.on('dialog', (dialog) => void dialog.accept());
    return page;
  }
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
    const inspector = await pageOf(site.inspector);
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
    const inspector = await pageOf(site.inspector);
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

  it('scenarios 11 and 12: an owner at the engineer’s pages, a stranger at a drawing’s link', async () => {
    const owner = await pageOf(site.owner);
    const answer = await owner.goto(itemPage('Beam'));
    expect([403, 404]).toContain(answer?.status());
    expect(await owner.locator('main').textContent()).not.toContain('Eng Ineer');
    await owner.close();
    const stranger = await pageOf(await site.test.person('El Sewhere'));
    expect((await stranger.goto(itemPage('Beam')))?.status()).toBe(404);
    await stranger.getByText('There is nothing here for you at this address.').waitFor();
    await stranger.close();
  });

  it('scenario 13: an old tab of somebody who was taken out saves nothing', async () => {
    const second = await site.test.person('Sec Ond');
    await site.test.join(second, site.projectId, 'contractor');
    const tab = await pageOf(second);
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
