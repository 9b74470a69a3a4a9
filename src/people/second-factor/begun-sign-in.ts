import { createHash, randomBytes } from 'node:crypto';
import { inTransaction } from '../../database/retry.ts';
import { Refused } from '../../problems.ts';
import { codesOf, countAttempt, forgetAttempts } from '../accounts/attempts.ts';
import { useCode, useRecoveryCode, type FactorDeps } from './factor.ts';

/** Long enough to look for a phone. */
export const CODE_WITHIN_MINUTES = 10;

const idOf = (token: string) => createHash('sha256').update(token).digest('hex');

/** What was typed on the second page: one of the two. */
export type Shown = { readonly code: string } | { readonly recoveryCode: string };

/**
 * The password was right: what is left is the code. Nobody is signed in by it, whoever holds it has shown the password.
 *
 * @returns the token for this browser's cookie; only its hash is kept
 */
export async function beginSignIn({ prisma, clock }: FactorDeps, personId: string): Promise<string> {
  const token = randomBytes(32).toString('base64url');
  const now = clock();
  const expiresAt = new Date(now.getTime() + CODE_WITHIN_MINUTES * 60_000);
  await prisma.begunSignIn.deleteMany({ where: { expiresAt: { lte: now } } });
  await prisma.begunSignIn.create({ data: { id: idOf(token), personId, createdAt: now, expiresAt } });
  return token;
}

/** Whose sign-in it is; null where it was finished, is too old, or was never begun. */
export async function readBegunSignIn(
  { prisma, clock }: FactorDeps,
  token: string | undefined,
): Promise<{ readonly personId: string } | null> {
  if (token === undefined || token === '') return null;
  const begun = await prisma.begunSignIn.findUnique({
    where: { id: idOf(token) },
    include: { person: { select: { closedAt: true } } },
  });
  if (begun === null || begun.expiresAt <= clock() || begun.person.closedAt !== null) return null;
  return { personId: begun.personId };
}

/**
 * The second page. Attempts are counted for the account, over all processes, before the code is looked at.
 *
 * @throws SlowedDown after too many that failed; Invalid at the box; Refused where another page was faster
 */
export async function finishSignIn(
  deps: FactorDeps,
  token: string,
  personId: string,
  shown: Shown,
): Promise<void> {
  await countAttempt(deps, codesOf(personId), tooManyCodes);
  await inTransaction(deps.prisma, async (tx) => {
    if ('code' in shown) await useCode(tx, deps, personId, shown.code);
    else await useRecoveryCode(tx, deps, personId, shown.recoveryCode);
    const { count } = await tx.begunSignIn.deleteMany({ where: { id: idOf(token), personId } });
    if (count === 0) throw new Refused('This sign-in is finished already. Begin again with the password.');
  });
  await forgetAttempts(deps, codesOf(personId));
}

function tooManyCodes(wait: string): string {
  return `Too many codes were wrong. Wait ${wait}, then try again; until then no code is looked at.`;
}
