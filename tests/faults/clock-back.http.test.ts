import { afterAll, afterEach, beforeAll, expect, it, vi } from 'vitest';
import { countAttempt } from '../../src/people/accounts/attempts.ts';
import { SlowedDown } from '../../src/problems.ts';
import { SteadyCounts } from '../../src/web/plugins/steady-counts.ts';
import { buildHouse, type House } from '../attachments/support/house.ts';

/** The clock of the machine is set back, by an hour or a week; the log's own part is tested with the log. */
const HOUR = 3_600_000;
const DAY = 24 * HOUR;
let house: House;
beforeAll(async () => {
  house = await buildHouse();
});
afterAll(() => house.test.close());
afterEach(() => {
  vi.useRealTimers();
});

/** Only what tells the time; waiting goes on as it does. */
function setClock(byMs: number): void {
  vi.useRealTimers();
  const now = Date.now() + byMs;
  vi.useFakeTimers({ toFake: ['Date'], now });
}

it('nobody is signed out by it, and a session still ends', async () => {
  const page = `/projects/${house.projectId}`;
  expect((await house.engineer.get(page)).statusCode).toBe(200);
  setClock(-HOUR);
  expect((await house.engineer.get(page)).statusCode).toBe(200);
  setClock(31 * DAY);
  expect((await house.engineer.get(page)).statusCode).toBe(303);
});

it('what is recorded then comes after what was recorded before', async () => {
  const { contractor, projectId } = house;
  const { prisma } = house.test.deps;
  const name = async (text: string) => {
    const answer = await contractor.post(`/projects/${projectId}/openings`, { name: text });
    expect(answer.statusCode).toBe(303);
  };
  await name('Before');
  setClock(-DAY);
  await name('After');
  const events = await prisma.event.findMany({ where: { projectId }, orderBy: { seq: 'asc' } });
  const times = events.map(({ at }) => at.getTime());
  expect(times).toEqual(times.toSorted((one, other) => one - other));
  expect(events.length).toBeGreaterThan(2);
});

it('a pause for guessing a password is no longer than the longest', async () => {
  const { prisma } = house.test.deps;
  let now = new Date();
  const guess = () => countAttempt({ prisma, clock: () => now }, 'guessed@example.org');
  for (let i = 0; i < 5; i += 1) await guess();
  await expect(guess()).rejects.toThrow(SlowedDown);
  now = new Date(now.getTime() - 7 * DAY);
  // The pause that would end in a week is none that anybody set: it counts as over, and the next one is twice the first.
  await guess();
  await expect(guess()).rejects.toThrow('Wait 60 seconds');
  now = new Date(now.getTime() + 61_000);
  await guess();
});

it('the limit of requests goes by a clock that only goes forward', () => {
  let monotonic = 0;
  const counts = new SteadyCounts(undefined, () => monotonic);
  const count = () => {
    let current = 0;
    counts.incr('192.0.2.1', (_error, result) => (current = result?.current ?? 0), 60_000);
    return current;
  };
  expect([count(), count()]).toEqual([1, 2]);
  setClock(-HOUR);
  monotonic = 59_000;
  expect(count()).toBe(3);
  monotonic = 60_000;
  expect(count()).toBe(1);
  expect(counts.child()).not.toBe(counts);
});

it('a link ends when it was to end', async () => {
  const { contractor, projectId, stranger } = house;
  const made = await contractor.post(`/projects/${projectId}/invitations`, {
    role: 'owner',
    label: 'Family',
  });
  const link = /\/invitations\/[\w-]+/.exec(made.body)?.[0] ?? String(made.headers.location);
  const { prisma } = house.test.deps;
  const invitation = await prisma.invitation.findFirstOrThrow({ where: { projectId } });
  setClock(-HOUR);
  expect((await stranger.get(link)).statusCode).toBe(200);
  setClock(invitation.expiresAt.getTime() - Date.now() + HOUR);
  expect((await house.test.visitor().get(link)).statusCode).not.toBe(200);
});
