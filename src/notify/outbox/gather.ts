import { randomUUID } from 'node:crypto';
import type { PrismaClient } from '../../database/generated/client.ts';
import { inTransaction } from '../../database/retry.ts';
import type { Transaction } from '../../record/events/append.ts';
import { lastDailyMoment } from './digest-time.ts';

export interface GatherOptions {
  /** How long a line waits for others, so that six marks in a row are one letter. */
  readonly waitMs: number;
  /** Hour of the day at which daily letters go. */
  readonly dailyHour: number;
}

/** A letter tells so much; more lines go into the next one. */
const LINES_IN_A_LETTER = 200;

/**
 * Makes letters of the lines that are due: one for each person, with everything that waits for that person. Two
 * processes at once don't make two: the lines are locked while they are put into a letter, and the letter's key holds
 * the first of them.
 *
 * @returns how many letters were made.
 */
export async function gather(prisma: PrismaClient, now: Date, options: GatherOptions): Promise<number> {
  const waitedSince = new Date(now.getTime() - options.waitMs);
  const daily = lastDailyMoment(now, options.dailyHour);
  // A line is due by its person's choice of this moment, not of the moment when it was written.
  const due = await prisma.$queryRaw<{ personId: string }[]>`
    SELECT DISTINCT news.person_id AS "personId"
    FROM news JOIN person ON person.id = news.person_id
    WHERE news.letter_id IS NULL AND news.dropped_at IS NULL
      AND (person.mail_choice = 'none' OR person.closed_at IS NOT NULL
        OR (person.mail_choice = 'at_once' AND news.created_at <= ${waitedSince})
        OR (person.mail_choice = 'daily' AND news.created_at < ${daily}))`;
  let made = 0;
  for (const { personId } of due) {
    if (await inTransaction(prisma, (tx) => gatherFor(tx, personId, now, daily))) made += 1;
  }
  return made;
}

interface Waiting {
  readonly id: string;
  readonly stillThere: boolean;
  readonly createdAt: Date;
}

async function gatherFor(tx: Transaction, personId: string, now: Date, daily: Date): Promise<boolean> {
  const waiting = await tx.$queryRaw<Waiting[]>`
    SELECT news.id, news.created_at AS "createdAt",
      EXISTS (SELECT 1 FROM membership WHERE membership.project_id = news.project_id
        AND membership.person_id = news.person_id AND membership.role = news.role
        AND membership.revoked_at IS NULL) AS "stillThere"
    FROM news
    WHERE news.person_id = ${personId}::uuid AND news.letter_id IS NULL AND news.dropped_at IS NULL
    ORDER BY news.created_at, news.id
    LIMIT ${LINES_IN_A_LETTER}
    FOR UPDATE SKIP LOCKED`;
  const person = await tx.person.findUnique({
    where: { id: personId },
    select: { mailChoice: true, closedAt: true, email: true },
  });
  const wanted = person !== null && person.closedAt === null && person.mailChoice !== 'none';
  const gone = waiting.filter((line) => !wanted || !line.stillThere).map(({ id }) => id);
  if (gone.length > 0) await tx.news.updateMany({ where: { id: { in: gone } }, data: { droppedAt: now } });
  if (!wanted || person.email === null) return false;
  const lines = waiting.filter(
    (line) => line.stillThere && (person.mailChoice === 'at_once' || line.createdAt < daily),
  );
  const [first] = lines;
  if (first === undefined) return false;
  const letterId = randomUUID();
  const kind = person.mailChoice === 'daily' ? 'daily' : 'news';
  await tx.letter.create({
    data: { id: letterId, key: `news ${first.id}`, kind, personId, createdAt: now },
  });
  await tx.news.updateMany({ where: { id: { in: lines.map(({ id }) => id) } }, data: { letterId } });
  return true;
}
