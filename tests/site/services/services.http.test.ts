import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoServices } from '../../../src/demo/cinder-ferry-services.ts';
import { serviceForm } from '../../../src/record/kinds/service/form.ts';
import { readItem } from '../../../src/record/versions/read.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { fillForm } from '../../../src/web/forms/fill.ts';
import type { Service } from '../../../src/engineering/services/index.ts';
import type { Client } from '../../support/app.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';

let site: Site;
const ids = new Map<string, string>();
beforeAll(async () => {
  site = await buildSite();
});
afterAll(() => site.test.close());

const typed = (service: Service) => fillForm(serviceForm.spec, service);
const enter = (service: Service, key: string, who: Client = site.contractor) =>
  who.post(`${site.inProject}/items`, {
    _kind: 'service',
    _opening: site.openingId,
    _key: key,
    _title: '',
    do: 'save',
    ...typed(service),
  });
const act = async (title: string, word: string, who = 'J. M., electrician', note = '') => {
  const itemId = ids.get(title)!;
  const page = await site.contractor.get(`${site.inProject}/services/${itemId}`);
  const versionId = /name="versionId" value="([^"]+)"/.exec(page.body)![1]!;
  return site.contractor.post(`${site.inProject}/services/${itemId}/acts`, { versionId, word, who, note });
};
const checks = () =>
  site.test.deps.prisma.check.findMany({
    where: { projectId: site.projectId },
    orderBy: [{ set: { number: 'asc' } }, { ordinal: 'asc' }],
    include: { set: { select: { number: true } } },
  });

describe('services in the wall', () => {
  it('the nine circuits, the vent and the duct are entered by the form and stand in the list', async () => {
    for (const [index, service] of demoServices.entries()) {
      const response = await enter(service, `S${index + 1}`);
      expect(response.statusCode).toBe(303);
      expect(response.headers.location).toBe(`${site.inOpening}/services`);
    }
    const items = await site.test.deps.prisma.item.findMany({
      where: { openingId: site.openingId, kind: 'service' },
    });
    for (const item of items) ids.set(item.title, item.id);
    expect(ids.size).toBe(11);
    const { newest } = await readItem(site.test.deps, site.actor(site.contractor, 'contractor'), {
      itemId: ids.get('Circuit 8: laundry')!,
    });
    expect(newest?.content).toEqual(demoServices.find((one) => one.feeds === 'laundry'));
    for (const who of [site.contractor, site.engineer, site.inspector]) {
      const page = await who.get(`${site.inOpening}/services`);
      expect(page.statusCode).toBe(200);
      expect(page.body).toContain('Circuit 13+15');
      expect(page.body).toContain('11 of 11 are not dealt with');
      expect(page.body).toContain('Circuit 18: porch, bell: nobody has decided what becomes of it.');
      expect(page.body).toContain('panel: unlabelled');
    }
    expect((await site.owner.get(`${site.inOpening}/services`)).statusCode).toBe(403);
  });

  it('the over-fused one is said, with the clause', async () => {
    const page = await site.inspector.get(`${site.inProject}/services/${ids.get('Circuit 4: den, hall')!}`);
    expect(page.body).toContain('20 A is more than the 15 A that 12 AWG aluminium may be fused at');
    expect(page.body).toContain('NEC 2020 240.4(D)');
    expect(page.body).toContain('Aluminium conductors');
  });

  it('a bad row comes back filled, with the sentence at its box', async () => {
    const response = await site.contractor.post(`${site.inProject}/items`, {
      _kind: 'service',
      _opening: site.openingId,
      _key: 'S40',
      do: 'save',
      ...typed(demoServices[6]!),
      disposition: 'coiled',
      feeds: 'the old freezer',
    });
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('Give the cable left in the coil');
    expect(response.body).toContain('the old freezer');
    const pipe = await enter({ ...demoServices[9]!, disposition: 'extended' } as unknown as Service, 'S41');
    expect(pipe.statusCode).toBe(422);
    expect(pipe.body).toContain('extending and coiling are for cables');
  });

  it('what was done is logged once, by a named person, and lets go of the wall', async () => {
    expect((await act('Circuit 20: freezer', 'made_safe', ' ')).body).toContain('Say who did it.');
    expect((await act('Circuit 20: freezer', 'checked')).body).toContain('Nothing was carried out yet');
    expect((await act('Circuit 20: freezer', 'made_safe')).statusCode).toBe(303);
    // A double tap.
    expect((await act('Circuit 20: freezer', 'made_safe')).statusCode).toBe(303);
    expect((await act('Circuit 18: porch, bell', 'carried_out')).body).toContain('Write down first');
    expect(await site.test.deps.prisma.serviceAct.count({ where: { projectId: site.projectId } })).toBe(1);
    expect((await site.contractor.get(`${site.inOpening}/services`)).body).toContain(
      '10 of 11 are not dealt with',
    );
    expect((await act('Circuit 20: freezer', 'live_again')).statusCode).toBe(303);
    expect((await site.contractor.get(`${site.inOpening}/services`)).body).toContain(
      '11 of 11 are not dealt with',
    );
    expect((await act('Circuit 20: freezer', 'carried_out')).statusCode).toBe(303);
    const page = await site.engineer.get(`${site.inProject}/services/${ids.get('Circuit 20: freezer')!}`);
    expect(page.body).toContain('Carried out by J. M., electrician, as of version 1');

    // Cut by its label alone: the wall stays until somebody has tested.
    const blind = 'Circuit 2: den outlets';
    expect((await act(blind, 'carried_out')).statusCode).toBe(303);
    const held = await site.contractor.get(`${site.inOpening}/services`);
    expect(held.body).toContain('11 of 11 are not dealt with');
    expect(held.body).toContain(`${blind}: Logged as carried out by J. M., electrician (removed back to`);
    expect(held.body).toContain('not proved dead');
    expect((await act(blind, 'made_safe')).statusCode).toBe(303);
    const freed = await site.contractor.get(`${site.inOpening}/services`);
    expect(freed.body).toContain('10 of 11 are not dealt with');
    expect(freed.body).not.toContain(`${blind}: Logged as carried out`);
  });

  it('nothing is logged on a row that somebody changed meanwhile', async () => {
    const itemId = ids.get('Circuit 16: alarms')!;
    const page = await site.contractor.get(`${site.inProject}/services/${itemId}`);
    const versionId = /name="versionId" value="([^"]+)"/.exec(page.body)![1]!;
    const saved = await site.engineer.post(`${site.inProject}/items/${itemId}/versions`, {
      ...typed({ ...demoServices[7]!, note: 'One more on the stair.' }),
      _expected: '1',
      do: 'save',
    });
    expect(saved.statusCode).toBe(303);
    const response = await site.contractor.post(`${site.inProject}/services/${itemId}/acts`, {
      versionId,
      word: 'made_safe',
      who: 'J. M.',
      note: '',
    });
    expect(response.statusCode).toBe(409);
    expect(response.body).toContain('has version 2 meanwhile');
    expect(response.body).toContain('value="J. M."');
  });

  it('the set freezes them, and the rewire checks come from what it froze', async () => {
    expect(await checks()).toEqual([]);
    expect(await site.issue()).toBe(1);
    const first = (await checks()).filter((check) => check.set.number === 1);
    const of = (rule: string, title: string) =>
      first.find((check) => check.key === `${ids.get(title)!}:${rule}`)!;
    expect(of('breaker', 'Circuit 4: den, hall').criterion).toContain(
      '15 A on 12 AWG aluminium, at most 15 A',
    );
    expect(of('splices', 'Circuit 9: bedroom riser').visitKind).toBe('electrical');
    expect(of('run', 'Circuit 8: laundry').criterion).toContain(
      '7/8" hole in a 5 1/2" stud, 1" to the edge, plated',
    );
    expect(of('breaker', 'Circuit 16: alarms').criterion).toContain('arc-fault protection');
    expect(of('gone', 'Circuit 2: den outlets').holdPoint).toBe('cover the framing');
    expect(of('disposition', 'Circuit 18: porch, bell')).toMatchObject({
      visitKind: 'shoring',
      holdPoint: 'take the wall out',
    });
    expect(of('run', '2" vent: upper bath').visitKind).toBe('cover');
    const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({
      where: { openingId: site.openingId },
    });
    for (const itemId of ids.values()) expect(set.content).toContain(itemId);

    // Changed after the issue: the checklist stays as the set has it, until the next one.
    const itemId = ids.get('Circuit 18: porch, bell')!;
    await site.contractor.post(`${site.inProject}/items/${itemId}/versions`, {
      ...typed({ ...demoServices[8]!, panelLabel: 'porch', disposition: 'kept' } as Service),
      _expected: '1',
      do: 'save',
    });
    expect((await checks()).filter((check) => check.set.number === 1)).toEqual(first);
    await site.change('Beam', { ...(await beamNow()), bearingLeftIn: 4.5 });
    expect(await site.issue()).toBe(2);
    const second = (await checks()).filter((check) => check.set.number === 2);
    expect(second.some((check) => check.key === `${itemId}:disposition`)).toBe(false);
    expect(second.find((check) => check.key === `${itemId}:run`)?.title).toContain('made up and kept live');
    // An unchanged one keeps key and version: its findings carry over.
    const key = `${ids.get('Circuit 8: laundry')!}:run`;
    expect(second.find((check) => check.key === key)?.versionId).toBe(
      first.find((check) => check.key === key)?.versionId,
    );
  });

  it('every act is in the log and stands up to verification', async () => {
    const log = await site.engineer.get(`${site.inProject}/log`);
    expect(log.body).toContain('a service was proved dead or shut off by J. M., electrician');
    const { prisma } = site.test.deps;
    expect((await verifyProject(prisma, site.projectId)).broken).toBeNull();
    await expect(prisma.$executeRaw`UPDATE service_act SET who = 'nobody'`).rejects.toThrow('never changed');
    await expect(prisma.$executeRaw`DELETE FROM service_act`).rejects.toThrow('never changed');
    const { versionId, itemId } = await prisma.serviceAct.findFirstOrThrow();
    const slipped = {
      projectId: site.projectId,
      itemId,
      versionId,
      number: 99,
      byId: site.contractor.personId,
    };
    await prisma.serviceAct.create({ data: { ...slipped, word: 'checked', who: 'X', note: '' } });
    expect((await verifyProject(prisma, site.projectId)).broken).toMatchObject({ table: 'service_act' });
  });
});

async function beamNow() {
  const { newest } = await readItem(site.test.deps, site.actor(site.contractor, 'contractor'), {
    itemId: site.items.Beam!,
  });
  return newest?.content as object;
}
