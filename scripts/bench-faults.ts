import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { startEmbeddedPostgres } from '../src/database/embedded.ts';
import { actsOf } from '../tests/support/faults/acts.ts';
import { buildFaultyHouse, type FaultyHouse } from '../tests/support/faults/faulty-house.ts';
import { leftovers, wronglyTold } from '../tests/support/faults/half-states.ts';
import {
  drawPoints,
  killAtEach,
  killKinds,
  seeded,
  type KillOutcome,
} from '../tests/support/faults/kill-run.ts';

/**
 * kill -9 at POINTS places (200), drawn by SEED (1): the service as a process of its own, PostgreSQL beside it, files,
 * words, versions, sets, findings and drafts coming in, letters and calls going out. After each: what was acknowledged
 * is there once, and nothing is there by half.
 */
const points = Number(process.argv[2] ?? 200);
const seed = Number(process.argv[3] ?? 1);
const only = process.argv[4];
if (!Number.isInteger(points) || points < 1 || !Number.isInteger(seed)) {
  console.error('Usage: scripts/bench faults [POINTS [SEED [WORK]]]');
  process.exit(2);
}

const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-bench-faults-'));
const postgres = await startEmbeddedPostgres({
  dataFolder: path.join(folder, 'postgres'),
  log: () => undefined,
  onUnexpectedEnd: (problem) => {
    throw problem;
  },
});
let house: FaultyHouse | undefined;
try {
  house = await buildFaultyHouse(postgres.url);
  await killAndTell(house);
} finally {
  await house?.close();
  await postgres.stop();
  await rm(folder, { recursive: true, force: true });
}

async function killAndTell(built: FaultyHouse): Promise<void> {
  const works = Object.keys(actsOf(built.scene));
  const drawn = drawPoints(points, only === undefined ? works : [only], seeded(seed));
  const outcomes = await killAtEach({ ...built, wholeEvery: 10, tell: line }, drawn);
  const troubles = outcomes.flatMap(({ point, problems }) =>
    problems.map((problem) => `  point ${point.number}: ${problem}`),
  );
  troubles.push(...(await untilAllIsTold(built)));

  console.log(`\nkilled            ${killKinds.map((kind) => kind.padStart(20)).join('')}`);
  for (const work of new Set(drawn.map(({ during }) => during))) {
    const counts = killKinds.map(
      (kind) => drawn.filter((one) => one.kind === kind && one.during === work).length,
    );
    console.log(work.padEnd(18) + counts.map((count) => String(count).padStart(20)).join(''));
  }
  console.log('\nwrites            acknowledged   not acknowledged, kept   not acknowledged, not kept');
  for (const [what, { acknowledged, unknownKept, unknownNotKept }] of Object.entries(
    built.scene.ledger.counts(),
  )) {
    console.log(
      what.padEnd(18) +
        String(acknowledged).padStart(12) +
        String(unknownKept).padStart(25) +
        String(unknownNotKept).padStart(29),
    );
  }
  console.log(`\nhalf-received files left for the sweep: ${(await leftovers(built.dataFolder)).length}`);
  console.log(
    troubles.length === 0 ? `${points} points, nothing lost, doubled or half` : troubles.join('\n'),
  );
  if (troubles.length > 0) process.exitCode = 1;
}

function line({ point, problems }: KillOutcome): void {
  const { number, during, kind, after } = point;
  const word = problems.length === 0 ? 'whole' : problems.join('; ');
  console.log(`${String(number).padStart(3)}  ${during}, ${kind} (${after}): ${word}`);
}

/** What a killed process was just handing over is taken up when its lease is over: 4 minutes, and the job's 5. */
async function untilAllIsTold({ scene, received }: FaultyHouse): Promise<string[]> {
  const end = Date.now() + 15 * 60_000;
  const open = async () =>
    (await scene.prisma.letter.count({ where: { settledAt: null } })) +
    (await scene.prisma.webhookCall.count({ where: { settledAt: null } })) +
    (await scene.prisma.news.count({ where: { letterId: null, droppedAt: null } }));
  while ((await open()) > 0 && Date.now() < end) await wait(2_000);
  const waiting = await open();
  const letters = await scene.prisma.letter.groupBy({ by: ['state'], _count: true });
  const calls = await scene.prisma.webhookCall.groupBy({ by: ['state'], _count: true });
  const words = (rows: { state: string; _count: number }[]) =>
    rows.map(({ state, _count }) => `${_count} ${state}`).join(', ');
  console.log(`\nletters: ${words(letters)}\ncalls outside: ${words(calls)}`);
  const wrong = await wronglyTold(scene, received());
  if (waiting > 0) wrong.push(`${waiting} letters, lines or calls still wait after a quarter of an hour`);
  return wrong;
}
