import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createDatabase } from '../../src/database/client.ts';
import { inTransaction, isUniqueViolation, isWriteConflict, withRetry } from '../../src/database/retry.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { asAdmin } from '../support/test-server.ts';

let database: FreshDatabase;

beforeAll(async () => {
  database = await freshDatabase();
  await asAdmin(database.url, async (client) => {
    await client.query('CREATE TABLE tally (name text PRIMARY KEY, n int NOT NULL)');
    await client.query("INSERT INTO tally VALUES ('a', 0), ('b', 0)");
  });
});
afterAll(async () => {
  await database.close();
});

const person = (email: string) => ({ email, name: 'A person', passwordHash: 'none' });

async function errorOf(work: Promise<unknown>): Promise<unknown> {
  return work.then(
    () => undefined,
    (error: unknown) => error,
  );
}

/** Holds each caller until as many as expected have arrived. */
function meetingOf(count: number): () => Promise<void> {
  let arrived = 0;
  let open: () => void = () => undefined;
  const all = new Promise<void>((done) => (open = done));
  return async () => {
    arrived += 1;
    if (arrived >= count) open();
    await all;
  };
}

test('every test database starts empty and is its own', async () => {
  const other = await freshDatabase();
  try {
    await database.prisma.person.create({ data: person('own@example.test') });
    expect(await other.prisma.person.count()).toBe(0);
    expect(other.url).not.toBe(database.url);
  } finally {
    await other.close();
  }
});

describe('write conflicts', () => {
  test('at a statement: the later writer of one row', async () => {
    const meet = meetingOf(2);
    const results = await Promise.allSettled(
      [1, 2].map(() =>
        database.prisma.$transaction(
          async (tx) => {
            await tx.person.count();
            await meet();
            await tx.person.updateMany({ data: { name: 'Renamed' } });
          },
          { isolationLevel: 'Serializable' },
        ),
      ),
    );
    const refused = results.filter((result) => result.status === 'rejected');
    expect(refused).toHaveLength(1);
    expect(refused[0]!.reason).toMatchObject({ code: 'P2034' });
    expect(isWriteConflict(refused[0]!.reason)).toBe(true);
  });

  test('at COMMIT: write skew, where neither statement fails', async () => {
    const meet = meetingOf(2);
    const read = meetingOf(2);
    const results = await Promise.allSettled(
      ['a', 'b'].map((name) =>
        database.prisma.$transaction(
          async (tx) => {
            await tx.$queryRaw`SELECT sum(n) FROM tally`;
            await read();
            await tx.$executeRaw`UPDATE tally SET n = n + 1 WHERE name = ${name}`;
            await meet();
          },
          { isolationLevel: 'Serializable' },
        ),
      ),
    );
    const refused = results.filter((result) => result.status === 'rejected');
    expect(refused).toHaveLength(1);
    expect(refused[0]!.reason).not.toHaveProperty('code', 'P2034');
    expect(isWriteConflict(refused[0]!.reason)).toBe(true);
  });

  test('in a raw query', async () => {
    const meet = meetingOf(2);
    const results = await Promise.allSettled(
      [1, 2].map(() =>
        database.prisma.$transaction(
          async (tx) => {
            await tx.$queryRaw`SELECT n FROM tally WHERE name = 'a'`;
            await meet();
            await tx.$executeRaw`UPDATE tally SET n = n + 1 WHERE name = 'a'`;
          },
          { isolationLevel: 'Serializable' },
        ),
      ),
    );
    const refused = results.filter((result) => result.status === 'rejected');
    expect(refused).toHaveLength(1);
    expect(isWriteConflict(refused[0]!.reason)).toBe(true);
  });

  test('a deadlock', async () => {
    const meet = meetingOf(2);
    const results = await Promise.allSettled(
      [
        ['a', 'b'],
        ['b', 'a'],
      ].map(([first, second]) =>
        database.prisma.$transaction(async (tx) => {
          await tx.$executeRaw`UPDATE tally SET n = n + 1 WHERE name = ${first}`;
          await meet();
          await tx.$executeRaw`UPDATE tally SET n = n + 1 WHERE name = ${second}`;
        }),
      ),
    );
    const refused = results.filter((result) => result.status === 'rejected');
    expect(refused).toHaveLength(1);
    expect(isWriteConflict(refused[0]!.reason)).toBe(true);
  });

  test('other errors are none', async () => {
    expect(isWriteConflict(new Error('TransactionWriteConflict'))).toBe(false);
    expect(isWriteConflict(await errorOf(database.prisma.$queryRaw`SELECT 1 / 0`))).toBe(false);
  });
});

test('inTransaction runs the whole closure again until every writer has counted', async () => {
  await database.prisma.$executeRaw`UPDATE tally SET n = 0`;
  let runs = 0;
  await Promise.all(
    Array.from({ length: 6 }, () =>
      inTransaction(
        database.prisma,
        async (tx) => {
          runs += 1;
          const [row] = await tx.$queryRaw<{ n: number }[]>`SELECT n FROM tally WHERE name = 'a'`;
          await tx.$executeRaw`UPDATE tally SET n = ${row!.n + 1} WHERE name = 'a'`;
        },
        { isolation: 'Serializable', attempts: 25 },
      ),
    ),
  );
  const [row] = await database.prisma.$queryRaw<{ n: number }[]>`SELECT n FROM tally WHERE name = 'a'`;
  expect(row!.n).toBe(6);
  expect(runs).toBeGreaterThan(6);
});

test('inTransaction takes everything back when the closure throws', async () => {
  const email = `${randomUUID()}@example.test`;
  const error = await errorOf(
    inTransaction(database.prisma, async (tx) => {
      await tx.person.create({ data: person(email) });
      throw new Error('thought better of it');
    }),
  );
  expect(error).toMatchObject({ message: 'thought better of it' });
  expect(await database.prisma.person.findUnique({ where: { email } })).toBeNull();
});

test('withRetry stops at the number of attempts, and at once for other errors', async () => {
  let conflicts = 0;
  const conflict = Object.assign(new Error('conflict'), { code: 'P2034' });
  const first = await errorOf(
    withRetry(
      async () => {
        conflicts += 1;
        throw conflict;
      },
      { attempts: 3 },
    ),
  );
  expect([conflicts, first]).toEqual([3, conflict]);
  let others = 0;
  await errorOf(
    withRetry(async () => {
      others += 1;
      throw new Error('other');
    }),
  );
  expect(others).toBe(1);
});

describe('unique violations', () => {
  test('are told, and told apart, by the name of the constraint', async () => {
    const email = `${randomUUID()}@example.test`;
    await database.prisma.person.create({ data: person(email) });
    const error = await errorOf(database.prisma.person.create({ data: person(email) }));
    expect(isUniqueViolation(error)).toBe(true);
    expect(isUniqueViolation(error, 'person_email_key')).toBe(true);
    expect(isUniqueViolation(error, 'person_pkey')).toBe(false);
  });

  test('of raw statements, and of an index that Prisma does not know', async () => {
    await database.prisma.$executeRaw`CREATE UNIQUE INDEX tally_one ON tally ((n > 0)) WHERE n > 900`;
    await database.prisma.$executeRaw`INSERT INTO tally VALUES ('c', 901)`;
    const error = await errorOf(database.prisma.$executeRaw`INSERT INTO tally VALUES ('d', 902)`);
    expect(isUniqueViolation(error, 'tally_one')).toBe(true);
    expect(isUniqueViolation(error, 'tally_pkey')).toBe(false);
  });

  test('are not other violations', async () => {
    const error = await errorOf(
      database.prisma.session.create({
        data: { id: 'x', personId: randomUUID(), expiresAt: new Date() },
      }),
    );
    expect(error).toBeInstanceOf(Error);
    expect(isUniqueViolation(error)).toBe(false);
  });
});

test('a statement that hangs is ended by the server, before the transaction around it', async () => {
  const settings = await database.prisma.$queryRaw<
    { statement_timeout: string }[]
  >`SELECT current_setting('statement_timeout') AS statement_timeout`;
  expect(settings).toEqual([{ statement_timeout: '10s' }]);
});

test('waiting for a free connection ends', async () => {
  const narrow = createDatabase(database.url, { connections: 1 });
  try {
    const outcome = await narrow.prisma.$transaction(async () => errorOf(narrow.prisma.$queryRaw`SELECT 1`));
    expect(outcome).toBeInstanceOf(Error);
  } finally {
    await narrow.close();
  }
});
