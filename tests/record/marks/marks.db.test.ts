import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Actor } from '../../../src/actor.ts';
import { Conflict, NotAllowed, NotFound, Refused } from '../../../src/problems.ts';
import { markMany, markVersion, type MarkConflict } from '../../../src/record/marks/service.ts';
import { readItem } from '../../../src/record/versions/read.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
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
});

/** What a page shows of an item: what its mark button will send. */
async function shown(itemId: string) {
  const { newest } = await readItem(scene.deps, scene.engineer, { itemId });
  const { versionId, hash, marks } = newest!;
  return { versionId, hash, expectedMarkNumber: marks.length };
}
const marksOf = (versionId: string) =>
  database.prisma.mark.findMany({ where: { versionId }, orderBy: { number: 'asc' } });
const conflictOf = async (work: Promise<unknown>) =>
  (await work.catch((error: unknown) => error)) as Conflict<MarkConflict>;

describe('nobody approves what was not seen', () => {
  test('a version saved after the page was opened: refused, both shown, nothing approved', async () => {
    await submit(scene);
    const page = await shown(ids.beam);
    await saveVersion(scene.deps, scene.contractor, {
      itemId: ids.beam,
      expectedNumber: 1,
      content: { plies: 4, depthIn: 9.5 },
    });
    const conflict = await conflictOf(markVersion(scene.deps, scene.engineer, { ...page, word: 'approved' }));
    expect(conflict).toBeInstanceOf(Conflict);
    const [refused] = conflict.detail.refused;
    expect(refused).toMatchObject({ why: 'newer version', seen: { number: 1 }, newest: { number: 2 } });
    expect(refused?.seen.content).toEqual({ plies: 3, depthIn: 9.5 });
    expect(refused?.newest.content).toEqual({ plies: 4, depthIn: 9.5 });
    expect(await database.prisma.mark.count({ where: { projectId: scene.projectId } })).toBe(0);
  });

  test('another hash: refused', async () => {
    await submit(scene);
    const page = { ...(await shown(ids.beam)), hash: '0'.repeat(64) };
    const conflict = await conflictOf(markVersion(scene.deps, scene.engineer, { ...page, word: 'approved' }));
    expect(conflict.detail.refused[0]?.why).toBe('other content');
  });

  test('before it was handed over: refused', async () => {
    const page = await shown(ids.beam);
    await expect(
      markVersion(scene.deps, scene.engineer, { ...page, word: 'approved' }),
    ).rejects.toBeInstanceOf(Refused);
  });

  test('a stale item: refused with the figures', async () => {
    await submit(scene);
    await saveVersion(scene.deps, scene.contractor, {
      itemId: ids.survey,
      expectedNumber: 1,
      content: { spanIn: 150 },
    });
    await expect(mark(scene, ids.beam)).rejects.toThrow('span was 144 in, is 150 in');
    await expect(mark(scene, ids.support)).rejects.toThrow('itself out of date');
  });

  test('many at once: one that moved keeps all of them unmarked', async () => {
    await submit(scene);
    const versions = [await shown(ids.beam), await shown(ids.fastening)];
    await saveVersion(scene.deps, scene.contractor, {
      itemId: ids.fastening,
      expectedNumber: 1,
      content: { rows: 3, spacingIn: 12 },
    });
    const conflict = await conflictOf(markMany(scene.deps, scene.engineer, { versions, word: 'approved' }));
    expect(conflict.detail.refused.map((refused) => refused.item.itemId)).toEqual([ids.fastening]);
    expect(await database.prisma.mark.count({ where: { projectId: scene.projectId } })).toBe(0);
    expect(
      await database.prisma.event.count({ where: { projectId: scene.projectId, type: 'version.marked' } }),
    ).toBe(0);
  });
});

describe('marking', () => {
  beforeEach(() => submit(scene));

  test('many at once, each by its id and hash', async () => {
    const versions = [await shown(ids.beam), await shown(ids.support), await shown(ids.fastening)];
    const outcomes = await markMany(scene.deps, scene.engineer, { versions, word: 'approved' });
    expect(outcomes.map((outcome) => outcome.item.itemId)).toEqual([ids.beam, ids.support, ids.fastening]);
    for (const { versionId, hash } of versions) {
      expect(await marksOf(versionId)).toMatchObject([{ word: 'approved', versionHash: hash, number: 1 }]);
    }
  });

  test('a double tap, and a retry by two requests at once, are one mark', async () => {
    const page = await shown(ids.beam);
    const tap = () => markVersion(scene.deps, scene.engineer, { ...page, word: 'approved' });
    const outcomes = await Promise.all([tap(), tap(), tap()]);
    outcomes.push(await tap());
    expect(new Set(outcomes.map((outcome) => outcome.markId)).size).toBe(1);
    expect(outcomes.filter((outcome) => !outcome.repeated)).toHaveLength(1);
    expect(await marksOf(page.versionId)).toHaveLength(1);
  });

  test('two engineers on one version: one word counts, the other is told', async () => {
    const page = await shown(ids.beam);
    const words = await Promise.allSettled([
      markVersion(scene.deps, scene.engineer, { ...page, word: 'approved' }),
      markVersion(scene.deps, scene.secondEngineer, { ...page, word: 'returned', reason: 'crown?' }),
    ]);
    expect(words.map((word) => word.status).sort()).toEqual(['fulfilled', 'rejected']);
    const lost = words.find((word) => word.status === 'rejected');
    expect(lost?.reason).toBeInstanceOf(Conflict);
    expect((lost?.reason as Conflict<MarkConflict>).detail.refused[0]?.why).toBe('marked meanwhile');
    expect(await marksOf(page.versionId)).toHaveLength(1);
  });

  test('an approval given in error is withdrawn by a later mark; both stay', async () => {
    await mark(scene, ids.beam);
    await mark(scene, ids.beam, 'withdrawn', 'hall is not sleeping', scene.secondEngineer);
    await mark(scene, ids.beam, 'returned', 'use 40 psf');
    const { standing, newest } = await readItem(scene.deps, scene.contractor, { itemId: ids.beam });
    expect(standing.state).toMatchObject({ is: 'returned', mark: { reason: 'use 40 psf', byName: 'K. O.' } });
    expect(newest?.marks.map(({ word, byName }) => [word, byName])).toEqual([
      ['approved', 'K. O.'],
      ['withdrawn', 'M. B.'],
      ['returned', 'K. O.'],
    ]);
  });

  test('a returned item is answered with a new version, submitted and approved', async () => {
    await mark(scene, ids.support, 'returned', 'plate crushes');
    await saveVersion(scene.deps, scene.contractor, {
      itemId: ids.support,
      expectedNumber: 1,
      content: { jacks: 3 },
      reason: 'third jack',
    });
    const { number, versions } = await submitVersions(scene.deps, scene.contractor, {
      openingId: scene.openingId,
    });
    expect(number).toBe(2);
    expect(versions.map((version) => [version.itemId, version.number])).toEqual([[ids.support, 2]]);
    await mark(scene, ids.support);
    const { standing } = await readItem(scene.deps, scene.contractor, { itemId: ids.support });
    expect(standing.state).toMatchObject({ is: 'approved', version: { number: 2 } });
  });

  test.each(['contractor', 'inspector', 'owner'] as const)('the %s may not', async (role) => {
    const page = await shown(ids.beam);
    const actor: Actor = { ...scene[role], role: 'engineer' };
    await expect(markVersion(scene.deps, actor, { ...page, word: 'approved' })).rejects.toBeInstanceOf(
      NotAllowed,
    );
  });

  test('a version of another project is not found, alone or among one’s own', async () => {
    const page = await shown(ids.beam);
    const elsewhere = await openScene(database.prisma);
    await expect(
      markVersion(scene.deps, elsewhere.engineer, { ...page, word: 'approved' }),
    ).rejects.toBeInstanceOf(NotFound);
    const theirs = await enterHouse(elsewhere);
    const foreign = await readItem(elsewhere.deps, elsewhere.engineer, { itemId: theirs.beam });
    const { versionId, hash } = foreign.newest!;
    await expect(
      markMany(scene.deps, scene.engineer, {
        versions: [page, { versionId, hash, expectedMarkNumber: 0 }],
        word: 'approved',
      }),
    ).rejects.toBeInstanceOf(NotFound);
    expect(await database.prisma.mark.count({ where: { projectId: scene.projectId } })).toBe(0);
  });

  test('an engineer whose membership ended marks no more; the marks given stay', async () => {
    await mark(scene, ids.beam);
    const page = await shown(ids.support);
    await database.prisma.membership.updateMany({
      where: { personId: scene.engineer.personId },
      data: { revokedAt: new Date() },
    });
    await expect(
      markVersion(scene.deps, scene.engineer, { ...page, word: 'approved' }),
    ).rejects.toBeInstanceOf(NotFound);
    const { standing } = await readItem(scene.deps, scene.contractor, { itemId: ids.beam });
    expect(standing.state).toMatchObject({ is: 'approved', mark: { byName: 'K. O.' } });
  });
});
