import { PrismaPg } from '@prisma/adapter-pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PrismaClient } from '../../../src/database/generated/client.ts';
import { NotFound } from '../../../src/problems.ts';
import { listItems, searchItems } from '../../../src/record/items/list.ts';
import { standingsOfOpening } from '../../../src/record/items/standings.ts';
import { answerQuestion, askQuestion } from '../../../src/record/questions/service.ts';
import { readOpenings } from '../../../src/record/worklist/openings.ts';
import { sectionStates } from '../../../src/record/worklist/sections.ts';
import { readWorklist, readWorklistPage } from '../../../src/record/worklist/service.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { recalculateItem } from '../../../src/record/recalculation/service.ts';
import { issueSet, previewSet } from '../../../src/record/sets/service.ts';
import { readReview } from '../../../src/record/marks/review.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';
import { enter, enterHouse, mark, openScene, submit, type Ids, type Scene } from '../support/scene.ts';

let database: FreshDatabase;
/** The same database through a client that counts its queries. */
let counting: PrismaClient<'query'>;
let queries = 0;
beforeAll(async () => {
  database = await freshDatabase();
  counting = new PrismaClient({
    adapter: new PrismaPg({ connectionString: database.url }),
    log: [{ emit: 'event', level: 'query' }],
  });
  counting.$on('query', ({ query }) => {
    if (/^\s*(SELECT|WITH|INSERT|UPDATE|DELETE)/i.test(query)) queries += 1;
  });
});
afterAll(async () => {
  await counting.$disconnect();
  await database.close();
});

async function queriesOf(work: () => Promise<unknown>): Promise<number> {
  queries = 0;
  await work();
  return queries;
}

const save = (scene: Scene, itemId: string, expectedNumber: number, content: unknown) =>
  saveVersion(scene.deps, scene.contractor, { itemId, expectedNumber, content });

/** An opening with an item in every state. */
async function everyState(scene: Scene): Promise<Ids & Readonly<Record<string, string>>> {
  const ids = await enterHouse(scene);
  const rows: Record<string, string> = {};
  for (const key of ['returned', 'withdrawn', 'revised', 'awaiting']) {
    rows[key] = await enter(scene, 'drawing', key, { caption: key });
  }
  await submit(scene);
  await mark(scene, ids.beam);
  await mark(scene, rows.returned!, 'returned', 'too small to read');
  await mark(scene, rows.withdrawn!);
  await mark(scene, rows.withdrawn!, 'withdrawn', 'wrong sheet');
  await saveVersion(scene.deps, scene.engineer, {
    itemId: rows.revised!,
    expectedNumber: 1,
    content: { caption: 'by the engineer' },
  });
  rows.unsubmitted = await enter(scene, 'drawing', 'unsubmitted', { caption: 'later' });
  const { item } = await createItem(scene.deps, scene.contractor, {
    openingId: scene.openingId,
    kind: 'drawing',
    key: 'empty',
    title: 'drawing empty',
  });
  rows.empty = item.itemId;
  return { ...ids, ...rows };
}

describe('a work list', () => {
  let scene: Scene;
  let ids: Awaited<ReturnType<typeof everyState>>;
  beforeAll(async () => {
    scene = await openScene(database.prisma);
    ids = await everyState(scene);
  });
  const sectionsOf = async (personId: string) => {
    const list = await readWorklist(scene.deps, { personId });
    return Object.fromEntries(
      list.items.map((section) => [section.section, section.entries.map((entry) => entry.itemId)]),
    );
  };

  test('of the contractor: what was sent back, what to submit, what to fill in', async () => {
    expect(await sectionsOf(scene.contractor.personId)).toEqual({
      'sent back': [ids.returned, ids.withdrawn],
      'changed by the engineer': [ids.revised],
      'to submit': [ids.unsubmitted],
      'to fill in': [ids.empty],
    });
  });

  test('of the engineer: what to mark, oldest first', async () => {
    expect(await sectionsOf(scene.engineer.personId)).toEqual({
      // Submitted at one moment they stand as the load goes; the withdrawn one came later.
      'to mark': [ids.support, ids.fastening, ids.awaiting, ids.withdrawn],
    });
  });

  test('says the reason, the age and the count', async () => {
    const list = await readWorklist(scene.deps, { personId: scene.contractor.personId }, { limit: 1 });
    const back = list.items.find((section) => section.section === 'sent back');
    expect(back).toMatchObject({ count: 2, entries: [{ reason: 'too small to read', state: 'returned' }] });
    expect(back?.oldest).toEqual(back?.entries[0]?.since);
    const rest = await readWorklistPage(
      scene.deps,
      { personId: scene.contractor.personId },
      { role: 'contractor', section: 'sent back', after: back!.next!, limit: 1 },
    );
    expect(rest.entries.map((entry) => entry.itemId)).toEqual([ids.withdrawn]);
    expect(rest.next).toBeNull();
  });

  test('is the database’s reckoning of the same states as the rules’', async () => {
    const { deps, projectId, openingId } = scene;
    const standings = await standingsOfOpening(database.prisma, deps.kinds, { projectId }, openingId);
    expect(new Set(standings.map((standing) => standing.state.is)).size).toBe(8);
    for (const [role, personId] of [
      ['contractor', scene.contractor.personId],
      ['engineer', scene.engineer.personId],
    ] as const) {
      const list = await readWorklist(deps, { personId });
      for (const { section, entries } of list.items) {
        const states = sectionStates.filter((row) => row.role === role && row.section === section);
        const byRules = standings.filter(({ state }) => states.some((row) => row.state === state.is));
        expect(new Set(entries.map((entry) => entry.itemId))).toEqual(
          new Set(byRules.map((standing) => standing.facts.itemId)),
        );
        for (const entry of entries) {
          const { state } = byRules.find((standing) => standing.facts.itemId === entry.itemId)!;
          expect(entry.state).toBe(state.is);
          if (state.is !== 'empty') expect(entry.since).toEqual(state.since);
        }
      }
    }
  });

  test('shows what is out of date, with the figures', async () => {
    await save(scene, ids.survey, 1, { spanIn: 150 });
    for (const person of [scene.contractor, scene.engineer]) {
      const { stale } = await readWorklist(scene.deps, { personId: person.personId });
      const [section] = stale;
      expect(section).toMatchObject({ role: person.role, count: 3 });
      expect(section?.entries.map((entry) => entry.itemId).sort()).toEqual(
        [ids.beam, ids.support, ids.fastening].sort(),
      );
    }
    await recalculateItem(scene.deps, scene.contractor, { itemId: ids.beam });
    const { stale } = await readWorklist(scene.deps, { personId: scene.contractor.personId });
    expect(stale[0]?.entries.map((entry) => entry.reasons[0]?.sentence)).toEqual([
      'beam beam, reaction: demand was 2,400 lb, is 2,500 lb',
    ]);
  });

  test('shows a question to the one who did not say the last word', async () => {
    const { threadId } = await askQuestion(scene.deps, scene.engineer, {
      itemId: ids.beam,
      text: 'Which grade?',
    });
    const waitingFor = async (personId: string) => {
      const { questions } = await readWorklist(scene.deps, { personId });
      return questions?.entries.map((question) => question.text);
    };
    expect(await waitingFor(scene.contractor.personId)).toEqual(['Which grade?']);
    expect(await waitingFor(scene.engineer.personId)).toEqual([]);
    scene.advance(1000);
    await answerQuestion(scene.deps, scene.contractor, { threadId, text: '2.0E' });
    expect(await waitingFor(scene.contractor.personId)).toEqual([]);
    expect(await waitingFor(scene.engineer.personId)).toEqual(['Which grade?']);
  });

  test('of somebody without a working role, or whose membership ended, is empty', async () => {
    const empty = { items: [], stale: [], questions: null };
    expect(await readWorklist(scene.deps, { personId: scene.inspector.personId })).toEqual(empty);
    expect(await readWorklist(scene.deps, { personId: scene.owner.personId })).toEqual(empty);
    await database.prisma.membership.updateMany({
      where: { personId: scene.secondEngineer.personId },
      data: { revokedAt: new Date() },
    });
    expect(await readWorklist(scene.deps, { personId: scene.secondEngineer.personId })).toEqual(empty);
    expect(await readOpenings(scene.deps, { personId: scene.secondEngineer.personId })).toEqual([]);
  });

  test('goes over all projects, each in the role held there', async () => {
    const other = await openScene(database.prisma);
    await enter(other, 'drawing', 'A1', { caption: 'elsewhere' });
    await submit(other);
    await database.prisma.membership.create({
      data: { projectId: other.projectId, personId: scene.contractor.personId, role: 'engineer' },
    });
    const list = await readWorklist(scene.deps, { personId: scene.contractor.personId });
    const toMark = list.items.find((section) => section.section === 'to mark');
    expect(toMark?.entries.map((entry) => [entry.projectId, entry.title])).toEqual([
      [other.projectId, 'drawing A1'],
    ]);
    const toSubmit = list.items.find((section) => section.section === 'to submit');
    expect(new Set(toSubmit?.entries.map((entry) => entry.projectId))).toEqual(new Set([scene.projectId]));
  });

  test('inspector and owner begin from the openings and their set in force', async () => {
    const before = await readOpenings(scene.deps, { personId: scene.owner.personId });
    expect(before).toMatchObject([{ role: 'owner', openingId: scene.openingId, setNumber: null }]);
    const { openingId } = scene;
    const { content, openQuestions } = await previewSet(scene.deps, scene.engineer, { openingId });
    await issueSet(scene.deps, scene.engineer, {
      openingId,
      expectedLastNumber: 0,
      entries: content.entries,
      confirmedQuestions: openQuestions.map((question) => question.threadId),
    });
    const [opening] = await readOpenings(scene.deps, { personId: scene.inspector.personId });
    // Beam (recalculated, not submitted), support, row, and six drawings.
    expect(opening).toMatchObject({ setNumber: 1, items: 9, approved: 1, awaiting: 3, returned: 2 });
  });

  test.each(['', 'x', '!.!', `zz.${'0'.repeat(36)}`])('the cursor %j is not found', async (after) => {
    const viewer = { personId: scene.contractor.personId };
    await expect(
      readWorklistPage(scene.deps, viewer, { role: 'contractor', section: 'sent back', after }),
    ).rejects.toBeInstanceOf(NotFound);
    if (after === '') return;
    await expect(
      listItems(scene.deps, scene.contractor, { openingId: scene.openingId, after }),
    ).rejects.toBeInstanceOf(NotFound);
  });
});

/** Fills an opening with rows by SQL: through the service it would take minutes. Half of them are submitted. */
async function fill(scene: Scene, count: number, restsOn: string): Promise<void> {
  const { projectId, openingId } = scene;
  const by = scene.contractor.personId;
  const hash = 'a'.repeat(64);
  await database.prisma.$executeRaw`
    INSERT INTO item (project_id, opening_id, kind, key, title)
    SELECT ${projectId}::uuid, ${openingId}::uuid, 'fastening', 'R' || n, 'Row R' || n
    FROM generate_series(1, ${count}::int) n`;
  await database.prisma.$executeRaw`
    INSERT INTO version (project_id, item_id, number, content, rests_on, calculation, calculation_hash,
                         engine_version, hash, author_id, author_role, created_at)
    SELECT project_id, id, 1, '{"note":"bulk ' || key || '","rows":2,"spacingIn":12}', ${restsOn}, '', ${hash},
           'test 1', ${hash}, ${by}::uuid, 'contractor', '2026-03-02T09:00:00Z'
    FROM item WHERE opening_id = ${openingId}::uuid AND key LIKE 'R%' AND kind = 'fastening'`;
  const submission = await database.prisma.submission.create({
    data: { projectId, openingId, number: 1, note: '', byId: by },
  });
  await database.prisma.$executeRaw`
    INSERT INTO submission_entry (submission_id, version_id)
    SELECT ${submission.id}::uuid, v.id FROM version v JOIN item i ON i.id = v.item_id
    WHERE i.opening_id = ${openingId}::uuid AND i.kind = 'fastening' AND right(i.key, 1)::int % 2 = 0`;
  await database.prisma.$executeRaw`ANALYZE`;
}

describe('many items', () => {
  const MANY = 10_000;
  let few: Scene;
  let many: Scene;
  beforeAll(async () => {
    few = await openScene(database.prisma);
    many = await openScene(database.prisma);
    for (const [scene, count] of [
      [few, 10],
      [many, MANY],
    ] as const) {
      await enter(scene, 'criteria', 'criteria', { livePsf: 40 });
      await enter(scene, 'survey', 'survey', { spanIn: 144 });
      const beam = await enter(scene, 'beam', 'beam', { plies: 3, depthIn: 9.5 });
      await enter(scene, 'fastening', 'N1', { rows: 2, spacingIn: 12 });
      const row = await database.prisma.version.findFirstOrThrow({
        where: { item: { openingId: scene.openingId, kind: 'fastening' } },
      });
      await fill(scene, count, row.restsOn);
      // Another ply: every row is out of date now.
      await saveVersion({ ...scene.deps, clock: () => new Date('2026-03-02T10:00:00Z') }, scene.contractor, {
        itemId: beam,
        expectedNumber: 1,
        content: { plies: 4, depthIn: 9.5 },
      });
    }
  });

  test('take no more queries than few', async () => {
    const pages = (scene: Scene) => {
      const deps = { ...scene.deps, prisma: counting };
      const { contractor, openingId } = { ...scene };
      const viewer = { personId: contractor.personId };
      return {
        worklist: () => readWorklist(deps, viewer),
        openings: () => readOpenings(deps, viewer),
        items: () => listItems(deps, contractor, { openingId }),
        search: () => searchItems(deps, contractor, { words: 'row R' }),
        preview: () => previewSet(deps, scene.engineer, { openingId }),
        review: () => readReview(deps, scene.engineer, { openingId }),
      };
    };
    const [fewPages, manyPages] = [pages(few), pages(many)];
    const counts: Record<string, number> = {};
    for (const page of ['worklist', 'openings', 'items', 'search', 'preview', 'review'] as const) {
      const ofFew = await queriesOf(fewPages[page]);
      counts[page] = await queriesOf(manyPages[page]);
      expect(counts[page], page).toBe(ofFew);
      expect(ofFew, page).toBeGreaterThan(0);
    }
    expect(Math.max(...Object.values(counts))).toBeLessThanOrEqual(24);
  });

  test('are all counted, and all out of date', async () => {
    const list = await readWorklist(many.deps, { personId: many.contractor.personId });
    expect(list.stale[0]?.count).toBe(MANY + 1);
    expect(list.stale[0]?.entries[0]?.reasons[0]?.sentence).toBe('beam beam, plies was 3, is 4');
    // Half of the rows, N1 and the beam.
    expect(list.items.find((section) => section.section === 'to submit')?.count).toBe(MANY / 2 + 2);
    const engineers = await readWorklist(many.deps, { personId: many.engineer.personId });
    expect(engineers.items.find((section) => section.section === 'to mark')?.count).toBe(MANY / 2);
  });

  test('page by page: each once, in the order of the trade', async () => {
    const keys: string[] = [];
    const input = { openingId: many.openingId, kind: 'fastening', limit: 500 } as const;
    for (let after: string | null | undefined; after !== null;) {
      const page = await listItems(many.deps, many.contractor, {
        ...input,
        ...(after === undefined ? {} : { after }),
      });
      keys.push(...page.items.map((item) => item.facts.key));
      expect(page.items.every((item) => item.stale.length === 1)).toBe(true);
      after = page.next;
    }
    const wanted = Array.from({ length: MANY }, (_, index) => `R${index + 1}`);
    expect(keys).toEqual(['N1', ...wanted]);
  });

  test('a section pages through all that waits', async () => {
    const viewer = { personId: many.engineer.personId };
    const seen = new Set<string>();
    const first = await readWorklist(many.deps, viewer, { limit: 1000 });
    let section = first.items.find((each) => each.section === 'to mark')!;
    for (;;) {
      for (const entry of section.entries) seen.add(entry.itemId);
      if (section.next === null) break;
      const input = { role: 'engineer', section: 'to mark', after: section.next, limit: 1000 } as const;
      section = await readWorklistPage(many.deps, viewer, input);
    }
    expect(seen.size).toBe(MANY / 2);
  });
});

describe('search', () => {
  let scene: Scene;
  beforeAll(async () => {
    scene = await openScene(database.prisma);
    await enter(scene, 'drawing', 'A1', { caption: '100% of the joists on the front side' });
    await enter(scene, 'drawing', 'A2', { caption: 'Joists on the rear_side' });
    await enter(scene, 'drawing', 'B1', { caption: 'Panel schedule' });
  });
  const found = async (words: string) => {
    const { items } = await searchItems(scene.deps, scene.contractor, { words });
    return items.map((item) => item.facts.key);
  };

  test.each([
    ['joists', ['A1', 'A2']],
    ['JOISTS rear', ['A2']],
    ['drawing b1', ['B1']],
    ['100%', ['A1']],
    ['%', ['A1']],
    ['rear_', ['A2']],
    ["'; DROP TABLE item; --", []],
    ['\\', []],
    ['\0', []],
    ['  ', []],
  ])('%j', async (words, keys) => {
    expect(await found(words)).toEqual(keys);
  });

  test('looks at the newest version, in the own project only', async () => {
    const item = await database.prisma.item.findFirstOrThrow({
      where: { projectId: scene.projectId, key: 'B1' },
    });
    await save(scene, item.id, 1, { caption: 'Circuit list' });
    expect(await found('panel')).toEqual([]);
    expect(await found('circuit')).toEqual(['B1']);
    const elsewhere = await openScene(database.prisma);
    const { items } = await searchItems(elsewhere.deps, elsewhere.contractor, { words: 'circuit' });
    expect(items).toEqual([]);
  });
});
