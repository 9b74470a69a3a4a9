import { createHash, randomBytes } from 'node:crypto';
import type { Clock } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { inTransaction } from '../../database/retry.ts';
import { NotFound } from '../../problems.ts';
import { hashPassword } from '../accounts/passwords.ts';
import { assertNotOwnWords } from '../accounts/service.ts';
import { tellOfAccount } from '../accounts/told.ts';
import type { Sessions } from '../sessions/sessions.ts';

export interface ResetDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
}

const GOOD_FOR_MS = 60 * 60_000;
/** Nobody fills somebody else's mailbox. */
const OPEN_AT_MOST = 3;

function hashToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

/**
 * Asks for a letter with a link to a new password. Whoever asks learns nothing: an unknown address, a closed account
 * and one asked for too often end the same way. The link itself is made when the letter is sent.
 */
export async function requestReset({ prisma, clock }: ResetDeps, email: string): Promise<void> {
  const now = clock();
  await inTransaction(prisma, async (tx) => {
    const person = await tx.person.findUnique({ where: { email }, select: { id: true, closedAt: true } });
    if (person?.closedAt !== null) return;
    await tx.passwordReset.deleteMany({ where: { personId: person.id, expiresAt: { lt: now } } });
    const open = await tx.passwordReset.count({ where: { personId: person.id, usedAt: null } });
    if (open >= OPEN_AT_MOST) return;
    const { id } = await tx.passwordReset.create({
      data: { personId: person.id, createdAt: now, expiresAt: new Date(now.getTime() + GOOD_FOR_MS) },
      select: { id: true },
    });
    await tx.letter.create({
      data: {
        key: `new-password ${id}`,
        kind: 'new-password',
        personId: person.id,
        subjectId: id,
        createdAt: now,
      },
    });
  });
}

/**
 * The token of the link, for the letter that is about to be sent; only its hash is kept. A letter that is tried again
 * gets another one. Null where the request was used or is too old.
 */
export async function tokenForLetter({ prisma, clock }: ResetDeps, resetId: string): Promise<string | null> {
  const token = randomBytes(32).toString('base64url');
  const { count } = await prisma.passwordReset.updateMany({
    where: { id: resetId, usedAt: null, expiresAt: { gt: clock() } },
    data: { tokenHash: hashToken(token) },
  });
  return count === 1 ? token : null;
}

/** @throws NotFound for a link that was used, is too old or was never made: they look the same. */
export async function readReset(
  { prisma, clock }: ResetDeps,
  token: string,
): Promise<{ resetId: string; personId: string }> {
  const reset = await prisma.passwordReset.findUnique({
    where: { tokenHash: hashToken(token) },
    include: { person: { select: { closedAt: true } } },
  });
  if (reset?.usedAt !== null || reset.expiresAt <= clock() || reset.person.closedAt !== null) {
    throw new NotFound('That link');
  }
  return { resetId: reset.id, personId: reset.personId };
}

/**
 * Sets the password, once. Every session of the person ends, and every other open link with it. One-time codes stay as
 * they are: a mailbox in other hands is not the phone, too.
 *
 * @throws NotFound as `readReset`; Invalid where it is made of the person's own name and address.
 */
export async function setNewPassword(
  deps: ResetDeps & { readonly sessions: Sessions },
  token: string,
  password: string,
): Promise<{ personId: string }> {
  const { resetId, personId: whose } = await readReset(deps, token);
  await assertNotOwnWords(deps, whose, password);
  const passwordHash = await hashPassword(password);
  const personId = await inTransaction(deps.prisma, async (tx) => {
    const now = deps.clock();
    const { count } = await tx.passwordReset.updateMany({
      where: { id: resetId, tokenHash: hashToken(token), usedAt: null, expiresAt: { gt: now } },
      data: { usedAt: now },
    });
    if (count === 0) throw new NotFound('That link');
    const reset = await tx.passwordReset.findUniqueOrThrow({ where: { id: resetId } });
    await tx.passwordReset.updateMany({
      where: { personId: reset.personId, usedAt: null },
      data: { usedAt: now },
    });
    await tx.person.update({ where: { id: reset.personId }, data: { passwordHash } });
    await tx.begunSignIn.deleteMany({ where: { personId: reset.personId } });
    await tellOfAccount(tx, reset.personId, 'password-changed', now);
    return reset.personId;
  });
  await deps.sessions.endAll(personId);
  return { personId };
}
