import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startMailWork, type MailWork } from '../../src/notify/jobs/mail-jobs.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { readyLetter, sendDeps } from './support/sending.ts';

let database: FreshDatabase;
let work: MailWork;
beforeAll(async () => {
  database = await freshDatabase();
  work = await startMailWork(
    {
      ...sendDeps(database.prisma, '', {
        carrier: {
          async carry(_letter, handingOver) {
            await handingOver();
            return { is: 'accepted' };
          },
        },
      }),
      tell: { settled: () => undefined, later: () => undefined, failed: () => undefined },
    },
    {
      databaseUrl: database.url,
      gather: { waitMs: 3_000, dailyHour: 6 },
      pollMs: 100,
      // No sweep comes to the rescue.
      sweepMs: 3_600_000,
      jobSeconds: 30,
      maintenanceSeconds: 60,
      retrySeconds: 1,
    },
  );
});
afterAll(async () => {
  await work.close();
  await database.close();
});

/** A line for somebody who has no letter yet. */
async function newLine(): Promise<string> {
  const { letterId, personId } = await readyLetter(database.prisma);
  await database.prisma.news.updateMany({ where: { letterId }, data: { letterId: null } });
  await database.prisma.letter.delete({ where: { id: letterId } });
  return personId;
}

test('a line that came too late for one gathering has the next one to itself', async () => {
  const first = await newLine();
  work.called('lines');
  await wait(2_000);
  const second = await newLine();
  work.called('lines');
  const sent = async () => {
    const letters = await database.prisma.letter.findMany({ where: { state: 'sent' } });
    return letters.map(({ personId }) => personId).sort();
  };
  await expect.poll(sent, { timeout: 30_000 }).toEqual([first, second].sort());
}, 60_000);
