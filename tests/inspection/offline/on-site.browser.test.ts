import { createHash } from 'node:crypto';
import { mkdir } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoBeam } from '../../../src/demo/cinder-ferry.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { buildApp } from '../../../src/web/app.ts';
import { drawingPdf } from '../../attachments/support/drawings.ts';
import { axeViolations } from '../../support/accessibility.ts';
import { chromiumPath } from '../../support/chromium.ts';
import { testPhoto } from '../../support/test-files.ts';
import { buildSite, type Site } from '../support/site.ts';
import { buyPhone, type PhoneBrowser } from './phone-browser.ts';
import { layWire, type Wire } from './wire.ts';

const shots = process.env.LINTELBOOK_SCREENSHOTS;
const FINDINGS = 14;
const PHOTOS = 9;

/** An inspector on site without a network: nothing is lost, nothing arrives twice. */
describe.skipIf(chromiumPath === undefined)('on site, without a network', () => {
  let site: Site;
  let app: FastifyInstance;
  let wire: Wire;
  let phone: PhoneBrowser;
  let visit = '';

  async function start(): Promise<void> {
    app = await buildApp(site.test.deps, 'a secret of the tests, long enough');
    await app.listen({ port: 0, host: '127.0.0.1' });
  }
  const port = () => (app.server.address() as AddressInfo).port;
  const prisma = () => site.test.deps.prisma;

  beforeAll(async () => {
    site = await buildSite();
    const buffer = drawingPdf(['Header schedule']);
    await site.contractor.upload(
      `${site.inProject}/attachments`,
      { subject: 'opening', subjectId: site.openingId, caption: 'Plan', back: site.inOpening },
      [{ field: 'file', name: 'A-101.pdf', mimeType: 'application/pdf', buffer }],
    );
    await createItem(site.test.deps, site.actor(site.contractor, 'contractor'), {
      openingId: site.openingId,
      kind: 'drawing',
      key: 'a-101',
      title: 'A-101',
      content: {
        name: 'A-101',
        revision: 'B',
        drawnOn: '2026-03-01',
        issuedBy: 'The engineer',
        sha256: createHash('sha256').update(buffer).digest('hex'),
      },
    });
    await site.issue();
    const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'final' });
    visit = String(begun.headers.location);
    await start();
    wire = await layWire(port);
    phone = await buyPhone(wire.url);
    await phone.open();
    await phone.signIn(site.inspector);
  });
  afterAll(async () => {
    await phone.throwAway();
    await wire.close();
    await app.close();
    await site.test.close();
  });

  async function shoot(page: Page, name: string): Promise<void> {
    if (shots === undefined) return;
    await mkdir(shots, { recursive: true });
    await page.screenshot({ path: `${shots}/on-site-${name}.png`, fullPage: name.endsWith('full') });
  }
  async function takeAlong(page: Page): Promise<void> {
    await page.goto(`${wire.url}${visit}`);
    await page.getByRole('button', { name: 'Take this visit with me' }).click();
    await page.getByText('On this phone since').waitFor();
  }
  async function noNetwork(): Promise<void> {
    await wire.cut();
    await phone.offline(true);
  }
  async function network(): Promise<void> {
    await wire.mend();
    await phone.offline(false);
  }
  const waits = (page: Page, words: string) => page.locator('[data-said]').getByText(words).waitFor();

  const photoOf = (place: number, n: number) => testPhoto((place * 17 + n * 5) % 256);
  interface Recorded {
    readonly place: number;
    readonly result: 'Pass' | 'Correction needed' | 'Does not apply';
    readonly reason: string;
    readonly photos: number;
  }
  /** Records on the n-th check of the kept page, as a thumb does. */
  async function record(page: Page, { place, result, reason, photos }: Recorded): Promise<void> {
    const check = page.locator('.checklist__one').nth(place);
    const box = check.locator('details.record');
    if ((await box.getAttribute('open')) === null) await box.locator('summary').first().click();
    if (photos > 0) {
      const files = await Promise.all(Array.from({ length: photos }, (_, n) => photoOf(place, n)));
      await check.locator('input[type=file]').setInputFiles(files);
    }
    const before = await check.locator('.own-finding').count();
    if (result !== 'Pass') {
      await check.getByText('Not in order, or does not apply').click();
      await check.getByLabel('Reason').fill(reason);
      if (result === 'Correction needed') await check.getByLabel('Square').fill('c4');
    }
    await check.getByRole('button', { name: result }).click();
    await check.locator('.own-finding').nth(before).waitFor();
  }

  it('keeps a visit on the phone, and says what and since when', async () => {
    const page = phone.page();
    await takeAlong(page);
    const line = await page.locator('[data-kept-line]').textContent();
    const checks = await prisma().check.count();
    expect(line).toContain(`${checks} checks, 1 drawing (1 page), 0 photos.`);
    expect(line).toMatch(/since \w{3} \d+, \d{4}, \d+:\d{2} [AP]M C[SD]T:/);
    await shoot(page, 'taken-full');
    // The policy of pages stays as strict as everywhere: nothing inline, nothing from elsewhere.
    const worker = await page.request.get(`${wire.url}/on-site`);
    expect(worker.headers()['content-security-policy']).toContain("default-src 'none';script-src 'self'");
  });

  const plan: Recorded[] = Array.from({ length: FINDINGS }, (_, index) => ({
    place: index % 7,
    result: index === 3 ? 'Correction needed' : index === 5 ? 'Does not apply' : 'Pass',
    reason: index === 3 ? 'Gap at the north jack' : index === 5 ? 'No post here' : '',
    photos: index < 7 ? 1 : index === 7 ? 2 : 0,
  }));
  let recordedAt: { from: Date; to: Date };

  it('scenario 7: opens the kept visit without a network, records 14 findings with 9 photos, and says what waits', async () => {
    await noNetwork();
    let page = phone.page();
    // The tab is gone and comes back; then the browser is killed half-way.
    await page.close();
    await phone.close();
    page = await phone.open();
    await phone.offline(true);
    await page.goto(`${wire.url}${visit}`);
    await page.getByRole('heading', { level: 1, name: /^Visit \d+: Final/ }).waitFor();
    await page.getByText(/^On this phone since .*\d [AP]M C[SD]T, for /).waitFor();
    await page.getByText('Approved drawings').click();
    const drawing = page.locator('[data-drawing-list] img');
    await drawing.scrollIntoViewIfNeeded();
    await expect
      .poll(() => drawing.evaluate((one) => (one as unknown as { naturalWidth: number }).naturalWidth))
      .toBe(1280);
    await shoot(page, 'offline-full');
    // The list ends with what comes after it.
    const toClose = page.locator('[data-to-close]').getByRole('link', { name: 'To the live page' });
    expect(await toClose.getAttribute('href')).toBe(`${visit}#close`);

    const from = new Date();
    for (const one of plan.slice(0, 8)) await record(page, one);
    await waits(page, '8 findings and 9 photos wait to be sent.');
    await phone.kill();
    page = await phone.open();
    await phone.offline(true);
    await page.goto(`${wire.url}${visit}`);
    await waits(page, '8 findings and 9 photos wait to be sent.');
    for (const one of plan.slice(8)) await record(page, one);
    recordedAt = { from, to: new Date() };
    await waits(page, '14 findings and 9 photos wait to be sent.');
    // A slip of the thumb is taken back, photo and all, as long as it never left the phone.
    await record(page, { place: 0, result: 'Pass', reason: '', photos: 1 });
    await waits(page, '15 findings and 10 photos wait to be sent.');
    const asked: string[] = [];
    // The phone says yes to whatever it is asked.
    page.once('dialog', (dialog) => asked.push(dialog.message()));
    const slip = page.locator('.checklist__one').first().locator('.own-finding').last();
    await slip.getByRole('button', { name: 'Take it back' }).click();
    await waits(page, '14 findings and 9 photos wait to be sent.');
    await page
      .getByText(/Gap at the north jack/)
      .first()
      .waitFor();
    await page
      .getByText(/, square C4/)
      .first()
      .waitFor();
    expect(asked).toEqual(['Take back “Pass” and its photo? It was not sent, and nobody will see it.']);
    await shoot(page, 'waiting');
    expect(await axeViolations(page)).toEqual([]);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(360);
    // A thumb hits what it means to: WCAG 2.5.5 wants 44 px, here measured on everything that is pressed.
    const small = await page.evaluate(`
      [...document.querySelectorAll('main a, main button:not(.unseen), main input, main textarea, main summary')]
        .filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < 43.9)
        .map((one) => one.outerHTML.slice(0, 120))`);
    expect(small).toEqual([]);
    await shoot(page, 'waiting-full');
    expect(await prisma().finding.count()).toBe(0);
    await phone.close();
  });

  it('a correction without a reason is not kept, and says so', async () => {
    const page = await phone.open();
    await phone.offline(true);
    await page.goto(`${wire.url}${visit}`);
    const check = page.locator('.checklist__one').nth(1);
    await check.locator('details.record > summary').click();
    await check.getByText('Not in order, or does not apply').click();
    await check.getByRole('button', { name: 'Correction needed' }).click();
    await check.getByText('Say what has to be put right.').waitFor();
    await waits(page, '14 findings and 9 photos wait to be sent.');
    await phone.close();
  });

  it('sends all of it once, in order, with its times, over a line that loses an answer and a service that restarts', async () => {
    // The service takes the findings in, the phone does not hear it; then the service goes down, too.
    const lost = new Promise<void>((resolve) => {
      wire.loseAnswerTo('/phone-findings', () => {
        void wire.cut().then(resolve);
      });
    });
    await wire.mend();
    const page = await phone.open();
    await page.goto(`${wire.url}${visit}`);
    await lost;
    expect(await prisma().finding.count()).toBe(FINDINGS);
    await app.close();
    await start();
    // A photo breaks off half-way, next.
    const broken = new Promise<void>((resolve) => {
      wire.breakRequestTo('/pieces', 700, () => {
        void wire.cut().then(resolve);
      });
    });
    await wire.mend();
    await page.goto(`${wire.url}${visit}`);
    await broken;
    await page.goto(`${wire.url}${visit}`);
    await waits(page, '9 photos wait to be sent.');
    const missing = (await site.inspector.get(visit)).body;
    expect(missing).toContain('photo missing');
    await wire.mend();
    await page.getByRole('button', { name: 'Send now' }).click();
    await waits(page, 'Everything is sent.');
    await shoot(page, 'sent-full');

    const findings = await prisma().finding.findMany({
      orderBy: { receivedAt: 'asc' },
      include: { check: true },
    });
    expect(findings).toHaveLength(FINDINGS);
    expect(findings.map((one) => one.result)).toEqual(
      plan.map(
        ({ result }) =>
          ({ Pass: 'pass', 'Correction needed': 'correction', 'Does not apply': 'not_applicable' })[result],
      ),
    );
    expect(new Set(findings.slice(0, 7).map((one) => one.checkId)).size).toBe(7);
    expect(findings.slice(7).map((one) => one.checkId)).toEqual(
      findings.slice(0, 7).map((one) => one.checkId),
    );
    const times = findings.map((one) => one.at.getTime());
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(times[0]).toBeGreaterThanOrEqual(recordedAt.from.getTime());
    expect(times.at(-1)).toBeLessThanOrEqual(recordedAt.to.getTime());
    for (const one of findings) expect(one.receivedAt.getTime()).toBeGreaterThan(recordedAt.to.getTime());
    const links = await prisma().attachmentLink.findMany({
      where: { subject: 'finding' },
      include: { attachment: true },
    });
    expect(links).toHaveLength(PHOTOS);
    expect(await prisma().phonePhotoArrival.count()).toBe(PHOTOS);
    // Whole: each is kept with the very bytes that the camera gave.
    const sent = await Promise.all(
      plan.flatMap(({ place, photos }) => Array.from({ length: photos }, (_, n) => photoOf(place, n))),
    );
    const sha256 = (one: { buffer: Buffer }) => createHash('sha256').update(one.buffer).digest('hex');
    expect(links.map((link) => link.attachment.sha256).sort()).toEqual(sent.map(sha256).sort());
  });

  it('keeps the form of the live page when the network goes at that moment', async () => {
    const page = phone.page();
    await page.goto(`${wire.url}${visit}`);
    const check = page.locator('.checklist__one').last();
    if ((await check.locator('details.record').getAttribute('open')) === null)
      await check.locator('details.record > summary').click();
    await check.locator('input[type=file]').setInputFiles([await testPhoto(201)]);
    await noNetwork();
    await check.getByRole('button', { name: 'Pass' }).click();
    await waits(page, '1 finding and 1 photo wait to be sent.');
    await expect.poll(async () => page.locator('.own-photos img').count()).toBe(1);
    await network();
    await page.getByRole('button', { name: 'Send now' }).click();
    await waits(page, 'Everything is sent.');
    expect(await prisma().finding.count()).toBe(FINDINGS + 1);
    expect(await prisma().phonePhotoArrival.count()).toBe(PHOTOS + 1);
  });

  it('shows nothing of one person to another, and sends nothing in another’s name', async () => {
    await noNetwork();
    const page = phone.page();
    await page.goto(`${wire.url}${visit}`);
    await record(page, { place: 0, result: 'Pass', reason: '', photos: 0 });
    await waits(page, '1 finding waits to be sent.');
    await network();
    // The session ran out: it says so and keeps all.
    await phone.signIn({ ...site.inspector, cookies: () => 'lintelbook=nobody' });
    await page.goto(`${wire.url}/on-site#${visit.split('/').at(-1)!}`);
    await page.getByRole('button', { name: 'Send now' }).click();
    await waits(page, 'You are signed out.');
    expect(await prisma().finding.count()).toBe(FINDINGS + 1);
    const other = await site.test.person('Oth Er');
    await site.test.join(other, site.projectId, 'inspector');
    await phone.signIn(other);
    await page.goto(`${wire.url}${visit}`);
    await page.getByRole('button', { name: 'Take this visit with me' }).waitFor();
    await noNetwork();
    await page.goto(`${wire.url}${visit}`);
    await page.getByText('Nothing of yours is kept on this phone.').waitFor();
    expect(await page.locator('.checklist__one').count()).toBe(0);
    await network();
    await phone.signIn(site.inspector);
    // Any page will do: it goes on its way by itself.
    await page.goto(`${wire.url}/`);
    await expect.poll(() => prisma().finding.count(), { timeout: 20_000 }).toBe(FINDINGS + 2);
    await page.goto(`${wire.url}/on-site#${visit.split('/').at(-1)!}`);
    await waits(page, 'Everything is sent.');
    const [last] = await prisma().finding.findMany({ orderBy: { receivedAt: 'desc' }, take: 1 });
    expect(last?.byId).toBe(site.inspector.personId);
  });

  it('what waits stays on the phone of whoever signs out, unseen until the person signs in again', async () => {
    await noNetwork();
    const page = phone.page();
    await page.goto(`${wire.url}${visit}`);
    await record(page, { place: 4, result: 'Pass', reason: '', photos: 1 });
    await waits(page, '1 finding and 1 photo wait to be sent.');
    const waiting = await page.locator('.own-photos img').getAttribute('src');
    // The session ran out, so that nothing goes on its way before the person presses “Sign out”.
    await phone.signIn({ ...site.inspector, cookies: () => 'lintelbook=nobody' });
    await network();
    await page.goto(`${wire.url}/on-site`);
    await page.evaluate(`
      const form = document.createElement('form');
      form.method = 'post';
      form.action = '/sign-out';
      document.body.append(form);
      form.submit();
    `);
    await page.waitForURL(/sign-(in|out)/);
    await noNetwork();
    await page.goto(`${wire.url}${visit}`);
    await page.getByText('A visit is kept on this phone for somebody who is not signed in.').waitFor();
    expect(await page.locator('.checklist__one').count()).toBe(0);
    const status = await page.evaluate(`fetch('${waiting!}').then((answer) => answer.status)`);
    expect(status).toBe(404);
    await network();
    await phone.signIn(site.inspector);
    await page.goto(`${wire.url}/`);
    await expect.poll(() => prisma().phonePhotoArrival.count(), { timeout: 20_000 }).toBe(PHOTOS + 2);
    expect(await prisma().finding.count()).toBe(FINDINGS + 3);
  });

  it('a set issued meanwhile: findings stay with the old one, and what differs is shown', async () => {
    await noNetwork();
    const page = phone.page();
    await page.goto(`${wire.url}${visit}`);
    await record(page, { place: 0, result: 'Pass', reason: '', photos: 0 });
    await site.change('Beam', { ...demoBeam, bearingLeftIn: 4.5 });
    expect(await site.issue()).toBe(2);
    await network();
    await page.goto(`${wire.url}/on-site#${visit.split('/').at(-1)!}`);
    await waits(page, 'Everything is sent.');
    await page.getByText('Set 2 is in force').waitFor();
    await page.getByText('changed, open again').first().waitFor();
    const [last] = await prisma().finding.findMany({
      orderBy: { receivedAt: 'desc' },
      take: 1,
      include: { check: { include: { set: true } } },
    });
    expect(last?.check.set.number).toBe(1);
    await shoot(page, 'superseded-full');
  });

  it('a visit closed meanwhile by another inspector: what was found comes late and is shown', async () => {
    await noNetwork();
    const page = phone.page();
    await page.goto(`${wire.url}${visit}`);
    await record(page, { place: 2, result: 'Correction needed', reason: 'Split at the end', photos: 1 });
    const other = await site.test.person('Anoth Er');
    await site.test.join(other, site.projectId, 'inspector');
    const closing = { signedName: 'Anoth Er', outcome: 'not_ready', summary: 'Not swept' };
    expect((await other.post(`${visit}/closing`, closing)).statusCode).toBe(303);
    await network();
    await page.goto(`${wire.url}/on-site#${visit.split('/').at(-1)!}`);
    await waits(page, 'Everything is sent.');
    await page.getByText('This visit is closed').waitFor();
    await page.getByText('Sent, after the visit was closed').waitFor();
    await shoot(page, 'late-full');
    await page.goto(`${wire.url}${site.inOpening}/late-findings`);
    await page.getByText('Split at the end').waitFor();
    expect(await page.locator('.gallery__one').count()).toBe(1);
    await shoot(page, 'place-full');
  });

  it('a member taken out keeps what was recorded until it is thrown away', async () => {
    const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
    const second = String(begun.headers.location);
    const page = phone.page();
    visit = second;
    await takeAlong(page);
    await noNetwork();
    await page.goto(`${wire.url}${visit}`);
    await record(page, { place: 0, result: 'Pass', reason: '', photos: 0 });
    await prisma().membership.updateMany({
      where: { personId: site.inspector.personId },
      data: { revokedAt: new Date() },
    });
    await network();
    await page.goto(`${wire.url}/on-site#${visit.split('/').at(-1)!}`);
    await waits(page, 'You are not a member of this project any more.');
    await page.getByText('Waits to be sent.', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Throw away what is kept' }).click();
    await page.getByRole('heading', { name: 'Kept on this phone' }).waitFor();
    await waits(page, 'Everything is sent.');
  });
});
