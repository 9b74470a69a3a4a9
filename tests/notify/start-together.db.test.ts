import { afterAll, beforeAll, expect, it } from 'vitest';
import { createDatabase, type Database } from '../../src/database/client.ts';
import { ordinaryWork, startMailWork, type MailWork } from '../../src/notify/jobs/mail-jobs.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { sendDeps } from './support/sending.ts';

let database: FreshDatabase;
const clients: Database[] = [];
const works: MailWork[] = [];
beforeAll(async () => {
  database = await freshDatabase();
});
afterAll(async () => {
  await Promise.all(works.map((work) => work.close()));
  await Promise.all(clients.map((client) => client.close()));
  await database.close();
});

it('eight sets of workers that start at once on a new database all come up', async () => {
  const failures: unknown[] = [];
  const started = await Promise.allSettled(
    Array.from({ length: 8 }, async () => {
      const client = createDatabase(database.url, { connections: 2 });
      clients.push(client);
      const work = await startMailWork(
        {
          ...sendDeps(client.prisma, 'smtp://localhost:1'),
          tell: {
            settled: () => undefined,
            later: () => undefined,
            failed: (error) => failures.push(error),
          },
        },
        { databaseUrl: database.url, gather: { waitMs: 0, dailyHour: 6 }, ...ordinaryWork },
      );
      works.push(work);
    }),
  );
  expect(started.filter(({ status }) => status === 'rejected')).toEqual([]);
  expect(failures).toEqual([]);
});
