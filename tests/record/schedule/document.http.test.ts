import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoRows } from '../../../src/demo/cinder-ferry.ts';
import { markMany } from '../../../src/record/marks/service.ts';
import { issueSet, previewSet } from '../../../src/record/sets/service.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { openHouse, wordsOf, type House } from './house.ts';

let house: House;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.test.close());

/** Approves all that awaits a mark. */
async function approveAll(): Promise<void> {
  const { test, openingId, engineerActor } = house;
  const items = await test.deps.prisma.item.findMany({
    where: { openingId },
    select: {
      kind: true,
      versions: { orderBy: { number: 'desc' }, take: 1, include: { marks: true } },
    },
  });
  const versions = items
    .filter((item) => test.deps.kinds.get(item.kind).reviewable)
    .flatMap((item) => item.versions)
    .filter((version) => version.marks.length === 0);
  await markMany(test.deps, engineerActor, {
    versions: versions.map(({ id, hash }) => ({ versionId: id, hash, expectedMarkNumber: 0 })),
    word: 'approved',
    reason: 'Looked at one by one.',
  });
}

async function issue(expectedLastNumber: number): Promise<string> {
  const { test, openingId, engineerActor } = house;
  const preview = await previewSet(test.deps, engineerActor, { openingId });
  const { setId } = await issueSet(test.deps, engineerActor, {
    openingId,
    expectedLastNumber,
    entries: preview.content.entries.map(({ itemId, versionId, hash }) => ({ itemId, versionId, hash })),
    confirmedQuestions: [],
    note: '',
  });
  return setId;
}

describe('the schedule of an opening', () => {
  it('shows every row with demand, capacity, ratio and the code’s own row beside it, and its pattern', async () => {
    const page = await house.contractor.get(house.base);
    expect(page.statusCode).toBe(200);
    const words = wordsOf(page.body);
    for (const { key, content } of demoRows) {
      expect(page.body).toContain(`id="${key}"`);
      expect(words).toContain(content.where);
    }
    expect(words).toContain('0.128 × 3 in nail (10d box)');
    expect(words).toContain('280 plf');
    // 0.131 in nails at 16 in meet IRC Table R602.3(1), stud to stud.
    expect(words).toMatch(/IRC 2021 .*stud.*meets it/);
    expect(page.body.match(/class="drawing"/g)).toHaveLength(demoRows.length);
    const without = await house.contractor.get(`${house.base}?drawings=no`);
    expect(without.body).not.toContain('class="drawing"');
  });

  it('is not there for a stranger, and leads an inspector nowhere before a set is issued', async () => {
    const stranger = await house.test.person('Stranger');
    expect((await stranger.get(house.base)).statusCode).toBe(404);
    expect((await house.inspector.get(house.base)).statusCode).toBe(404);
  });

  it('marks revisions by row: number, what changed, by whom, why', async () => {
    const { test, contractorActor, engineerActor, openingId } = house;
    await submitVersions(test.deps, contractorActor, { openingId, note: '' });
    const [n1] = demoRows;
    await saveVersion(test.deps, engineerActor, {
      itemId: await house.itemId('N1'),
      expectedNumber: 1,
      content: {
        ...n1!.content,
        fastener: { kind: 'nail', style: 'common', diameterIn: 0.162, lengthIn: 3.5 },
        pattern: { ...n1!.content.pattern, rows: 3, rowSpacingIn: 2.75 },
      },
      reason: 'Box nails are too weak <here>.',
    });
    const words = wordsOf((await house.contractor.get(house.base)).body);
    expect(words).toContain('rows 2 → 3');
    expect(words).toContain('fastener style box → common');
    expect(words).toContain('fastener diameter 0.128 → 0.162 in');
    expect(words).toMatch(/capacity [\d,.]+ → [\d,.]+ plf/);
    expect(words).toContain('K. O. (engineer)');
    expect(words).toContain('“Box nails are too weak <here>.”');
    expect((await house.contractor.get(house.base)).body).toContain('aria-label="revision 2"');
  });
});

describe('the schedule of an issued set', () => {
  it('is what the set froze; a later set supersedes it and says what changed since', async () => {
    const { test, contractorActor, openingId, inspector, owner } = house;
    await approveAll();
    const first = await issue(0);
    const address = `/projects/${house.projectId}/sets/${first}/schedule`;
    const sent = await inspector.get(house.base);
    expect(sent.headers.location).toBe(address);
    const page = wordsOf((await inspector.get(address)).body);
    expect(page).toContain('0.162 × 3.5 in nail (16d common)');
    expect(page).toContain('in force');
    expect(page).not.toContain('Box nails are too weak <here>.” Draft');
    // The owner reads what is built without the arithmetic.
    const ownerPage = wordsOf((await owner.get(address)).body);
    expect(ownerPage).toContain('16d common');
    expect(ownerPage).not.toContain('Capacity');

    const n4 = demoRows[1]!;
    await saveVersion(test.deps, contractorActor, {
      itemId: await house.itemId('N4'),
      expectedNumber: 1,
      content: { ...n4.content, pattern: { ...n4.content.pattern, spacingIn: 12 } },
      reason: 'Closer.',
    });
    // A draft version is nothing that a set's readers see.
    expect(wordsOf((await inspector.get(address)).body)).toContain('1 row at 16 in');
    await submitVersions(test.deps, contractorActor, { openingId, note: '' });
    await approveAll();
    const second = await issue(1);
    const later = wordsOf((await inspector.get(`/projects/${house.projectId}/sets/${second}/schedule`)).body);
    expect(later).toContain('since set 1: spacing 16 → 12 in');
    const old = (await inspector.get(address)).body;
    expect(wordsOf(old)).toContain('Do not build or inspect from this schedule. Set 2 is in force.');
    expect(old).toContain('class="stamp"');
    expect(wordsOf(old)).toContain('1 row at 16 in');
  });

  it('is not found by another project’s member or a made-up id', async () => {
    const none = '00000000-0000-4000-8000-000000000000';
    expect((await house.inspector.get(`/projects/${house.projectId}/sets/${none}/schedule`)).statusCode).toBe(
      404,
    );
  });
});

it('prints the provisions for everybody, implemented and refused', async () => {
  const page = await house.test.visitor().get('/provisions');
  expect(page.statusCode).toBe(200);
  const words = wordsOf(page.body);
  expect(words).toContain('NDS 12.5.4');
  expect(words).toContain('A bolt does not withdraw');
});
