import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { loadDemo } from '../../src/demo/load.ts';
import { standingsOfOpening } from '../../src/record/items/standings.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { compose } from '../../src/web/compose.ts';
import { readConfig } from '../../src/web/config.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';

let database: FreshDatabase;
let folder: string;
let projectId: string;

beforeAll(async () => {
  [database, folder] = await Promise.all([freshDatabase(), mkdtemp(path.join(tmpdir(), 'lintelbook-demo-'))]);
  const deps = compose(readConfig({ DATA_DIR: folder }), database.prisma);
  await loadDemo(deps, 'whole');
  // A second start finds it there.
  await loadDemo(deps, 'whole');
  projectId = (await database.prisma.project.findFirstOrThrow({ select: { id: true } })).id;
}, 300_000);
afterAll(async () => {
  await database.close();
  await rm(folder, { recursive: true, force: true });
});

const openingNamed = (name: string) =>
  database.prisma.opening.findFirstOrThrow({ where: { name }, select: { id: true } });
async function standings(name: string) {
  const { id } = await openingNamed(name);
  const { kinds } = compose(readConfig({ DATA_DIR: folder }), database.prisma);
  return database.prisma.$transaction((tx) => standingsOfOpening(tx, kinds, { projectId }, id));
}

it('tells a finished opening: a round of returns, a substitution, a correction, the final passed', async () => {
  const { id } = await openingNamed('Den to box room');
  const marks = await database.prisma.mark.groupBy({
    by: ['word'],
    where: { version: { item: { openingId: id } } },
    _count: true,
  });
  expect(marks.map(({ word }) => word).sort()).toEqual(['approved', 'returned', 'revised']);
  const sets = await database.prisma.approvedSet.findMany({ where: { openingId: id } });
  expect(sets.length).toBeGreaterThanOrEqual(4);
  const closings = await database.prisma.visitClosing.findMany({
    where: { visit: { openingId: id } },
    orderBy: { closedAt: 'asc' },
    select: { outcome: true, visit: { select: { kind: true } } },
  });
  expect(closings.at(-1)).toEqual({ outcome: 'passed', visit: { kind: 'final' } });
  expect(closings.map(({ outcome }) => outcome)).toContain('correction_needed');
  expect((await standings('Den to box room')).filter(({ stale }) => stale.length > 0)).toEqual([]);
});

it('tells an opening in full swing: returned row, stale support, open question, wrong delivery, a correction', async () => {
  const { id } = await openingNamed('Kitchen to pantry');
  const now = await standings('Kitchen to pantry');
  const titled = (wanted: (one: (typeof now)[number]) => boolean) =>
    now.filter(wanted).map(({ facts }) => facts.title);
  expect(titled(({ state }) => state.is === 'returned')).toHaveLength(1);
  expect(titled(({ stale }) => stale.length > 0)).toContain('Left support');
  const { prisma } = database;
  expect(await prisma.question.count({ where: { item: { openingId: id }, threadId: null } })).toBe(1);
  const wrong = await prisma.deliveryLine.findMany({
    where: { delivery: { openingId: id }, NOT: { differences: '[]' } },
  });
  expect(wrong.map((line) => line.delivered).join()).toContain('LVL 1.9E');
  const corrections = await prisma.finding.count({
    where: { visit: { openingId: id }, result: 'correction' },
  });
  expect(corrections).toBe(1);
});

it('leaves a record that holds, and no letter to anybody', async () => {
  expect((await verifyProject(database.prisma, projectId)).broken).toBeNull();
  expect(await database.prisma.letter.count()).toBe(0);
  expect(await database.prisma.news.count()).toBe(0);
});
