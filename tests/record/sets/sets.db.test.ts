import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { Conflict, NotAllowed, NotFound, Refused } from '../../../src/problems.ts';
import { sha256Hex } from '../../../src/record/canonical.ts';
import type { RecordedEvent } from '../../../src/record/events/append.ts';
import {
  answerQuestion,
  askQuestion,
  closeQuestion,
  readThreads,
} from '../../../src/record/questions/service.ts';
import { recalculateOpening } from '../../../src/record/recalculation/service.ts';
import { listSets, readSet } from '../../../src/record/sets/read.ts';
import { issueSet, previewSet } from '../../../src/record/sets/service.ts';
import { readVersionInSet } from '../../../src/record/versions/read.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';
import { enterHouse, mark, openScene, submit, type Ids, type Scene } from '../support/scene.ts';

let database: FreshDatabase;
let scene: Scene;
let ids: Ids;
beforeAll(async () => {
  database = await freshDatabase();
});
afterAll(() => database.close());
beforeEach(async () => {
  scene = await openScene(database.prisma);
  ids = await enterHouse(scene);
  await submit(scene);
});

/** Issues what the page before issuing shows, or some of it. */
async function issue(choose: (itemId: string) => boolean = () => true, engineer = scene.engineer, note = '') {
  const { openingId } = scene;
  const { content, expectedLastNumber, openQuestions } = await previewSet(scene.deps, engineer, {
    openingId,
  });
  return issueSet(scene.deps, engineer, {
    openingId,
    expectedLastNumber,
    entries: content.entries.filter((entry) => choose(entry.itemId)),
    confirmedQuestions: openQuestions.map((question) => question.threadId),
    note,
  });
}
const save = (itemId: string, expectedNumber: number, content: unknown, actor = scene.contractor) =>
  saveVersion(scene.deps, actor, { itemId, expectedNumber, content });

describe('issuing', () => {
  test('a partial set states its gaps, its bases and whose word it rests on', async () => {
    await mark(scene, ids.beam);
    await mark(scene, ids.fastening, 'approved', '', scene.secondEngineer);
    await mark(scene, ids.support, 'returned', 'plate crushes');
    const set = await issue();
    expect(set.number).toBe(1);
    expect(set.content.entries.map(({ itemId, lines }) => [itemId, lines])).toEqual([
      [ids.beam, ['3 plies, 9.5 in deep']],
      [ids.fastening, ['2 rows at 12 in']],
    ]);
    expect(set.content.gaps.map((gap) => gap.sentence)).toEqual([
      'support left: version 1 returned by K. O.: plate crushes',
    ]);
    expect(set.content.bases.map(({ kind, number }) => [kind, number])).toEqual([
      ['criteria', 1],
      ['survey', 1],
    ]);
    expect(set.content.reliance.map(({ name, items }) => [name, items])).toEqual([
      ['K. O.', ['beam beam']],
      ['M. B.', ['fastening N1']],
    ]);
    expect(set.content.changes).toEqual([]);
    const row = await database.prisma.approvedSet.findUniqueOrThrow({ where: { id: set.setId } });
    expect(row.hash).toBe(sha256Hex(row.content));
    expect(JSON.parse(row.content)).toEqual(set.content);
  });

  test('freezes the head of the log as it was', async () => {
    await mark(scene, ids.beam);
    const head = await database.prisma.event.findFirstOrThrow({
      where: { projectId: scene.projectId },
      orderBy: { seq: 'desc' },
    });
    const set = await issue();
    expect(set.content.log).toEqual({ seq: head.seq, hash: head.hash });
  });

  test('one chosen item alone leaves the other approved ones out, and says so', async () => {
    await mark(scene, ids.beam);
    await mark(scene, ids.fastening);
    const set = await issue((itemId) => itemId === ids.fastening);
    expect(set.content.entries.map((entry) => entry.itemId)).toEqual([ids.fastening]);
    expect(set.content.gaps.map((gap) => gap.sentence)).toEqual([
      'beam beam: version 1 approved by K. O., left out of this set',
      "support left: version 1 awaits the engineer's mark",
    ]);
  });

  test('an empty set is refused', async () => {
    await expect(issue()).rejects.toBeInstanceOf(Refused);
  });

  test.each(['contractor', 'inspector', 'owner'] as const)('the %s may not', async (role) => {
    await mark(scene, ids.beam);
    await expect(issue(undefined, { ...scene[role], role: 'engineer' })).rejects.toBeInstanceOf(NotAllowed);
  });

  test('a stale item is refused by name and figure', async () => {
    await mark(scene, ids.beam);
    const { openingId } = scene;
    const { content } = await previewSet(scene.deps, scene.engineer, { openingId });
    await save(ids.survey, 1, { spanIn: 150 });
    await expect(
      issueSet(scene.deps, scene.engineer, {
        openingId,
        expectedLastNumber: 0,
        entries: content.entries,
        confirmedQuestions: [],
      }),
    ).rejects.toThrow('span was 144 in, is 150 in');
  });

  test('an item that moved since the page was shown is a conflict', async () => {
    await mark(scene, ids.beam);
    await mark(scene, ids.fastening);
    const { openingId } = scene;
    const { content } = await previewSet(scene.deps, scene.engineer, { openingId });
    await save(ids.fastening, 1, { rows: 3, spacingIn: 12 });
    const late = issueSet(scene.deps, scene.engineer, {
      openingId,
      expectedLastNumber: 0,
      entries: content.entries,
      confirmedQuestions: [],
    });
    await expect(late).rejects.toBeInstanceOf(Conflict);
    expect(await database.prisma.approvedSet.count({ where: { openingId } })).toBe(0);
  });

  test('a double tap is one set; another engineer’s at the same time is told', async () => {
    await mark(scene, ids.beam);
    const { openingId } = scene;
    const { content } = await previewSet(scene.deps, scene.engineer, { openingId });
    const input = { openingId, expectedLastNumber: 0, entries: content.entries, confirmedQuestions: [] };
    const [first, second] = await Promise.all([
      issueSet(scene.deps, scene.engineer, input),
      issueSet(scene.deps, scene.engineer, input),
    ]);
    expect(first.setId).toBe(second.setId);
    await expect(issueSet(scene.deps, scene.secondEngineer, input)).rejects.toBeInstanceOf(Conflict);
    expect(await database.prisma.approvedSet.count({ where: { openingId } })).toBe(1);
  });

  test('a listener writes with the set or not at all', async () => {
    await mark(scene, ids.beam);
    const heard: RecordedEvent[] = [];
    const listening = {
      ...scene.deps,
      listeners: [async (_tx: unknown, event: RecordedEvent) => void heard.push(event)],
    };
    const { openingId } = scene;
    const { content } = await previewSet(scene.deps, scene.engineer, { openingId });
    const input = { openingId, expectedLastNumber: 0, entries: content.entries, confirmedQuestions: [] };
    const failing = { ...scene.deps, listeners: [() => Promise.reject(new Error('no checks'))] };
    await expect(issueSet(failing, scene.engineer, input)).rejects.toThrow('no checks');
    expect(await database.prisma.approvedSet.count({ where: { openingId } })).toBe(0);
    const set = await issueSet(listening, scene.engineer, input);
    expect(heard).toMatchObject([{ type: 'set.issued', payload: { setId: set.setId } }]);
  });
});

describe('the next set', () => {
  beforeEach(async () => {
    for (const itemId of [ids.beam, ids.support, ids.fastening]) await mark(scene, itemId);
    await issue();
  });

  test('says what changed since the last, in lines', async () => {
    await save(ids.fastening, 1, { rows: 3, spacingIn: 12 }, scene.engineer);
    await save(ids.support, 1, { jacks: 3 });
    const set = await issue();
    expect(
      set.content.changes.map(({ title, what, was, now, lines }) => [title, what, was, now, lines]),
    ).toEqual([
      ['fastening N1', 'changed', 1, 2, ['rows 2 → 3']],
      ['support left', 'left out', 1, null, []],
    ]);
  });

  test('supersedes the one before, which stays readable as it was', async () => {
    await save(ids.fastening, 1, { rows: 3, spacingIn: 12 }, scene.engineer);
    await issue();
    const sets = await listSets(scene.deps, scene.inspector, { openingId: scene.openingId });
    expect(sets.map((set) => [set.number, set.supersededBy])).toEqual([
      [2, null],
      [1, 2],
    ]);
    const first = await readSet(scene.deps, scene.owner, { setId: sets[1]!.setId });
    expect(first.content.entries.map((entry) => entry.number)).toEqual([1, 1, 1]);
    const inSet = { setId: first.setId, itemId: ids.fastening };
    const { version } = await readVersionInSet(scene.deps, scene.inspector, inSet);
    expect(version.content).toEqual({ rows: 2, spacingIn: 12 });
  });

  test('after a field change: a new round on what moved, with the reason in the record', async () => {
    await save(ids.survey, 1, { spanIn: 150 });
    await recalculateOpening(scene.deps, scene.contractor, { openingId: scene.openingId });
    await submit(scene);
    await mark(scene, ids.beam);
    await mark(scene, ids.support, 'approved', '', scene.secondEngineer);
    const set = await issue();
    // R = 400 plf · 12.5 ft ÷ 2 = 2,500 lb.
    expect(set.content.changes.map(({ title, lines }) => [title, lines])).toEqual([
      ['survey survey', ['span 12\'-0" → 12\'-6"']],
      ['beam beam', ['reaction 2,400 → 2,500 lb']],
      ['support left', ['load 2,400 → 2,500 lb']],
    ]);
    expect(set.content.reliance.map(({ name, items }) => [name, items])).toEqual([
      ['K. O.', ['beam beam', 'fastening N1']],
      ['M. B.', ['support left']],
    ]);
  });

  test('a withdrawn approval flags the sets that contain it; the old mark stays in them', async () => {
    await mark(scene, ids.beam, 'withdrawn', 'wrong live load');
    const [set] = await listSets(scene.deps, scene.inspector, { openingId: scene.openingId });
    expect(set?.flags.map((flag) => flag.sentence)).toEqual([
      'beam beam: the approval of version 1 was withdrawn by K. O.: wrong live load',
    ]);
    expect(set?.content.entries[0]?.mark.word).toBe('approved');
    await mark(scene, ids.beam, 'approved', 'load confirmed');
    const again = await issue();
    const [second, first] = await listSets(scene.deps, scene.inspector, { openingId: scene.openingId });
    expect([second?.number, second?.flags.length]).toEqual([again.number, 0]);
    expect(first?.flags).toHaveLength(1);
  });

  test('is not found from another project', async () => {
    const elsewhere = await openScene(database.prisma);
    const { openingId } = scene;
    const [set] = await listSets(scene.deps, scene.engineer, { openingId });
    const { setId } = set!;
    await expect(readSet(scene.deps, elsewhere.engineer, { setId })).rejects.toBeInstanceOf(NotFound);
    await expect(listSets(scene.deps, elsewhere.engineer, { openingId })).rejects.toBeInstanceOf(NotFound);
    await expect(previewSet(scene.deps, elsewhere.engineer, { openingId })).rejects.toBeInstanceOf(NotFound);
    await expect(
      readVersionInSet(scene.deps, elsewhere.inspector, { setId, itemId: ids.beam }),
    ).rejects.toBeInstanceOf(NotFound);
  });
});

describe('questions', () => {
  test('are asked, answered and closed; only who asked or the engineer closes', async () => {
    const { deps, contractor, engineer } = scene;
    const asked = await askQuestion(deps, engineer, { itemId: ids.beam, text: 'Which grade stamp?' });
    scene.advance(120_000);
    await answerQuestion(deps, contractor, { threadId: asked.threadId, text: '2.0E' });
    await expect(closeQuestion(deps, contractor, { threadId: asked.threadId })).rejects.toBeInstanceOf(
      NotAllowed,
    );
    await closeQuestion(deps, engineer, { threadId: asked.threadId });
    await expect(
      answerQuestion(deps, contractor, { threadId: asked.threadId, text: 'also dry' }),
    ).rejects.toBeInstanceOf(Refused);
    const {
      threads: [thread],
    } = await readThreads(deps, contractor, { itemId: ids.beam });
    expect(thread).toMatchObject({ open: false, question: { text: 'Which grade stamp?', byName: 'K. O.' } });
    expect(thread?.answers.map((answer) => [answer.text, answer.closes])).toEqual([
      ['2.0E', false],
      ['', true],
    ]);
  });

  test('the same words twice are one; a minute later they are two', async () => {
    const ask = () => askQuestion(scene.deps, scene.contractor, { itemId: ids.beam, text: 'Crown up?' });
    const first = await ask();
    expect(await ask()).toMatchObject({ repeated: true, questionId: first.questionId });
    scene.advance(120_000);
    expect((await ask()).questionId).not.toBe(first.questionId);
  });

  test('open ones are listed before issuing and must be confirmed', async () => {
    await mark(scene, ids.beam);
    const { threadId } = await askQuestion(scene.deps, scene.contractor, {
      itemId: ids.beam,
      text: 'Crown up?',
    });
    const { openingId } = scene;
    const preview = await previewSet(scene.deps, scene.engineer, { openingId });
    expect(preview.openQuestions.map((question) => question.text)).toEqual(['Crown up?']);
    const input = { openingId, expectedLastNumber: 0, entries: preview.content.entries };
    await expect(issueSet(scene.deps, scene.engineer, { ...input, confirmedQuestions: [] })).rejects.toThrow(
      '“Crown up?” (beam beam)',
    );
    const set = await issueSet(scene.deps, scene.engineer, { ...input, confirmedQuestions: [threadId] });
    expect(set.content.openQuestions.map((question) => question.threadId)).toEqual([threadId]);
  });

  test('another project’s thread, and a version of another item, are not found', async () => {
    const { threadId } = await askQuestion(scene.deps, scene.contractor, {
      itemId: ids.beam,
      text: 'Crown up?',
    });
    const elsewhere = await openScene(database.prisma);
    await expect(
      answerQuestion(scene.deps, elsewhere.engineer, { threadId, text: 'yes' }),
    ).rejects.toBeInstanceOf(NotFound);
    const other = await database.prisma.version.findFirstOrThrow({ where: { itemId: ids.support } });
    await expect(
      askQuestion(scene.deps, scene.contractor, { itemId: ids.beam, versionId: other.id, text: 'x' }),
    ).rejects.toBeInstanceOf(NotFound);
  });
});
