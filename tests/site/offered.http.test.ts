import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { boxesOf, wordsOf } from '../record/schedule/house.ts';

/** The yard calls before anything is on the truck: would something else do? */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
});
afterAll(() => site.test.close());

const address = () => `${site.inOpening}/materials/beam.composite/substitution`;
const beams = () => site.test.deps.prisma.version.count({ where: { item: { kind: 'beam' } } });

describe('goods that the yard offers before any delivery', () => {
  it('begin with what is called for in the boxes, reached from the list of what is missing', async () => {
    const list = (await site.contractor.get(`${site.inOpening}/deliveries`)).body;
    expect(list).toContain(`href="${address()}"`);
    const boxes = boxesOf((await site.contractor.get(address())).body);
    expect(boxes).toMatchObject({ class: 'LVL 2.0E' });
    expect((await site.inspector.get(address())).statusCode).toBe(403);
    expect((await site.owner.get(address())).statusCode).toBe(403);
  });

  it('are tried by the engine: a weaker beam fails, a deeper one does; nothing is kept', async () => {
    const boxes = boxesOf((await site.contractor.get(address())).body);
    const weaker = await site.contractor.post(address(), { ...boxes, class: 'LVL 1.9E' });
    expect(weaker.statusCode).toBe(200);
    expect(wordsOf(weaker.body)).toContain('Called for LVL 2.0E; LVL 1.9E offered.');
    expect(wordsOf(weaker.body)).toContain('By the calculation it does not do as it stands.');
    const deeper = await site.engineer.post(address(), { ...boxes, depthIn: '14"' });
    expect(wordsOf(deeper.body)).toContain('14 LVL 2.0E');
    // The engineer may try; proposing is the contractor's.
    expect(deeper.body).not.toContain('Propose the substitution');
    expect(await beams()).toBe(1);
  });

  it('of another kind are tried, too', async () => {
    const boxes = boxesOf((await site.contractor.get(`${address()}?kind=steel%20shape`)).body);
    const steel = await site.contractor.post(address(), {
      ...boxes,
      kind: 'steel shape',
      shape: 'W8x18',
      fyKsi: '50',
      lengthIn: '12\'-0"',
    });
    expect(steel.statusCode).toBe(200);
    expect(wordsOf(steel.body)).toContain('W8x18');
    const nail = await site.contractor.post(address(), { ...boxes, kind: 'nail' });
    expect(nail.statusCode).toBe(422);
  });

  it('come back at the box where they can’t be read', async () => {
    const boxes = boxesOf((await site.contractor.get(address())).body);
    const bad = await site.contractor.post(address(), { ...boxes, depthIn: 'deep', class: 'LVL 1.9E' });
    expect(bad.statusCode).toBe(422);
    expect(bad.body).toContain('value="deep"');
    expect(bad.body).toContain('value="LVL 1.9E"');
    const nonsense = await site.contractor.post(address(), { ...boxes, depthIn: '-4"' });
    expect(nonsense.statusCode).toBe(422);
    const same = await site.contractor.post(address(), boxes);
    expect(wordsOf(same.body)).toContain('nothing has to be changed for them');
    const nowhere = `${site.inOpening}/materials/none/substitution`;
    expect((await site.contractor.get(nowhere)).statusCode).toBe(404);
  });

  it('start a version for the engineer', async () => {
    const boxes = boxesOf((await site.contractor.get(address())).body);
    const tried = await site.contractor.post(address(), { ...boxes, depthIn: '14"' });
    const proposal = boxesOf(tried.body);
    expect((await site.engineer.post(`${address()}/proposal`, proposal)).statusCode).toBe(403);
    expect((await site.contractor.post(`${address()}/proposal`, proposal)).statusCode).toBe(303);
    const version = await site.test.deps.prisma.version.findFirstOrThrow({
      where: { item: { kind: 'beam' }, number: 2 },
    });
    expect(version.reason).toContain('offered by the yard');
    expect(JSON.parse(version.content)).toMatchObject({ member: { depthIn: 14, class: 'LVL 2.0E' } });
  });
});
