import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { Conflict, Invalid, NotAllowed, NotFound, Refused } from '../../../src/problems.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { discardDraft, loadDraft, saveDraft } from '../../../src/record/drafts/service.ts';
import { recalculateItem, recalculateOpening } from '../../../src/record/recalculation/service.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { compareVersions, readHistory, readItem, readVersion } from '../../../src/record/versions/read.ts';
import { addVersion, saveVersion, type SaveConflict } from '../../../src/record/versions/service.ts';
import { useCase } from '../../../src/record/use-case.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';
import { testKinds } from '../support/kinds.ts';
import {
  addMember,
  enter,
  enterHouse,
  mark,
  openScene,
  submit,
  type Ids,
  type Scene,
} from '../support/scene.ts';

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
});

const save = (
  itemId: string,
  expectedNumber: number,
  content: unknown,
  actor = scene.contractor,
  reason = '',
) => saveVersion(scene.deps, actor, { itemId, expectedNumber, content, reason });
const state = async (itemId: string) => {
  const { standing } = await readItem(scene.deps, scene.contractor, { itemId });
  return standing.state.is;
};
const staleSentences = async (itemId: string) => {
  const { standing } = await readItem(scene.deps, scene.contractor, { itemId });
  return standing.stale.map((reason) => reason.sentence);
};

describe('saving', () => {
  test('keeps content, grounds and calculation as of now', async () => {
    const { newest } = await readItem(scene.deps, scene.contractor, { itemId: ids.beam });
    expect(newest).toMatchObject({ number: 1, content: { plies: 3, depthIn: 9.5 }, engineVersion: 'test 1' });
    // 400 plf over 12 ft: M = 400 · 12² ÷ 8, R = 400 · 12 ÷ 2.
    expect(newest?.calculation?.checks[0]?.demand).toEqual({ value: 7200, unit: 'lb-ft' });
    expect(newest?.calculation?.outputs).toEqual({ reaction: { value: 2400, unit: 'lb' } });
    expect(newest?.restsOn.map((ground) => [ground.on.itemId, ground.values])).toEqual([
      [ids.survey, { span: { value: 144, unit: 'in' } }],
      [ids.criteria, { 'live load': { value: 40, unit: 'psf' } }],
    ]);
  });

  test('a refused content names its fields and makes nothing', async () => {
    await expect(save(ids.beam, 1, { plies: 0, depthIn: 9.5 })).rejects.toMatchObject({
      name: 'Invalid',
      fields: { plies: expect.any(String) as string },
    });
    await expect(save(ids.beam, 1, { plies: 3, depthIn: 61 })).rejects.toMatchObject({
      fields: { depthIn: 'No such beam is made.' },
    });
    expect((await readItem(scene.deps, scene.contractor, { itemId: ids.beam })).newest?.number).toBe(1);
  });

  test('nothing changed: no new version', async () => {
    await expect(save(ids.beam, 1, { depthIn: 9.5, plies: 3 })).rejects.toBeInstanceOf(Refused);
  });

  test('two people on one row: the second is told who changed what, and neither text is lost', async () => {
    const other = await addMember(database.prisma, scene.projectId, 'contractor', 'B. N.');
    await save(ids.fastening, 1, { rows: 3, spacingIn: 12 }, other);
    const form = { rows: '2', spacing: '6' };
    const late = saveVersion(scene.deps, scene.contractor, {
      itemId: ids.fastening,
      expectedNumber: 1,
      content: { rows: 2, spacingIn: 6 },
      form,
    });
    const conflict = (await late.catch((error: unknown) => error)) as Conflict<SaveConflict>;
    expect(conflict).toBeInstanceOf(Conflict);
    expect(conflict.message).toContain('B. N. saved version 2');
    expect(conflict.detail.mine.content).toEqual({ rows: 2, spacingIn: 6 });
    expect(conflict.detail.theirs?.content).toEqual({ rows: 3, spacingIn: 12 });
    expect(conflict.detail.base?.content).toEqual({ rows: 2, spacingIn: 12 });
    const draft = await loadDraft(scene.deps, scene.contractor, { itemId: ids.fastening });
    expect(draft).toMatchObject({ onNumber: 1, body: form });
  });

  test('a conflict is told before anything else that is wrong', async () => {
    const other = await addMember(database.prisma, scene.projectId, 'contractor', 'B. N.');
    await save(ids.fastening, 1, { rows: 3, spacingIn: 12 }, other);
    await expect(save(ids.fastening, 1, { rows: 'many' })).rejects.toBeInstanceOf(Conflict);
  });

  test('a double tap is one version', async () => {
    const first = await save(ids.fastening, 1, { rows: 3, spacingIn: 12 });
    const second = await save(ids.fastening, 1, { rows: 3, spacingIn: 12 });
    expect(first.repeated).toBe(false);
    expect(second).toMatchObject({ repeated: true, versionId: first.versionId, number: 2 });
    expect(await database.prisma.version.count({ where: { itemId: ids.fastening } })).toBe(2);
  });

  test('a criterion belongs to every opening of its project', async () => {
    await expect(enter(scene, 'criteria', 'second', { livePsf: 30 })).rejects.toBeInstanceOf(Refused);
  });
});

describe('who may save', () => {
  test.each(['inspector', 'owner'] as const)('not the %s', async (role) => {
    await expect(save(ids.beam, 1, { plies: 4, depthIn: 9.5 }, scene[role])).rejects.toBeInstanceOf(
      NotAllowed,
    );
  });

  test('a role that was claimed but is not held does not count', async () => {
    const claimed = { ...scene.owner, role: 'contractor' as const };
    await expect(save(ids.beam, 1, { plies: 4, depthIn: 9.5 }, claimed)).rejects.toBeInstanceOf(NotAllowed);
  });

  test('an old tab after the membership ended: the same answer as for a project that is not there', async () => {
    await database.prisma.membership.updateMany({
      where: { personId: scene.contractor.personId },
      data: { revokedAt: new Date() },
    });
    await expect(save(ids.beam, 1, { plies: 4, depthIn: 9.5 })).rejects.toBeInstanceOf(NotFound);
    await expect(
      saveDraft(scene.deps, scene.contractor, { itemId: ids.beam, onNumber: 1, body: {} }),
    ).rejects.toBeInstanceOf(NotFound);
  });

  test('a member of another project finds nothing here', async () => {
    const elsewhere = await openScene(database.prisma);
    const stranger = { ...elsewhere.contractor };
    const asked = { itemId: ids.beam };
    await expect(save(ids.beam, 1, { plies: 4, depthIn: 9.5 }, stranger)).rejects.toBeInstanceOf(NotFound);
    await expect(readItem(scene.deps, stranger, asked)).rejects.toBeInstanceOf(NotFound);
    await expect(readHistory(scene.deps, stranger, asked)).rejects.toBeInstanceOf(NotFound);
    await expect(readVersion(scene.deps, stranger, { ...asked, number: 1 })).rejects.toBeInstanceOf(NotFound);
    await expect(saveDraft(scene.deps, stranger, { ...asked, onNumber: 1, body: {} })).rejects.toBeInstanceOf(
      NotFound,
    );
    const openingId = scene.openingId;
    await expect(submitVersions(scene.deps, stranger, { openingId })).rejects.toBeInstanceOf(NotFound);
    await expect(
      createItem(scene.deps, stranger, { openingId, kind: 'drawing', key: 'A1', title: 'Plan' }),
    ).rejects.toBeInstanceOf(NotFound);
  });

  test.each(['', 'x', "1' OR 1=1", '00000000-0000-0000-0000-000000000000'])(
    'the id %j is not found',
    async (id) => {
      await expect(readItem(scene.deps, scene.contractor, { itemId: id })).rejects.toBeInstanceOf(NotFound);
    },
  );
});

describe('the engineer’s save', () => {
  test('of a submitted item is a version of the engineer’s, marked revised in one step', async () => {
    await submit(scene);
    const saved = await save(ids.fastening, 1, { rows: 3, spacingIn: 12 }, scene.engineer, 'three rows');
    expect(saved.mark).toMatchObject({ word: 'revised', number: 1 });
    expect(await state(ids.fastening)).toBe('revised');
    const events = await database.prisma.event.findMany({
      where: { projectId: scene.projectId },
      orderBy: { seq: 'desc' },
      take: 2,
    });
    expect(events.map((event) => event.type)).toEqual(['version.marked', 'version.saved']);
  });

  test('of an unsubmitted item is refused', async () => {
    await expect(save(ids.fastening, 1, { rows: 3, spacingIn: 12 }, scene.engineer)).rejects.toBeInstanceOf(
      Refused,
    );
  });

  test('that does not meet its checks needs a reason', async () => {
    await submit(scene);
    // One jack: 2,400 of 3,000 lb is fine; a longer span makes it 3,600 of 3,000.
    await save(ids.survey, 1, { spanIn: 216 });
    await recalculateItem(scene.deps, scene.contractor, { itemId: ids.beam });
    await expect(save(ids.support, 1, { jacks: 1 }, scene.engineer)).rejects.toThrow('Plate bearing');
    const saved = await save(ids.support, 1, { jacks: 1 }, scene.engineer, 'steel plate added');
    expect(saved.mark?.word).toBe('revised');
  });

  test('of a basis is a plain version', async () => {
    const saved = await save(ids.criteria, 1, { livePsf: 30 }, scene.engineer);
    expect(saved.mark).toBeNull();
    expect(await state(ids.criteria)).toBe('basis');
  });

  test('designs an item outright', async () => {
    const itemId = await enter(scene, 'support', 'right', { jacks: 2 }, scene.engineer);
    expect(await state(itemId)).toBe('revised');
  });
});

describe('drafts', () => {
  test('are kept for each person, overwritten by the later, and gone with the save', async () => {
    const { deps, contractor, engineer } = scene;
    await saveDraft(deps, contractor, { itemId: ids.beam, onNumber: 1, body: { plies: '4' } });
    await saveDraft(deps, contractor, { itemId: ids.beam, onNumber: 1, body: { plies: '5' } });
    expect(await loadDraft(deps, contractor, { itemId: ids.beam })).toMatchObject({ body: { plies: '5' } });
    expect(await loadDraft(deps, engineer, { itemId: ids.beam })).toBeNull();
    await save(ids.beam, 1, { plies: 4, depthIn: 9.5 });
    expect(await loadDraft(deps, contractor, { itemId: ids.beam })).toBeNull();
  });

  test('are left alone by a save that is not their form’s: a program’s', async () => {
    const { deps, contractor } = scene;
    await saveDraft(deps, contractor, { itemId: ids.fastening, onNumber: 1, body: { rows: '4' } });
    const content = { rows: 3, spacingIn: 12 };
    await useCase(deps, contractor, 'item.save', (use) =>
      addVersion(use, ids.fastening, { itemId: ids.fastening, expectedNumber: 1, content }),
    );
    const draft = await loadDraft(deps, contractor, { itemId: ids.fastening });
    expect(draft).toMatchObject({ onNumber: 1, body: { rows: '4' } });
  });

  test('survive a refused content', async () => {
    await save(ids.beam, 1, { plies: 9, depthIn: 9.5 }).catch(() => undefined);
    const draft = await loadDraft(scene.deps, scene.contractor, { itemId: ids.beam });
    expect(draft?.body).toEqual({ plies: 9, depthIn: 9.5 });
    await discardDraft(scene.deps, scene.contractor, { itemId: ids.beam });
    expect(await loadDraft(scene.deps, scene.contractor, { itemId: ids.beam })).toBeNull();
  });
});

describe('staleness', () => {
  test('a longer span makes stale what rests on it; recalculating along the load path heals it', async () => {
    await submit(scene);
    for (const itemId of [ids.beam, ids.support, ids.fastening]) await mark(scene, itemId);
    await save(ids.survey, 1, { spanIn: 216 });
    expect(await staleSentences(ids.beam)).toEqual(['survey survey, opening: span was 144 in, is 216 in']);
    expect(await staleSentences(ids.support)).toEqual(['beam beam is itself out of date']);
    expect(await state(ids.beam)).toBe('approved');

    await expect(recalculateItem(scene.deps, scene.contractor, { itemId: ids.support })).rejects.toThrow(
      'recalculate that first',
    );
    const done = await recalculateOpening(scene.deps, scene.contractor, { openingId: scene.openingId });
    expect(done.map(({ item, outcome, number }) => [item.key, outcome, number])).toEqual([
      ['beam', 'new version', 2],
      ['left', 'new version', 2],
    ]);
    expect(done[1]?.sentence).toContain('all checks are met');
    expect(await staleSentences(ids.support)).toEqual([]);
    expect(await state(ids.support)).toBe('not submitted');
    const { diff } = await compareVersions(scene.deps, scene.engineer, {
      itemId: ids.support,
      was: 1,
      now: 2,
    });
    expect(diff.grounds).toEqual(['beam beam, reaction: demand was 2,400 lb, is 3,600 lb']);
    expect(diff.summary).toContain('load 2,400 → 3,600 lb');
  });

  test('a direct ground names the figure: "demand was 2,400 lb, is 3,600 lb"', async () => {
    await save(ids.survey, 1, { spanIn: 216 });
    await recalculateItem(scene.deps, scene.contractor, { itemId: ids.beam });
    expect(await staleSentences(ids.support)).toEqual([
      'beam beam, reaction: demand was 2,400 lb, is 3,600 lb',
    ]);
  });

  test('a newer version of the ground with equal figures keeps the mark', async () => {
    await submit(scene);
    await mark(scene, ids.beam);
    await save(ids.survey, 1, { spanIn: 144, note: 'tape checked twice' });
    expect(await staleSentences(ids.beam)).toEqual([]);
    const outcome = await recalculateItem(scene.deps, scene.contractor, { itemId: ids.beam });
    expect(outcome).toMatchObject({ outcome: 'unchanged', number: 1 });
    expect(outcome.sentence).toContain('so does the mark');
    expect(await state(ids.beam)).toBe('approved');
  });

  test('the fastening rests on the plies alone: a deeper beam leaves it, another ply does not', async () => {
    await save(ids.beam, 1, { plies: 3, depthIn: 11.875 });
    expect(await staleSentences(ids.fastening)).toEqual([]);
    await save(ids.beam, 2, { plies: 4, depthIn: 11.875 });
    expect(await staleSentences(ids.fastening)).toEqual(['beam beam, plies was 3, is 4']);
  });

  test('what the engine refuses, and what rests on it, is named and stays stale', async () => {
    await save(ids.survey, 1, { spanIn: 216 });
    const narrower = testKinds();
    const refusing = {
      ...narrower,
      get: (kind: Parameters<typeof narrower.get>[0]) => {
        const definition = narrower.get(kind);
        if (kind !== 'beam') return definition;
        return { ...definition, schema: definition.schema.refine(() => false, 'No longer made.') };
      },
    };
    const deps = { ...scene.deps, kinds: refusing };
    const done = await recalculateOpening(deps, scene.contractor, { openingId: scene.openingId });
    expect(done.map(({ item, outcome }) => [item.key, outcome])).toEqual([
      ['beam', 'refused'],
      ['left', 'refused'],
      ['N1', 'refused'],
    ]);
    expect(done.map((item) => item.sentence)).toEqual([
      'No longer made.',
      'beam beam is still out of date.',
      'beam beam is still out of date.',
    ]);
  });

  test('an engineer’s recalculation awaits a mark: nobody has seen what came out', async () => {
    await submit(scene);
    await save(ids.survey, 1, { spanIn: 216 });
    await recalculateItem(scene.deps, scene.engineer, { itemId: ids.beam });
    expect(await state(ids.beam)).toBe('awaiting mark');
    await mark(scene, ids.beam, 'approved', 'a steel plate follows');
    expect(await state(ids.beam)).toBe('approved');
  });
});

describe('history', () => {
  test('pages from the newest to the first', async () => {
    for (let number = 1; number <= 4; number += 1) {
      await save(ids.fastening, number, { rows: number + 2, spacingIn: 12 });
    }
    const asked = { itemId: ids.fastening, limit: 2 };
    const numbers: number[][] = [];
    for (let before: number | null | undefined; before !== null;) {
      const page = await readHistory(scene.deps, scene.engineer, {
        ...asked,
        ...(before === undefined ? {} : { before }),
      });
      numbers.push(page.versions.map((version) => version.number));
      before = page.next;
    }
    expect(numbers).toEqual([[5, 4], [3, 2], [1]]);
  });
});

describe('new items', () => {
  test('a key that is taken is told at the field', async () => {
    await expect(enter(scene, 'fastening', 'N1', { rows: 1, spacingIn: 6 })).rejects.toBeInstanceOf(Invalid);
  });

  test('without content it is empty until it is filled in', async () => {
    const { item, version } = await createItem(scene.deps, scene.contractor, {
      openingId: scene.openingId,
      kind: 'fastening',
      key: 'N2',
      title: 'Row N2',
    });
    expect(version).toBeNull();
    expect(await state(item.itemId)).toBe('empty');
    const saved = await save(item.itemId, 0, { rows: 1, spacingIn: 6 });
    expect(saved.number).toBe(1);
  });
});
