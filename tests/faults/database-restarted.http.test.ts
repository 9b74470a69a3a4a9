import { afterAll, beforeAll, expect, it } from 'vitest';
import { buildFaultyHouse, type FaultyHouse } from '../support/faults/faulty-house.ts';
import { startOwnPostgres, type OwnPostgres } from '../support/faults/own-postgres.ts';
import { restartUnderLoad, type AwayAnswers } from '../support/faults/restart-run.ts';

/** PostgreSQL goes away and comes back while people work; `scripts/bench faults` measures how long it takes. */
let postgres: OwnPostgres;
let house: FaultyHouse;
beforeAll(async () => {
  postgres = await startOwnPostgres();
  house = await buildFaultyHouse(postgres.url, 'straight');
}, 240_000);
afterAll(async () => {
  await house.close();
  await postgres.close();
});

it('says so meanwhile, loses nothing, and everything works again without a restart of the service', async () => {
  let meanwhile: AwayAnswers | undefined;
  const { recovery, toldMeanwhile, problems } = await restartUnderLoad(house, postgres, 500, (answers) => {
    meanwhile = answers;
  });
  expect(problems).toEqual([]);
  expect(meanwhile?.page).toMatchObject({ status: 503, retryAfter: '5' });
  expect(meanwhile?.page.html).toContain('The record can’t be reached');
  expect(meanwhile?.page.html).toContain('kept whole or not at all');
  expect(meanwhile?.program).toMatchObject({
    status: 503,
    retryAfter: '5',
    type: 'application/problem+json; charset=utf-8',
  });
  expect(meanwhile?.program.body.type).toMatch(/\/api#unavailable$/);
  expect(meanwhile).toMatchObject({ asset: 200, health: 503 });
  expect(Object.keys(toldMeanwhile)).toEqual(['503']);
  // A page, every kind of write, an open page, a letter, a call outside: each worked again.
  for (const ms of Object.values(recovery)) expect(ms).toBeGreaterThan(0);
}, 240_000);
