import { afterAll, beforeAll, expect, it } from 'vitest';
import { actsOf } from '../support/faults/acts.ts';
import { buildFaultyHouse, type FaultyHouse } from '../support/faults/faulty-house.ts';
import { drawPoints, killAtEach, killKinds, seeded } from '../support/faults/kill-run.ts';
import { emptyDatabase } from '../support/database.ts';

/**
 * kill -9 while files, words, versions, sets and findings come in; `scripts/bench faults` does the same at 200 points.
 * What the service said is kept is there, once, and nothing is there by half.
 */
let database: Awaited<ReturnType<typeof emptyDatabase>>;
let house: FaultyHouse;
beforeAll(async () => {
  database = await emptyDatabase();
  house = await buildFaultyHouse(database.url);
}, 240_000);
afterAll(async () => {
  await house.close();
  await database.close();
});

it('loses nothing that it acknowledged and leaves no half, wherever it is killed', async () => {
  const works = Object.keys(actsOf(house.scene));
  const points = drawPoints(6, works, seeded(20_261_126));
  expect(new Set(points.map(({ kind }) => kind))).toEqual(new Set(killKinds));
  const outcomes = await killAtEach(house, points);
  expect(outcomes.filter(({ problems }) => problems.length > 0)).toEqual([]);
  const counts = Object.values(house.scene.ledger.counts());
  expect(counts.reduce((sum, { acknowledged }) => sum + acknowledged, 0)).toBeGreaterThan(5);
}, 600_000);
