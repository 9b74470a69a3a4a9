import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoBeam } from '../../src/demo/cinder-ferry.ts';
import { openingInputSchema } from '../../src/engineering/proposal/input.ts';
import { calculateOpening } from '../../src/engineering/proposal/opening.ts';
import { submitVersions } from '../../src/record/submissions/service.ts';
import { asMember } from '../../src/record/use-case.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { checkLine, receiveDelivery } from '../../src/site/deliveries/service.ts';
import { materialState } from '../../src/site/deliveries/store.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { programOf, type Program } from './support/programs.ts';

/** The operations with real data, from reading the record to the words that are added to it. */
let site: Site;
let contractor: Program;
let engineer: Program;
let inspector: Program;
let inProject = '';
let inOpening = '';
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
  [contractor, engineer, inspector] = await Promise.all([
    programOf(site.test, site.contractor),
    programOf(site.test, site.engineer),
    programOf(site.test, site.inspector),
  ]);
  inProject = `/projects/${site.projectId}`;
  inOpening = `${inProject}/openings/${site.openingId}`;
});
afterAll(() => site.test.close());

interface Page<Line> {
  items: Line[];
  next: string | number | null;
}

/** All lines of a list, two at a time. */
async function allOf<Line>(program: Program, list: string): Promise<Line[]> {
  const lines: Line[] = [];
  let after = '';
  for (;;) {
    const answer = await program.get(`${list}?limit=2${after}`);
    expect(answer.statusCode).toBe(200);
    const page = answer.json<Page<Line>>();
    expect(page.items.length).toBeLessThanOrEqual(2);
    lines.push(...page.items);
    if (page.next === null) return lines;
    after = `&after=${encodeURIComponent(String(page.next))}`;
  }
}

describe('reading', () => {
  it('pages through items, versions and the log without loss or repetition', async () => {
    const items = await allOf<{ itemId: string; kind: string; title: string }>(
      contractor,
      `${inOpening}/items`,
    );
    const there = Object.entries(site.items).filter(([title]) => title !== 'Criteria');
    expect(items.map((item) => item.title).sort()).toEqual(there.map(([title]) => title).sort());
    const events = await allOf<{ seq: number; prevHash: string; hash: string }>(
      contractor,
      `${inProject}/events`,
    );
    const { prisma } = site.test.deps;
    expect(events).toHaveLength(await prisma.event.count({ where: { projectId: site.projectId } }));
    events.forEach((event, index) => {
      expect(event.seq).toBe(index + 1);
      if (index > 0) expect(event.prevHash).toBe(events[index - 1]?.hash);
    });
  });

  it('tells a set with the content that its hash covers, and its checklist', async () => {
    const [set] = (await contractor.get(`${inOpening}/sets`)).json<Page<{ setId: string; hash: string }>>()
      .items;
    const whole = (await inspector.get(`${inProject}/sets/${set!.setId}`)).json<{
      content: { entries: { itemId: string }[] };
    }>();
    const row = await site.test.deps.prisma.approvedSet.findUniqueOrThrow({ where: { id: set!.setId } });
    expect(whole.content).toEqual(JSON.parse(row.content));
    const list = (await inspector.get(`${inProject}/sets/${set!.setId}/checklist`)).json<{
      checks: { state: string }[];
    }>();
    expect(list.checks.length).toBeGreaterThan(5);
    expect(new Set(list.checks.map((check) => check.state))).toEqual(new Set(['open']));
  });

  it('tells the owner of the sets and of nothing that is not the owner’s', async () => {
    const owner = await programOf(site.test, site.owner);
    expect((await owner.get(`${inOpening}/sets`)).statusCode).toBe(200);
    for (const list of ['items', 'visits', 'deliveries']) {
      expect((await owner.get(`${inOpening}/${list}`)).statusCode).toBe(403);
    }
    expect((await owner.get(`${inProject}/events`)).statusCode).toBe(403);
  });

  it('tells deliveries with what was found', async () => {
    const { deps } = site.test;
    const builder = site.actor(site.contractor, 'contractor');
    expect((await contractor.get(`${inOpening}/deliveries`)).json()).toEqual({ items: [], next: null });
    const received = await receiveDelivery(deps, builder, {
      openingId: site.openingId,
      yard: 'The yard',
      note: '',
    });
    const { materials } = await asMember(deps, builder, 'delivery.read', (tx) =>
      materialState(tx, site.projectId, site.openingId),
    );
    const [line] = materials.list.lines;
    const checked = await checkLine(deps, builder, {
      deliveryId: received.deliveryId,
      clientKey: randomUUID(),
      lineId: line!.id,
      delivered: line!.goods,
      count: 1.5,
      offGround: true,
      covered: false,
      note: 'Wet.',
      files: [],
    });
    const [told] = (await engineer.get(`${inOpening}/deliveries`)).json<
      Page<{ yard: string; lines: Record<string, unknown>[] }>
    >().items;
    expect(told).toMatchObject({ deliveryId: received.deliveryId, number: 1, yard: 'The yard' });
    expect(told?.lines).toHaveLength(1);
    expect(told?.lines[0]).toMatchObject({
      deliveryLineId: checked.deliveryLineId,
      goods: line!.goods,
      count: 1.5,
      offGround: true,
      covered: false,
      note: 'Wet.',
      foundThen: checked.differences,
      withdrawal: null,
    });
  });

  it('keeps people’s words to each other out of the log', async () => {
    const { prisma } = site.test.deps;
    const said = await site.owner.post(`${site.inOpening}/owner-words`, { text: 'for the contractor alone' });
    expect(said.statusCode).toBe(303);
    const events = await allOf<{ words: string }>(engineer, `${inProject}/events`);
    expect(JSON.stringify(events)).not.toContain('for the contractor alone');
    expect(await prisma.event.count()).toBe(events.length);
  });
});

describe('saving a version', () => {
  const newest = async () => contractor.get(`${inProject}/items/${site.items.Beam}/newest`);
  const put = (program: Program, body: unknown, headers: Record<string, string>) =>
    program.send('PUT', `${inProject}/items/${site.items.Beam}/newest`, { body, headers });

  it('goes by the tag of the newest version, and tells what stands where another was faster', async () => {
    const seen = await newest();
    const { content, number } = seen.json<{ content: object; number: number }>();
    expect(content).toMatchObject(demoBeam);
    const etag = String(seen.headers.etag);
    expect(
      (await contractor.get(`${inProject}/items/${site.items.Beam}/newest`, { 'if-none-match': etag }))
        .statusCode,
    ).toBe(304);

    const unasked = await put(contractor, { content }, {});
    expect(unasked.statusCode).toBe(428);

    const changed = { ...content, bearingLeftIn: 6 };
    const saved = await put(
      contractor,
      { content: changed, reason: 'The post is six wide.' },
      { 'if-match': etag },
    );
    expect(saved.statusCode).toBe(201);
    expect(saved.json<{ number: number }>().number).toBe(number + 1);
    const there = await contractor.get(
      new URL(String(saved.headers.location)).pathname.replace('/api/v1', ''),
    );
    expect(there.statusCode).toBe(200);
    expect(there.headers.etag).toBe(saved.headers.etag);
    expect(there.json<{ content: unknown }>().content).toEqual(changed);

    // The same save from the same person again is the same version.
    const again = await put(
      contractor,
      { content: changed, reason: 'The post is six wide.' },
      { 'if-match': etag },
    );
    expect(again.json()).toEqual({ ...saved.json<object>(), repeated: true });

    // The engineer still knows the version before.
    const late = await put(engineer, { content }, { 'if-match': etag });
    expect(late.statusCode).toBe(412);
    expect(late.json<{ etag: string }>().etag).toBe(saved.headers.etag);

    // An own tag is no tag of this item's.
    const forged = await put(contractor, { content }, { 'if-match': `"1-${'0'.repeat(64)}"` });
    expect(forged.statusCode).toBe(412);
    expect((await put(contractor, { content }, { 'if-match': '*' })).statusCode).toBe(412);
    expect((await put(contractor, { content }, { 'if-none-match': '*' })).statusCode).toBe(412);
  });

  it('names each wrong field by its place in the body', async () => {
    const seen = await newest();
    const { content } = seen.json<{ content: Record<string, unknown> }>();
    const wrong = { ...content, bearingLeftIn: -3 };
    const answer = await put(contractor, { content: wrong }, { 'if-match': String(seen.headers.etag) });
    expect(answer.statusCode).toBe(422);
    const { errors } = answer.json<{ errors: { pointer: string; detail: string }[] }>();
    expect(errors.length).toBeGreaterThan(0);
    expect(errors.every((error) => error.pointer.startsWith('#/content/'))).toBe(true);
  });
});

describe('marking', () => {
  it('names the hash that was seen, is one mark however often it is sent, and is refused by another hash', async () => {
    const item = `${inProject}/items/${site.items.Beam}`;
    await submitVersions(site.test.deps, site.actor(site.contractor, 'contractor'), {
      openingId: site.openingId,
      note: '',
    });
    const { number, hash } = (await engineer.get(`${item}/newest`)).json<{ number: number; hash: string }>();
    const marks = `${item}/versions/${number}/marks`;
    const body = { word: 'returned', hash, expectedMarkNumber: 0, reason: 'Six inches do not fit the post.' };

    const wrong = await engineer.send('POST', marks, { body: { ...body, hash: 'f'.repeat(64) } });
    expect(wrong.statusCode).toBe(409);
    const bare = await engineer.send('POST', marks, { body: { ...body, reason: '' } });
    expect(bare.statusCode).toBe(422);
    const made = await engineer.send('POST', marks, { body });
    expect(made.statusCode).toBe(201);
    const again = await engineer.send('POST', marks, { body });
    expect(again.json()).toEqual({ ...made.json<object>(), repeated: true });
    expect((await engineer.get(item)).json<{ state: string }>().state).toBe('returned');
  });

  it('marks the engineer’s own version revised', async () => {
    const item = `${inProject}/items/${site.items['Support left']}`;
    const seen = await engineer.get(`${item}/newest`);
    const { content } = seen.json<{ content: { jacks: number } }>();
    const stated = { content: { ...content, jacks: content.jacks + 1 }, reason: 'One more.' };
    const saved = await engineer.send('PUT', `${item}/newest`, {
      body: stated,
      headers: { 'if-match': String(seen.headers.etag) },
    });
    expect(saved.statusCode).toBe(201);
    expect(saved.json<{ marked: string }>().marked).toBe('revised');
    expect((await engineer.get(item)).json<{ state: string }>().state).toBe('revised');
  });
});

describe('placing a finding', () => {
  it('is one finding however often it is sent, and refuses another under the same key', async () => {
    const opened = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
    const visitId = String(opened.headers.location).split('/').at(-1) ?? '';
    const visit = `${inProject}/visits/${visitId}`;
    const { prisma } = site.test.deps;
    const check = await prisma.check.findFirstOrThrow({
      where: { set: { openingId: site.openingId }, visitKind: 'framing' },
      orderBy: { ordinal: 'asc' },
    });
    const body = { checkId: check.id, clientKey: randomUUID(), result: 'pass', location: 'left end' };
    const made = await inspector.send('POST', `${visit}/findings`, { body });
    expect(made.statusCode).toBe(201);
    const again = await inspector.send('POST', `${visit}/findings`, { body });
    expect(again.json()).toEqual({ ...made.json<object>(), repeated: true });
    const other = await inspector.send('POST', `${visit}/findings`, {
      body: { ...body, result: 'correction', reason: 'Gap' },
    });
    expect(other.statusCode).toBe(422);
    expect(other.json<{ errors: { pointer: string }[] }>().errors[0]?.pointer).toBe('#/reason');

    for (const at of ['0000-01-01T00:00:00Z', '1999-12-31T23:59:59Z']) {
      const early = await inspector.send('POST', `${visit}/findings`, {
        body: { ...body, clientKey: randomUUID(), at },
      });
      expect(early.json()).toMatchObject({ status: 422, errors: [{ pointer: '#/at' }] });
    }

    const read = (await contractor.get(visit)).json<{ findings: { location: string; result: string }[] }>();
    expect(read.findings).toHaveLength(1);
    expect(read.findings[0]).toMatchObject({ location: 'left end', result: 'pass' });
    const [line] = (await contractor.get(`${inOpening}/visits`)).json<Page<{ visitId: string }>>().items;
    expect(line?.visitId).toBe(visitId);
  });

  it('leaves a record that verifies', async () => {
    expect(await verifyProject(site.test.deps.prisma, site.projectId)).toMatchObject({ broken: null });
  });
});

describe('a calculation', () => {
  const example = JSON.parse(
    readFileSync(path.resolve('scripts/examples/two-storey-flush-lvl.json'), 'utf8'),
  ) as Record<string, unknown>;

  it('gives what the engine gives, and keeps nothing', async () => {
    const answer = await contractor.send('POST', '/calculations', { body: example });
    expect(answer.statusCode).toBe(200);
    const outcome = calculateOpening(openingInputSchema.parse(example));
    const told = answer.json<{
      passes: boolean;
      governing: { ratio: number };
      beam: { checks: unknown[] };
    }>();
    expect(told.passes).toBe(outcome.passes);
    expect(told.governing.ratio).toBe(outcome.governing?.ratio);
    expect(told.beam.checks).toHaveLength(outcome.beam.checks.length);
    expect(told.beam).not.toHaveProperty('actions');
  });

  it('refuses what can’t be, at its place', async () => {
    const beam = { ...(example.beam as object), bearingLeftIn: -1 };
    const answer = await contractor.send('POST', '/calculations', { body: { ...example, beam } });
    expect(answer.statusCode).toBe(422);
    const { errors } = answer.json<{ errors: { pointer: string }[] }>();
    expect(errors.map((error) => error.pointer).join()).toContain('#/beam/');
  });
});
