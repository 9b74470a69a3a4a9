import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countAttempt, forgetAttempts } from '../../src/people/accounts/attempts.ts';
import { SlowedDown } from '../../src/problems.ts';
import { createDatabase } from '../../src/database/client.ts';
import { startTestApp, testPassword, type TestApp } from '../support/app.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';

/** A clock that stands until it is moved. */
function handClock() {
  let now = Date.parse('2026-11-25T08:00:00Z');
  return { clock: () => new Date(now), advanceS: (seconds: number) => (now += seconds * 1000) };
}

describe('sign-ins that fail, by address', () => {
  let database: FreshDatabase;
  beforeAll(async () => {
    database = await freshDatabase();
  });
  afterAll(() => database.close());

  const waitOf = async (attempt: Promise<void>) => {
    const error = await attempt.then(
      () => null,
      (thrown: unknown) => thrown,
    );
    return error instanceof SlowedDown ? error.waitSeconds : 0;
  };

  it('pauses after the fifth for 30 s, and twice as long after each further one, up to 15 minutes', async () => {
    const { clock, advanceS } = handClock();
    const deps = { prisma: database.prisma, clock };
    for (let attempt = 0; attempt < 5; attempt += 1) {
      expect(await waitOf(countAttempt(deps, 'one@example.org'))).toBe(0);
    }
    for (const pause of [30, 60, 120, 240, 480, 900, 900]) {
      expect(await waitOf(countAttempt(deps, ' One@example.org'))).toBe(pause);
      advanceS(pause - 1);
      // Asking again meanwhile makes the pause no longer.
      expect(await waitOf(countAttempt(deps, 'one@example.org'))).toBe(1);
      advanceS(1);
      expect(await waitOf(countAttempt(deps, 'one@example.org'))).toBe(0);
    }
    expect(await waitOf(countAttempt(deps, 'two@example.org'))).toBe(0);
    advanceS(3601);
    for (let attempt = 0; attempt < 5; attempt += 1) {
      expect(await waitOf(countAttempt(deps, 'one@example.org'))).toBe(0);
    }
    expect(await waitOf(countAttempt(deps, 'one@example.org'))).toBe(30);
    await forgetAttempts(deps, 'one@example.org');
    expect(await waitOf(countAttempt(deps, 'one@example.org'))).toBe(0);
  });

  it('lets no more through when many come at once, from several processes', async () => {
    const { clock } = handClock();
    const second = createDatabase(database.url);
    const clients = [database.prisma, second.prisma];
    const waits = await Promise.all(
      Array.from({ length: 40 }, (_, place) =>
        waitOf(countAttempt({ prisma: clients[place % 2]!, clock }, 'many@example.org')),
      ),
    );
    await second.close();
    expect(waits.filter((wait) => wait === 0)).toHaveLength(5);
    const rows = await database.prisma.signInAttempt.findMany({ where: { attempts: 5 } });
    expect(rows).toHaveLength(1);
    // The table holds no address.
    expect(JSON.stringify(rows)).not.toContain('many@');
  });
});

describe('the sign-in page', () => {
  let test: TestApp;
  beforeAll(async () => {
    test = await startTestApp();
  });
  afterAll(() => test.close());

  it('says the same of a known and an unknown address, and refuses even the right password meanwhile', async () => {
    await test
      .visitor()
      .post('/sign-up', { name: 'Known', email: 'known@example.org', password: testPassword });
    const pages = [];
    for (const email of ['known@example.org', 'unknown@example.org']) {
      const client = test.visitor();
      for (let attempt = 0; attempt < 5; attempt += 1) {
        const answer = await client.post('/sign-in', { email, password: 'not that one' });
        expect(answer.statusCode).toBe(422);
      }
      const answer = await client.post('/sign-in', { email, password: testPassword });
      expect(answer.statusCode).toBe(429);
      expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0);
      pages.push(
        answer.body
          .replaceAll(email, 'E')
          .replaceAll(/value="[^"]*"/g, '')
          .replaceAll(/Wait \d+/g, 'Wait N'),
      );
    }
    expect(pages[0]).toContain('Too many sign-ins with this address have failed.');
    expect(pages[1]).toBe(pages[0]);
    await test.deps.prisma.signInAttempt.updateMany({ data: { barredUntil: new Date(0) } });
    const right = await test
      .visitor()
      .post('/sign-in', { email: 'known@example.org', password: testPassword });
    expect(right.statusCode).toBe(303);
    expect(await test.deps.prisma.signInAttempt.count()).toBe(1);
  });
});
