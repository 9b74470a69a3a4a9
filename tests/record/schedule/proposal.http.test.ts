import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import { proposeFastening } from '../../../src/engineering/proposal/fastening-context.ts';
import { canonicalJson } from '../../../src/record/canonical.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { boxesOf, openHouse, wordsOf, type House } from './house.ts';

const expectedRows = proposeFastening({
  criteria: demoCriteria,
  survey: demoSurvey,
  beam: demoBeam,
  supports: demoSupports,
  footings: demoFootings,
}).rows;

describe('rows from the design, into an empty schedule', () => {
  let house: House;
  beforeAll(async () => {
    house = await openHouse({ rows: false });
  });
  afterAll(() => house.test.close());
  const rows = () =>
    house.test.deps.prisma.item.findMany({
      where: { openingId: house.openingId, kind: 'fastening' },
      include: { versions: true },
    });

  it('shows each with its result; new ones are ticked', async () => {
    const page = await house.contractor.get(`${house.base}/proposal`);
    expect(page.statusCode).toBe(200);
    const boxes = boxesOf(page.body);
    expect(Object.keys(boxes).filter((name) => name.startsWith('take.'))).toEqual(
      expectedRows.map((row) => `take.${row.id}`),
    );
    const words = wordsOf(page.body);
    expect(words).toContain('360 plf on the front face, 420 plf on the rear');
    // What no listing was entered for is shown as failing, with what is missing.
    expect(words).toMatch(/no capacity, not met/);
    expect(words).toContain('Joists and braces are not described in the survey');
  });

  it('is not the inspector’s or the owner’s to do', async () => {
    for (const person of [house.inspector, house.owner]) {
      expect((await person.get(`${house.base}/proposal`)).statusCode).toBe(403);
      expect((await person.post(`${house.base}/proposal`)).statusCode).toBe(403);
    }
  });

  it('keeps nothing where nothing is chosen', async () => {
    const page = await house.contractor.get(`${house.base}/proposal`);
    const boxes = boxesOf(page.body);
    const none = Object.fromEntries(Object.entries(boxes).filter(([name]) => !name.startsWith('take.')));
    const answer = await house.contractor.post(`${house.base}/proposal`, none);
    expect(answer.statusCode).toBe(422);
    expect(wordsOf(answer.body)).toContain('Choose at least one row.');
    expect(await rows()).toEqual([]);
  });

  it('keeps the chosen ones as N1, N2, … in one go, content as proposed, with their events', async () => {
    const page = await house.contractor.get(`${house.base}/proposal`);
    const before = await house.test.deps.prisma.event.count({ where: { projectId: house.projectId } });
    const sent = await house.contractor.post(`${house.base}/proposal`, {
      ...boxesOf(page.body),
      _reason: 'From the design.',
    });
    expect(sent.statusCode).toBe(303);
    const made = await rows();
    expect(made.map((item) => item.key).sort((a, b) => Number(a.slice(1)) - Number(b.slice(1)))).toEqual(
      expectedRows.map((_, index) => `N${index + 1}`),
    );
    for (const [index, row] of expectedRows.entries()) {
      const item = made.find((one) => one.key === `N${index + 1}`)!;
      expect(item.versions).toHaveLength(1);
      expect(item.versions[0]!.content).toBe(canonicalJson(row));
      expect(item.versions[0]!.reason).toBe('From the design.');
    }
    // An item and a version each.
    const after = await house.test.deps.prisma.event.count({ where: { projectId: house.projectId } });
    expect(after - before).toBe(2 * expectedRows.length);
  });

  it('then says of every row that it is there, and offers nothing', async () => {
    const page = await house.contractor.get(`${house.base}/proposal`);
    expect(Object.keys(boxesOf(page.body)).filter((name) => name.startsWith('take.'))).toEqual([]);
    expect(page.body).not.toContain('type="checkbox"');
    expect(wordsOf(page.body)).toContain('same as N1');
  });

  it('says what differs once the design moves, and makes a version of the row', async () => {
    const beam = await house.test.deps.prisma.item.findFirstOrThrow({
      where: { openingId: house.openingId, kind: 'beam' },
    });
    await saveVersion(house.test.deps, house.contractorActor, {
      itemId: beam.id,
      expectedNumber: 1,
      content: { ...demoBeam, member: { ...demoBeam.member, depthIn: 11.875 } },
    });
    const page = await house.contractor.get(`${house.base}/proposal`);
    const words = wordsOf(page.body);
    expect(words).toContain('differs from N1, version 1');
    expect(words).toContain('piece 1 width in 9.5 → 11.875');
    // Not ticked of itself: somebody may have worked on the row.
    const boxes = boxesOf(page.body);
    expect(boxes['take.beam-plies']).toBeUndefined();
    const sent = await house.contractor.post(`${house.base}/proposal`, {
      ...boxes,
      'take.beam-plies': 'yes',
    });
    expect(sent.statusCode).toBe(303);
    const made = await rows();
    expect(made).toHaveLength(expectedRows.length);
    expect(made.find((item) => item.key === 'N1')?.versions).toHaveLength(2);
  });

  it('keeps nothing of what moved since it was shown', async () => {
    const item = (await rows()).find((one) => one.key === 'N2')!;
    const support = await house.test.deps.prisma.item.findFirstOrThrow({
      where: { openingId: house.openingId, kind: 'support', key: 'left' },
    });
    await saveVersion(house.test.deps, house.contractorActor, {
      itemId: support.id,
      expectedNumber: 1,
      content: { ...demoSupports[0]!, jacks: 3 },
    });
    const boxes = boxesOf((await house.contractor.get(`${house.base}/proposal`)).body);
    const content = JSON.parse(item.versions[0]!.content) as { note: string };
    await saveVersion(house.test.deps, house.contractorActor, {
      itemId: item.id,
      expectedNumber: 1,
      content: { ...content, note: 'Mine.' },
    });
    const sent = await house.contractor.post(`${house.base}/proposal`, {
      ...boxes,
      'take.pack-plies-left': 'yes',
    });
    expect(sent.statusCode).toBe(409);
    expect(wordsOf(sent.body)).toContain('moved since this page was shown');
    expect((await rows()).find((one) => one.key === 'N2')?.versions).toHaveLength(2);
  });
});

describe('rows from the design, beside rows that are there', () => {
  let house: House;
  beforeAll(async () => {
    house = await openHouse();
  });
  afterAll(() => house.test.close());

  it('takes the only row of a joint for the same, names others of it, leaves the rest alone', async () => {
    const words = wordsOf((await house.contractor.get(`${house.base}/proposal`)).body);
    expect(words).toContain('differs from N1, version 1');
    expect(words).toContain('fastener style box → common');
    expect(words).toContain('Of the same joint already: N4.');
    expect(words).toContain('Not proposed, and left as they are: N4 Jacks and king, N6 Beam to jacks.');
  });

  it('numbers on after the highest mark, and stands as revised where the engineer does it', async () => {
    const page = await house.engineer.get(`${house.base}/proposal`);
    const boxes = boxesOf(page.body);
    const only = Object.fromEntries(Object.entries(boxes).filter(([name]) => !name.startsWith('take.')));
    const refused = await house.engineer.post(`${house.base}/proposal`, {
      ...only,
      'take.hangers-front': 'yes',
    });
    // Not met without a listing: the engineer has to say why.
    expect(refused.statusCode).toBe(422);
    expect(wordsOf(refused.body)).toContain('N7, hangers-front: Not all checks are met');
    const sent = await house.engineer.post(`${house.base}/proposal`, { ...only, 'take.top-plate': 'yes' });
    expect(sent.statusCode).toBe(303);
    const schedule = wordsOf((await house.engineer.get(house.base)).body);
    expect(schedule).toContain('N7');
    expect(schedule).toContain('revised by the engineer');
  });
});

it('asks for the design first', async () => {
  const house = await openHouse({ rows: false });
  const other = await house.test.deps.prisma.opening.create({
    data: { projectId: house.projectId, ordinal: 2, name: 'Empty' },
  });
  const page = await house.contractor.get(
    `/projects/${house.projectId}/openings/${other.id}/schedule/proposal`,
  );
  expect(page.statusCode).toBe(422);
  expect(wordsOf(page.body)).toContain('Enter criteria, survey and beam first');
  await house.test.close();
});
