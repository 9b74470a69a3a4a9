import { buildFaultyHouse } from '../tests/support/faults/faulty-house.ts';
import { startOwnPostgres } from '../tests/support/faults/own-postgres.ts';
import { restartUnderLoad } from '../tests/support/faults/restart-run.ts';

/**
 * How long after PostgreSQL is back everything works again by itself, under work of every kind: away for half a second,
 * five and twenty. Above ten seconds it fails.
 */
const LIMIT_MS = 10_000;
const AWAY_MS = [500, 5_000, 20_000];

const postgres = await startOwnPostgres();
const house = await buildFaultyHouse(postgres.url, 'straight').catch(async (error: unknown) => {
  await postgres.close();
  throw error;
});
try {
  console.log(
    'away       a page   a write   every write   an open page   a letter   a call outside   told meanwhile',
  );
  for (const awayMs of AWAY_MS) {
    const { recovery, slowest, toldMeanwhile, problems } = await restartUnderLoad(house, postgres, awayMs);
    const { page, aWrite, everyWrite, openPage, letter, outside } = recovery;
    const cell = (ms: number, width: number) => `${(ms / 1000).toFixed(1)} s`.padStart(width);
    const told = Object.entries(toldMeanwhile).map(([status, times]) => `${times} x ${status}`);
    console.log(
      `${cell(awayMs, 6)}${cell(page, 11)}${cell(aWrite, 10)}${cell(everyWrite, 14)}${cell(openPage, 15)}${cell(letter, 11)}${cell(outside, 17)}   ${told.join(', ')}; last: ${slowest}`,
    );
    for (const problem of problems) console.log(`  ${problem}`);
    if (problems.length > 0 || [page, aWrite, openPage, letter, outside].some((ms) => ms > LIMIT_MS))
      process.exitCode = 1;
  }
} finally {
  await house.close();
  await postgres.close();
}
