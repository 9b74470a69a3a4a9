import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recalculateOpening } from '../../src/record/recalculation/service.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { readMaterialOnSite } from '../../src/site/deliveries/store.ts';
import { asMember } from '../../src/record/use-case.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { testPhoto } from '../support/test-files.ts';

/** A wrong delivery, what it holds up, and how a substitution takes the long way round to becoming right. */
let site: Site;
let delivery = '';
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
});
afterAll(() => site.test.close());

const page = async (url: string, who = site.contractor) => (await who.get(url)).body;
const deliveries = () => `${site.inOpening}/deliveries`;
/** Alone, or behind what else is missing for the beam. */
const blocked = /\b[Bb]eam plies not as called for: opening 1 can’t get its beam; shoring stays\./;
/** The form of a line, by its id: prefix and key as the page shows them. */
async function lineForm(lineId: string) {
  const html = await page(delivery);
  const found = new RegExp(
    `name="lineId" value="${lineId.replaceAll('.', '\\.')}">\\s*<input type="hidden" name="prefix" value="(l\\d+)">\\s*<input type="hidden" name="clientKey" value="([\\w-]+)"`,
  ).exec(html);
  return { prefix: found![1]!, clientKey: found![2]! };
}
async function send(
  lineId: string,
  typed: Readonly<Record<string, string>>,
  act = 'differs',
  more: { clientKey?: string; photo?: Awaited<ReturnType<typeof testPhoto>> } = {},
) {
  const { prefix, clientKey } = await lineForm(lineId);
  const fields = Object.fromEntries(Object.entries(typed).map(([name, text]) => [`${prefix}.${name}`, text]));
  return site.contractor.upload(
    `${delivery}/lines`,
    { lineId, prefix, clientKey: more.clientKey ?? clientKey, do: act, ...fields },
    more.photo === undefined ? [] : [{ field: 'photo', ...more.photo }],
  );
}
const wrongPlies = {
  count: '3',
  class: 'LVL 1.9E',
  thicknessIn: '1 3/4"',
  depthIn: '9 1/2"',
  lengthIn: '12\'-0"',
  offGround: 'yes',
  covered: 'yes',
};
const onSite = (step: 'beam' | 'packs') =>
  asMember(site.test.deps, site.actor(site.contractor, 'contractor'), 'delivery.read', (tx) =>
    readMaterialOnSite(tx, site.projectId, site.openingId, [step]),
  );

describe('an order', () => {
  it('is written down once for what is missing, by the contractor alone', async () => {
    expect((await site.engineer.post(`${site.inOpening}/orders`, { yard: 'The yard' })).statusCode).toBe(403);
    const placed = await site.contractor.post(`${site.inOpening}/orders`, { yard: 'The yard' });
    expect(placed.statusCode).toBe(303);
    expect(await page(deliveries())).toContain('Order 1:');
    const again = await site.contractor.post(`${site.inOpening}/orders`, { yard: 'The yard' });
    expect(again.statusCode).toBe(422);
    expect(again.body).toContain('Everything on the list was ordered already.');
  });
});

describe('scenario 5: 1.9E plies are delivered where 2.0E is called for', () => {
  it('opens with one press, and is for the project’s people alone', async () => {
    const opened = await site.contractor.post(deliveries(), { yard: 'The yard' });
    delivery = String(opened.headers.location);
    expect(await page(delivery)).toContain('Delivery 1 from The yard');
    expect((await site.owner.get(delivery)).statusCode).toBe(403);
    const stranger = await site.test.person('Stranger');
    expect((await stranger.get(delivery)).statusCode).toBe(404);
    expect((await stranger.get(deliveries())).statusCode).toBe(404);
  });

  it('gives a bad length back with everything that was typed', async () => {
    const response = await send('beam.composite', { ...wrongPlies, lengthIn: 'twelve' });
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('Length of the stick:');
    expect(response.body).toContain('value="LVL 1.9E"');
    expect(await site.test.deps.prisma.deliveryLine.count()).toBe(0);
    expect((await send('beam.composite', { ...wrongPlies, count: '-3' })).statusCode).toBe(422);
    expect((await send('beam.composite', { count: '3' }, '')).statusCode).toBe(422);
  });

  it('does not match, holds the beam and tells the engineer', async () => {
    const { clientKey } = await lineForm('beam.composite');
    const photo = await testPhoto(5);
    const first = await send('beam.composite', wrongPlies, 'differs', { clientKey, photo });
    expect(first.statusCode).toBe(303);
    // The same form a second time is the same line.
    await send('beam.composite', wrongPlies, 'differs', { clientKey });
    expect(await site.test.deps.prisma.deliveryLine.count()).toBe(1);
    const html = await page(delivery);
    expect(html).toContain('Called for LVL 2.0E; LVL 1.9E arrived.');
    expect(html).toMatch(blocked);
    expect(html).toContain('/preview/320');
    const { onSite: here, reasons } = await onSite('beam');
    expect(here).toBe(false);
    expect(reasons.join(' ')).toMatch(blocked);
    // On the engineer's first page, with what it holds up; not on the inspector's.
    const home = await page('/', site.engineer);
    expect(home).toContain('Deliveries that do not match: 1');
    expect(home).toMatch(blocked);
    expect(await page('/', site.inspector)).not.toContain('Deliveries that do not match');
    const events = await site.test.deps.prisma.event.findMany({ where: { type: 'delivery.mismatched' } });
    expect(events).toHaveLength(1);
  });

  it('never drops other words sent from the same form', async () => {
    const line = await site.test.deps.prisma.deliveryLine.findFirstOrThrow();
    const response = await send('beam.composite', { ...wrongPlies, count: '2' }, 'differs', {
      clientKey: line.clientKey,
    });
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('was sent before with other words');
  });

  it('takes a line as called for in one press', async () => {
    const id = /name="lineId" value="(packs\.2x6[^"]*)"/.exec(await page(delivery))![1]!;
    expect((await onSite('packs')).onSite).toBe(false);
    const response = await send(id, { count: '6', offGround: 'yes' }, 'as called for');
    expect(response.statusCode).toBe(303);
    expect(await page(deliveries())).toContain('6; 6 needed');
  });
});

describe('scenario 6: a substitution', () => {
  const line = () =>
    site.test.deps.prisma.deliveryLine.findFirstOrThrow({ where: { lineId: 'beam.composite' } });
  const address = async () => `${site.inProject}/delivery-lines/${(await line()).id}/substitution`;

  it('is tried against the design: every ratio was and now, the packs under it too', async () => {
    for (const who of [site.contractor, site.engineer]) {
      const html = await page(await address(), who);
      expect(html).toContain('1.75 x 9.5 LVL 1.9E');
      expect(html).toContain('not met');
      // The stiffness falls by 1.9 ÷ 2.0: deflection ratios rise by as much.
      const [was, now] = /Deflection[^<]*live[\s\S]*?"Was"[^>]*>([\d.]+)[\s\S]*?"Now"[^>]*>([\d.]+)/i
        .exec(html)!
        .slice(1)
        .map(Number);
      expect(now! / was!).toBeCloseTo(2.0 / 1.9, 1);
    }
    expect((await site.inspector.get(await address())).statusCode).toBe(403);
    expect((await site.engineer.post(await address())).statusCode).toBe(403);
    const nowhere = `${site.inProject}/delivery-lines/${randomUUID()}/substitution`;
    expect((await site.contractor.get(nowhere)).statusCode).toBe(404);
    expect(await site.test.deps.prisma.version.count({ where: { item: { kind: 'beam' } } })).toBe(1);
  });

  it('becomes a version for the engineer with one press, and not a second one', async () => {
    const offered = await site.contractor.post(await address());
    expect(offered.statusCode).toBe(303);
    const versions = await site.test.deps.prisma.version.findMany({
      where: { item: { kind: 'beam' } },
      orderBy: { number: 'asc' },
    });
    expect(versions).toHaveLength(2);
    expect(versions[1]!.reason).toContain('LVL 1.9E, 12\'-0" for 1.75 x 9.5 LVL 2.0E');
    expect(JSON.parse(versions[1]!.content)).toMatchObject({ member: { class: 'LVL 1.9E', plies: 3 } });
    const again = await site.contractor.post(await address());
    expect(again.body).toContain('look at that one first');
    // The set in force stands: the delivery is still held.
    expect(await page(delivery)).toMatch(blocked);
  });

  it('matches once it is marked and a new set issued; what was found stays in the record', async () => {
    const builder = site.actor(site.contractor, 'contractor');
    await recalculateOpening(site.test.deps, builder, { openingId: site.openingId });
    expect(await site.issue()).toBe(2);
    const html = await page(delivery);
    expect(html).not.toMatch(blocked);
    expect(html).toContain('the set in force calls for it now');
    expect(html).toContain('Called for LVL 2.0E; LVL 1.9E arrived.');
    expect(await page('/', site.engineer)).not.toContain('Deliveries that do not match');
    const { reasons } = await onSite('beam');
    expect(reasons.some((reason) => reason.startsWith('beam plies'))).toBe(false);
    // What was checked before and did not change still counts.
    expect(await page(deliveries())).toContain('6; 6 needed');
    expect((await site.contractor.get(await address())).statusCode).toBe(422);
  });

  it('counts no longer once it went back, and is never changed', async () => {
    const { id } = await line();
    await site.contractor.post(`${site.inProject}/delivery-lines/${id}/withdrawal`, { reason: 'sent_back' });
    await site.contractor.post(`${site.inProject}/delivery-lines/${id}/withdrawal`, { reason: 'sent_back' });
    expect(await page(delivery)).toContain('sent back');
    expect((await onSite('beam')).reasons).toEqual([
      expect.stringMatching(/Beam plies\b.* missing: opening 1 can’t get its beam; shoring stays\.$/),
    ]);
    const { prisma } = site.test.deps;
    await expect(prisma.deliveryLine.updateMany({ data: { count: 9 } })).rejects.toThrow();
    await expect(prisma.delivery.deleteMany()).rejects.toThrow();
    expect((await verifyProject(prisma, site.projectId)).broken).toBeNull();
  });
});
