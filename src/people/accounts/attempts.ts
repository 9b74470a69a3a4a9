import { createHash } from 'node:crypto';
import type { Clock } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { SlowedDown } from '../../problems.ts';

export interface AttemptDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
}

/** Wrong passwords in a row before the first pause; then each one doubles it, up to the longest. */
const FREE = 5;
const FIRST_PAUSE_S = 30;
const LONGEST_PAUSE_S = 900;
/** After this long without an attempt the count begins anew. */
const FORGOTTEN_AFTER_S = 3600;

/**
 * Every address is counted alike, whether there is such an account or not, so that a pause reveals nothing. The log
 * names an address that was tried by this hash, too: what is typed there may be a password in the wrong box.
 */
export function addressHash(email: string): string {
  return createHash('sha256').update(email.trim().toLowerCase()).digest('hex');
}

/**
 * Counts an attempt to sign in, before the password is looked at: of many at once, in however many processes, no
 * more than the free ones get through. `forgetAttempts` takes the count back once one succeeds. What is counted is an
 * address, or whatever else is guessed at (`codesOf`).
 *
 * @throws SlowedDown while the address pauses, in the words given
 */
export async function countAttempt(
  { prisma, clock }: AttemptDeps,
  email: string,
  words: (wait: string) => string = tooManyPasswords,
): Promise<void> {
  const now = clock();
  const address = addressHash(email);
  const forgotten = new Date(now.getTime() - FORGOTTEN_AFTER_S * 1000);
  const counted = await prisma.$executeRaw`
    INSERT INTO sign_in_attempt AS a (address_hash, attempts, last_at, barred_until)
    VALUES (${address}, 1, ${now}, NULL)
    ON CONFLICT (address_hash) DO UPDATE SET
      attempts = CASE WHEN a.last_at < ${forgotten} THEN 1 ELSE a.attempts + 1 END,
      last_at = ${now},
      barred_until = CASE WHEN a.last_at < ${forgotten} OR a.attempts + 1 < ${FREE}::int THEN NULL ELSE
        ${now}::timestamptz + make_interval(secs => LEAST(
          ${LONGEST_PAUSE_S}::float8,
          ${FIRST_PAUSE_S}::float8 * power(2, LEAST(a.attempts + 1 - ${FREE}::int, 20)))) END
    WHERE a.barred_until IS NULL OR a.barred_until <= ${now}
      -- Longer than any pause: the clock was set back since, and nobody is to wait for it to catch up.
      OR a.barred_until > ${now}::timestamptz + make_interval(secs => ${LONGEST_PAUSE_S}::float8)`;
  if (counted > 0) return;
  const row = await prisma.signInAttempt.findUnique({ where: { addressHash: address } });
  const left = Math.ceil(((row?.barredUntil?.getTime() ?? now.getTime()) - now.getTime()) / 1000);
  throw new SlowedDown(words(waitWords(left)), left);
}

/** Somebody signed in under the address: what was counted is done with, and so is what is long past. */
export async function forgetAttempts({ prisma, clock }: AttemptDeps, email: string): Promise<void> {
  const forgotten = new Date(clock().getTime() - FORGOTTEN_AFTER_S * 1000);
  await prisma.signInAttempt.deleteMany({
    where: { OR: [{ addressHash: addressHash(email) }, { lastAt: { lt: forgotten } }] },
  });
}

/** Codes are counted by themselves: the right password before each of them takes nothing back. */
export function codesOf(personId: string): string {
  return `codes of ${personId}`;
}

function tooManyPasswords(wait: string): string {
  return `Too many sign-ins with this address have failed. Wait ${wait}, then try again; until then no password is looked at.`;
}

function waitWords(seconds: number): string {
  const minutes = Math.ceil(seconds / 60);
  return seconds <= 60 ? `${seconds} seconds` : `${minutes} minutes`;
}
