import type { PrismaClient } from '../../database/generated/client.ts';
import { Prisma } from '../../database/generated/client.ts';
import type { Transaction } from '../events/append.ts';
import { checkedEvents } from './chain.ts';
import { Broken, type Break, type VerifiedProject } from './report.ts';
import { checkChecklists, checkSets, checkUnrecordedChecks } from './sets.ts';
import { checkShared, checkStrays } from './strays.ts';
import { checkTables } from './tables.ts';
import { checkMarks, checkSubmissions, checkVersions } from './versions.ts';

/** Long records take their time; a person waits for this, no page does. */
const LIMIT_MS = 30 * 60_000;

/**
 * Recomputes a project's whole record: the chain of events, then each row that an event recorded, then rows
 * without an event. It reads one picture of the database (repeatable read), so that people may go on working, and a
 * few rows of it at a time, so that the length of the record does not matter.
 *
 * What it can't see: a log rewritten from some line on to its end, rows and hashes and all. Against that the head
 * it reports, and the one frozen into every approved set, are kept outside of the database in prints.
 *
 * @returns the counts, and the first break in the order of the log, or null where everything holds.
 */
export async function verifyProject(prisma: PrismaClient, projectId: string): Promise<VerifiedProject> {
  return prisma.$transaction((tx) => verifyWithin(tx, projectId), {
    isolationLevel: Prisma.TransactionIsolationLevel.RepeatableRead,
    timeout: LIMIT_MS,
  });
}

/** The same within a transaction that may have written the record itself. */
export async function verifyWithin(tx: Transaction, projectId: string): Promise<VerifiedProject> {
  const counts = { events: 0, versions: 0, marks: 0, sets: 0 };
  let head: VerifiedProject['head'] = null;
  let broken: Break | null = null;
  // A look over the whole log may take longer than any page's statement may.
  await tx.$executeRaw`SET LOCAL statement_timeout = 0`;
  try {
    for await (const events of checkedEvents(tx, projectId)) {
      counts.events += events.length;
      counts.versions += await checkVersions(tx, events);
      counts.marks += await checkMarks(tx, events);
      await checkSubmissions(tx, events);
      counts.sets += await checkSets(tx, events);
      await checkChecklists(tx, events);
      await checkTables(tx, events);
      const last = events.at(-1);
      if (last) head = { seq: last.seq, hash: last.hash };
    }
    await checkStrays(tx, projectId);
    await checkUnrecordedChecks(tx, projectId);
    await checkShared(tx, projectId);
  } catch (error) {
    if (!(error instanceof Broken)) throw error;
    broken = error.broken;
  }
  return { projectId, ...counts, head, broken };
}
