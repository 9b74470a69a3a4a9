import type { Actor } from '../../src/actor.ts';
import { itemActs } from '../../src/demo/acts/items.ts';
import { demoRows } from '../../src/demo/cinder-ferry.ts';
import { loadDemo } from '../../src/demo/load.ts';
import type { Telling } from '../../src/demo/telling.ts';
import type { FasteningRow } from '../../src/engineering/fasteners/schedule/row.ts';
import { markMany } from '../../src/record/marks/service.ts';
import { saveVersion } from '../../src/record/versions/service.ts';
import type { Deps } from '../../src/web/deps.ts';
import { actorsOf } from './actors.ts';

export interface LongRecord {
  /** Rows of the schedule beyond those of the demo. */
  readonly furtherRows: number;
  /** How often every row of the schedule is revised, handed in and judged. */
  readonly rounds: number;
}

/** A set is issued after every so many rounds; the other rounds are returned. */
const ROUNDS_TO_A_SET = 4;

/**
 * One project with a long history, every line of it made by the use cases: the demo's house, whose finished wall gets
 * further rows, and all its rows revised, returned and approved round after round. What copies are made from.
 */
export async function tellLongRecord(deps: Deps, { furtherRows, rounds }: LongRecord): Promise<void> {
  await loadDemo(deps, 'whole');
  const { prisma } = deps;
  const project = await prisma.project.findFirstOrThrow();
  const opening = await prisma.opening.findFirstOrThrow({ where: { ordinal: 1 } });
  const as = await actorsOf(prisma, project.id);
  const telling: Telling = { deps, projectId: project.id, as, on: () => undefined, now: deps.clock };
  const acts = itemActs(telling, opening.id);
  for (let row = 1; row <= furtherRows; row += 1) {
    const [{ title, content }] = demoRows.slice(row % demoRows.length) as [(typeof demoRows)[number]];
    const key = `M${row}`;
    await acts.add('fastening', key, `${title}, ${key}`, { ...content, id: key.toLowerCase() });
  }
  for (let round = 1; round <= rounds; round += 1) {
    await reviseRows(deps, as('contractor'), opening.id, round);
    await acts.submit(`Round ${round}.`);
    await judge(deps, as('engineer'), opening.id, round % ROUNDS_TO_A_SET === 0);
    if (round % ROUNDS_TO_A_SET === 0) await acts.issue(`After round ${round}.`);
  }
  // Nobody gets letters of what never happened.
  await prisma.news.updateMany({ data: { droppedAt: deps.clock() } });
}

async function reviseRows(deps: Deps, contractor: Actor, openingId: string, round: number): Promise<void> {
  for (const { itemId, number, content } of await newestRows(deps, openingId)) {
    const row = JSON.parse(content) as FasteningRow;
    await saveVersion(deps, contractor, {
      itemId,
      expectedNumber: number,
      content: { ...row, where: `${row.where.replace(/, sheet \d+$/, '')}, sheet ${round}` },
      reason: `As asked in round ${round}.`,
    });
  }
}

async function judge(deps: Deps, engineer: Actor, openingId: string, approve: boolean): Promise<void> {
  const versions = (await newestRows(deps, openingId)).map(({ versionId, hash }) => ({
    versionId,
    hash,
    expectedMarkNumber: 0,
  }));
  const reason = approve ? 'Looked at against the design.' : 'Say from which face it is driven.';
  await markMany(deps, engineer, { versions, word: approve ? 'approved' : 'returned', reason });
}

async function newestRows({ prisma }: Deps, openingId: string) {
  const items = await prisma.item.findMany({
    where: { openingId, kind: 'fastening' },
    select: {
      id: true,
      versions: {
        orderBy: { number: 'desc' },
        take: 1,
        select: { id: true, number: true, hash: true, content: true },
      },
    },
    orderBy: { key: 'asc' },
  });
  return items.flatMap(({ id: itemId, versions: [newest] }) =>
    newest === undefined
      ? []
      : [{ itemId, versionId: newest.id, number: newest.number, hash: newest.hash, content: newest.content }],
  );
}
