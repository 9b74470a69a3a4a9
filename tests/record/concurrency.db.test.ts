import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Actor } from '../../src/actor.ts';
import type { Prisma } from '../../src/database/generated/client.ts';
import { Conflict, Refused } from '../../src/problems.ts';
import { markVersion } from '../../src/record/marks/service.ts';
import { submitVersions } from '../../src/record/submissions/service.ts';
import type { RecordDeps } from '../../src/record/use-case.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { readItem } from '../../src/record/versions/read.ts';
import { saveVersion } from '../../src/record/versions/service.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { enter, openScene, type Scene } from './support/scene.ts';

/**
 * Rounds, over both levels, in each of which four people look at one of two items and press a button at the same
 * time; LINTELBOOK_INTERLEAVINGS asks for more.
 */
const INTERLEAVINGS = Number(process.env.LINTELBOOK_INTERLEAVINGS ?? '120');
/** Generous: a slow machine must not fail a test about correctness. */
const LIMIT_MS = Math.max(180_000, INTERLEAVINGS * 1_000);

let database: FreshDatabase;
beforeAll(async () => {
  database = await freshDatabase();
});
afterAll(() => database.close());

/** A small generator (mulberry32), so that a failing run can be run again by its seed. */
function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

interface SeenPage {
  readonly versionId: string;
  readonly number: number;
  readonly hash: string;
  readonly marks: number;
}

/** What a request did, for the reckoning at the end. */
type Deed =
  | {
      readonly did: 'saved';
      readonly itemId: string;
      readonly onNumber: number;
      readonly caption: string;
      readonly number: number;
    }
  | { readonly did: 'marked'; readonly itemId: string; readonly seen: SeenPage; readonly markId: string }
  | { readonly did: 'submitted' }
  | { readonly did: 'lost'; readonly why: string };

interface Round {
  readonly scene: Scene;
  readonly deps: RecordDeps;
  readonly itemIds: readonly string[];
  readonly draw: () => number;
  /** Told apart from all others, so that a lost text is missed. */
  readonly nextCaption: () => string;
}

/** One look in so many goes through all that the item's page reads; the others read what its form carries. */
const WHOLE_PAGE_EVERY = 8;

async function look(round: Round, actor: Actor, itemId: string): Promise<SeenPage> {
  if (round.draw() * WHOLE_PAGE_EVERY < 1) {
    const { newest } = await readItem(round.deps, actor, { itemId });
    const { versionId, number, hash, marks } = newest!;
    return { versionId, number, hash, marks: marks.length };
  }
  // One statement, as old or as new as the page's own reading: that is where most of the time of a round went.
  const [seen] = await round.deps.prisma.$queryRaw<SeenPage[]>`
    SELECT id AS "versionId", number, hash,
           (SELECT count(*)::int FROM mark WHERE version_id = version.id) AS marks
    FROM version WHERE item_id = ${itemId}::uuid ORDER BY number DESC LIMIT 1`;
  return seen!;
}

/** One person looks at an item, thinks for a moment, and presses a button. */
async function act(round: Round, actor: Actor): Promise<Deed> {
  const { deps, draw, scene } = round;
  const itemId = round.itemIds[Math.floor(draw() * round.itemIds.length)]!;
  const seen = await look(round, actor, itemId);
  await wait(draw() * 6);
  const chance = draw();
  try {
    if (actor.role === 'contractor' && chance < 0.3) {
      await submitVersions(deps, actor, { openingId: scene.openingId });
      return { did: 'submitted' };
    }
    if (actor.role === 'contractor' || chance < 0.3) {
      const caption = round.nextCaption();
      const saved = await saveVersion(deps, actor, {
        itemId,
        expectedNumber: seen.number,
        content: { caption },
        reason: 'changed',
      });
      return { did: 'saved', itemId, onNumber: seen.number, caption, number: saved.number };
    }
    const { markId } = await markVersion(deps, actor, {
      versionId: seen.versionId,
      hash: seen.hash,
      expectedMarkNumber: seen.marks,
      word: chance < 0.7 ? 'approved' : chance < 0.85 ? 'returned' : 'withdrawn',
      reason: 'because',
    });
    return { did: 'marked', itemId, seen, markId };
  } catch (error) {
    // Being told of the other is a proper outcome; anything else is a fault.
    if (error instanceof Conflict || error instanceof Refused) return { did: 'lost', why: error.message };
    throw error;
  }
}

async function run(isolation: Prisma.TransactionIsolationLevel, rounds: number, seed: number) {
  const scene = await openScene(database.prisma);
  const deps: RecordDeps = { ...scene.deps, isolation };
  const itemIds = [
    await enter(scene, 'drawing', 'A1', { caption: 'first' }),
    await enter(scene, 'drawing', 'A2', { caption: 'first' }),
  ];
  await submitVersions(scene.deps, scene.contractor, { openingId: scene.openingId });
  let captions = 0;
  const draw = random(seed);
  const round: Round = { scene, deps, itemIds, draw, nextCaption: () => `text ${(captions += 1)}` };
  const deeds: Deed[] = [];
  for (let count = 0; count < rounds; count += 1) {
    const people = [scene.contractor, scene.engineer, scene.secondEngineer, scene.contractor];
    deeds.push(...(await Promise.all(people.map((person) => act(round, person)))));
  }
  return { scene, itemIds, deeds };
}

describe.each([
  ['ReadCommitted', 20261],
  ['Serializable', 20262],
] as const)('at %s', (isolation, seed) => {
  test(
    'no save is lost, nothing unseen is approved, the log holds',
    async () => {
      const { scene, itemIds, deeds } = await run(isolation, Math.ceil(INTERLEAVINGS / 2), seed);
      const { prisma } = database;
      const { projectId } = scene;
      const versions = await prisma.version.findMany({ where: { projectId }, orderBy: { number: 'asc' } });
      const events = await prisma.event.findMany({ where: { projectId }, orderBy: { seq: 'asc' } });
      const saved = deeds.flatMap((deed) => (deed.did === 'saved' ? [deed] : []));
      const marked = deeds.flatMap((deed) => (deed.did === 'marked' ? [deed] : []));
      const byId = new Map(versions.map((version) => [version.id, version]));
      const byPlace = new Map(versions.map((version) => [`${version.itemId} ${version.number}`, version]));
      const markedBy = new Map(marked.map((deed) => [deed.markId, deed]));
      if (INTERLEAVINGS > 1_000) {
        const lost = deeds.filter((deed) => deed.did === 'lost').length;
        console.log(
          `${isolation}: ${deeds.length} presses, ${saved.length} saves, ${marked.length} marks, ${lost} told of the other, ${events.length} events`,
        );
      }

      // The rounds did collide, and did get somewhere: else this proves nothing. Of 60 rounds about 80 presses save and
      // 20 mark, more or fewer by chance.
      expect(saved.length).toBeGreaterThan(10);
      expect(marked.length).toBeGreaterThan(2);
      expect(deeds.filter((deed) => deed.did === 'lost').length).toBeGreaterThan(10);

      // No lost update: each save is the one version after the one that was seen, with the very text.
      for (const { itemId, onNumber, caption, number } of saved) {
        expect(number).toBe(onNumber + 1);
        const version = byPlace.get(`${itemId} ${number}`);
        expect(version?.content).toBe(JSON.stringify({ caption }));
      }
      for (const itemId of itemIds) {
        const numbers = versions
          .filter((version) => version.itemId === itemId)
          .map((version) => version.number);
        const saves = saved.filter((deed) => deed.itemId === itemId).length;
        expect(numbers).toEqual(Array.from({ length: saves + 1 }, (_, index) => index + 1));
      }

      // No word on what was not seen: in the order of the log, each approval and return names the version that was
      // newest at that moment, and it is the one that the engineer had looked at, by its hash.
      const newest = new Map<string, string>();
      const submitted = new Set<string>();
      for (const event of events) {
        const said = JSON.parse(event.payload) as Record<string, string> & {
          versions?: { versionId: string }[];
        };
        if (event.type === 'version.saved') newest.set(said.itemId!, said.versionId!);
        if (event.type === 'versions.submitted')
          for (const one of said.versions!) submitted.add(one.versionId);
        if (event.type !== 'version.marked') continue;
        const version = byId.get(said.versionId!)!;
        expect(said.versionHash).toBe(version.hash);
        const deed = markedBy.get(said.markId!);
        if (said.word === 'revised') {
          expect(version.authorId).toBe(said.byId);
        } else {
          expect(deed?.seen).toMatchObject({ versionId: version.id, hash: version.hash });
          expect(Number(said.number)).toBe(deed!.seen.marks + 1);
        }
        if (said.word === 'approved' || said.word === 'returned') {
          expect(newest.get(said.itemId!)).toBe(version.id);
          expect(submitted.has(version.id) || version.authorRole === 'engineer').toBe(true);
        }
      }
      expect(new Set(marked.map((deed) => deed.markId)).size).toBe(
        events.filter(
          (event) => event.type === 'version.marked' && !event.payload.includes('"word":"revised"'),
        ).length,
      );

      expect((await verifyProject(prisma, projectId)).broken).toBeNull();
    },
    LIMIT_MS,
  );
});

test(
  'fifty at once on one version: one is saved, the others are told',
  async () => {
    const scene = await openScene(database.prisma);
    const itemId = await enter(scene, 'drawing', 'A1', { caption: 'first' });
    const outcomes = await Promise.allSettled(
      Array.from({ length: 50 }, (_, index) =>
        saveVersion(scene.deps, scene.contractor, {
          itemId,
          expectedNumber: 1,
          content: { caption: `text ${index}` },
        }),
      ),
    );
    const won = outcomes.filter((outcome) => outcome.status === 'fulfilled');
    expect(won).toHaveLength(1);
    for (const outcome of outcomes) {
      if (outcome.status === 'rejected') expect(outcome.reason).toBeInstanceOf(Conflict);
    }
    expect(await database.prisma.version.count({ where: { itemId } })).toBe(2);
  },
  LIMIT_MS,
);
