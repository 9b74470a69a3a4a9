import { randomUUID } from 'node:crypto';
import type { MailChoice, PrismaClient } from '../../database/generated/client.ts';
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
 * @returns how many letters were made, and whether lines are left that go at once, but have not waited long enough yet.
 */
export async function gather(
  prisma: PrismaClient,
  now: Date,
  options: GatherOptions,
): Promise<{ readonly made: number; readonly left: boolean }> {
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
    let letter;
    do {
      letter = await inTransaction(prisma, (tx) => gatherFor(tx, personId, now, daily));
      if (letter.made) made += 1;
    } while (letter.made && letter.full);
  }
  const [{ left } = { left: false }] = await prisma.$queryRaw<{ left: boolean }[]>`
    SELECT EXISTS (
      SELECT 1 FROM news JOIN person ON person.id = news.person_id
      WHERE news.letter_id IS NULL AND news.dropped_at IS NULL
        AND person.mail_choice = 'at_once' AND person.closed_at IS NULL AND person.email IS NOT NULL
    ) AS left`;
  return { made, left };
}

interface Waiting {
  readonly id: string;
  readonly stillThere: boolean;
  readonly createdAt: Date;
  readonly mailChoice: MailChoice;
  /** The account is open, and its person wants mail. */
  readonly wanted: boolean;
  readonly hasAddress: boolean;
}

/** `full`: the letter's lines may have left some behind. */
async function gatherFor(
  tx: Transaction,
  personId: string,
  now: Date,
  daily: Date,
): Promise<{ readonly made: boolean; readonly full: boolean }> {
  const waiting = await tx.$queryRaw<Waiting[]>`
    SELECT news.id, news.created_at AS "createdAt",
      EXISTS (SELECT 1 FROM membership WHERE membership.project_id = news.project_id
        AND membership.person_id = news.person_id AND membership.role = news.role
        AND membership.revoked_at IS NULL) AS "stillThere",
      person.mail_choice::text AS "mailChoice",
      person.closed_at IS NULL AND person.mail_choice <> 'none' AS wanted,
      person.email IS NOT NULL AS "hasAddress"
    FROM news JOIN person ON person.id = news.person_id
    WHERE news.person_id = ${personId}::uuid AND news.letter_id IS NULL AND news.dropped_at IS NULL
    ORDER BY news.created_at, news.id
    LIMIT ${LINES_IN_A_LETTER}
    FOR UPDATE OF news SKIP LOCKED`;
  const gone = waiting.filter((line) => !line.wanted || !line.stillThere).map(({ id }) => id);
  if (gone.length > 0) await tx.news.updateMany({ where: { id: { in: gone } }, data: { droppedAt: now } });
  const lines = waiting.filter(
    (line) =>
      line.wanted &&
      line.stillThere &&
      line.hasAddress &&
      (line.mailChoice === 'at_once' || line.createdAt < daily),
  );
  const [first] = lines;
  const full = waiting.length === LINES_IN_A_LETTER;
  if (first === undefined) return { made: false, full };
  const letterId = randomUUID();
  const kind = first.mailChoice === 'daily' ? 'daily' : 'news';
  await tx.letter.create({
    data: { id: letterId, key: `news ${first.id}`, kind, personId, createdAt: now },
  });
  await tx.news.updateMany({ where: { id: { in: lines.map(({ id }) => id) } }, data: { letterId } });
  return { made: true, full };
}
