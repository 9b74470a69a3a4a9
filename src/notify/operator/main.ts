import PgBoss from 'pg-boss';
import type { PrismaClient } from '../../database/generated/client.ts';
import { createDatabase } from '../../database/client.ts';
import { JOBS_SCHEMA, SEND_QUEUE } from '../jobs/mail-jobs.ts';
import { isId } from '../../record/identifier.ts';

/**
 * scripts/mail, for whoever runs the service: what could not be sent or may not have been, and to send one again.
 * Needs DATABASE_URL. Ends with 1 where something is listed, so that a monitor can call it.
 */
const usage =
  'Usage: scripts/mail            lists letters that failed, or of which nobody knows\n       scripts/mail again ID   puts one into the outbox again\n';

export async function listTroubled(prisma: PrismaClient): Promise<string[]> {
  const letters = await prisma.letter.findMany({
    where: { state: { in: ['failed', 'unsure'] } },
    orderBy: { settledAt: 'asc' },
    include: { person: { select: { email: true } } },
  });
  return letters.map(({ id, kind, state, attempts, settledAt, problem, person, toAddress }) => {
    const to = person?.email ?? (toAddress === '' ? 'nobody' : toAddress);
    return `${id}  ${state.padEnd(6)}  ${settledAt?.toISOString() ?? ''}  ${kind} to ${to}, ${attempts} tried  ${problem}`;
  });
}

/** @returns false where there is no such letter among the failed and unsure ones. */
export async function sendAgain(
  prisma: PrismaClient,
  databaseUrl: string,
  letterId: string,
): Promise<boolean> {
  const boss = new PgBoss({
    connectionString: databaseUrl,
    schema: JOBS_SCHEMA,
    max: 1,
    supervise: false,
    schedule: false,
    migrate: false,
  });
  boss.on('error', () => undefined);
  await boss.start();
  try {
    await boss.deleteJob(SEND_QUEUE, letterId);
    const { count } = await prisma.letter.updateMany({
      where: { id: letterId, state: { in: ['failed', 'unsure'] } },
      // The count of attempts goes on, so that nobody who still has the old attempt can settle this one.
      data: { state: 'ready', settledAt: null, problem: '' },
    });
    if (count === 1) await boss.send(SEND_QUEUE, { letterId }, { id: letterId });
    return count === 1;
  } finally {
    await boss.stop({ graceful: false });
  }
}

async function main(args: readonly string[]): Promise<number> {
  const [verb, letterId] = args;
  const databaseUrl = process.env.DATABASE_URL;
  if (databaseUrl === undefined || (verb !== undefined && (verb !== 'again' || letterId === undefined))) {
    process.stderr.write(databaseUrl === undefined ? 'Set DATABASE_URL.\n' : usage);
    return 2;
  }
  const database = createDatabase(databaseUrl);
  try {
    if (verb === 'again' && letterId !== undefined) {
      const done = isId(letterId) && (await sendAgain(database.prisma, databaseUrl, letterId));
      process.stdout.write(
        done ? 'It is in the outbox again.\n' : 'There is no such letter to send again.\n',
      );
      return done ? 0 : 1;
    }
    const lines = await listTroubled(database.prisma);
    process.stdout.write(lines.length === 0 ? 'Every letter went out.\n' : `${lines.join('\n')}\n`);
    return lines.length === 0 ? 0 : 1;
  } finally {
    await database.close();
  }
}

if (process.argv[1] === import.meta.filename) process.exitCode = await main(process.argv.slice(2));
