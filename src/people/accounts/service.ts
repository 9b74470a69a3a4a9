import type { Clock } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { inTransaction } from '../../database/retry.ts';
import { Invalid, Refused } from '../../problems.ts';
import { hasCodes } from '../second-factor/factor.ts';
import type { Sessions } from '../sessions/sessions.ts';
import { countAttempt, forgetAttempts } from './attempts.ts';
import { isEasyPassword } from './easy-passwords.ts';
import { hashPassword, passwordMatches, spendPasswordCheck } from './passwords.ts';
import { EASY, presentPasswordSchema, type ChangePassword, type SignIn, type SignUp } from './schemas.ts';
import { tellOfAccount } from './told.ts';

export interface AccountDeps {
  readonly prisma: PrismaClient;
  readonly sessions: Sessions;
  readonly clock: Clock;
}

/** Makes an account. An address already in use is told at the field: sign-up reveals that much by its nature. */
export async function signUp({ prisma }: AccountDeps, input: SignUp): Promise<{ personId: string }> {
  const passwordHash = await hashPassword(input.password);
  const taken = { email: 'There is an account with this address. Sign in instead.' };
  if (await prisma.person.findUnique({ where: { email: input.email }, select: { id: true } })) {
    throw new Invalid(taken);
  }
  try {
    const person = await prisma.person.create({
      data: { name: input.name, email: input.email, passwordHash },
      select: { id: true },
    });
    return { personId: person.id };
  } catch (error) {
    // Two sign-ups at once: the unique key decides, and the slower one is told the same.
    if (await prisma.person.findUnique({ where: { email: input.email }, select: { id: true } })) {
      throw new Invalid(taken);
    }
    throw error;
  }
}

/**
 * One answer for an unknown address and a wrong password, after the same work. Whether a code is asked besides is
 * looked up, and told, only after the right password.
 *
 * @throws SlowedDown, for known and unknown addresses alike, after too many that failed
 */
export async function signIn(
  deps: AccountDeps,
  input: SignIn,
): Promise<{ personId: string; asksCode: boolean }> {
  const { prisma } = deps;
  await countAttempt(deps, input.email);
  const person = await prisma.person.findUnique({
    where: { email: input.email },
    select: { id: true, passwordHash: true, closedAt: true },
  });
  const matches = person
    ? await passwordMatches(person.passwordHash, input.password)
    : await spendPasswordCheck(input.password);
  if (!person || !matches || person.closedAt !== null) {
    throw new Invalid({ email: 'The address and the password do not belong together.' });
  }
  await forgetAttempts(deps, input.email);
  return { personId: person.id, asksCode: await hasCodes(prisma, person.id) };
}

/**
 * Whoever changes how one gets in shows that it is not just a session left open.
 *
 * @returns what is wrong with the present password, null where nothing is
 */
export async function presentPasswordProblem(
  { prisma }: Pick<AccountDeps, 'prisma'>,
  personId: string,
  typed: unknown,
): Promise<string | null> {
  const judged = presentPasswordSchema.safeParse(typed ?? '');
  if (!judged.success) return judged.error.issues[0]?.message ?? 'Enter your present password.';
  const person = await prisma.person.findUnique({ where: { id: personId }, select: { passwordHash: true } });
  if (!person) throw new Refused('This account is closed.');
  return (await passwordMatches(person.passwordHash, judged.data))
    ? null
    : 'That is not your present password.';
}

/** A new password is not made of the person's own name and address. @throws Invalid at `password` */
export async function assertNotOwnWords(
  { prisma }: Pick<AccountDeps, 'prisma'>,
  personId: string,
  password: string,
): Promise<void> {
  const person = await prisma.person.findUnique({
    where: { id: personId },
    select: { name: true, email: true },
  });
  if (person !== null && isEasyPassword(password, [person.name, person.email ?? ''])) {
    throw new Invalid({ password: EASY });
  }
}

/** Ends every session of the person, so that a stolen one ends with the old password, and tells it by mail. */
export async function changePassword(
  { prisma, sessions, clock }: AccountDeps,
  personId: string,
  input: ChangePassword,
): Promise<void> {
  const wrong = await presentPasswordProblem({ prisma }, personId, input.current);
  if (wrong !== null) throw new Invalid({ current: wrong });
  await assertNotOwnWords({ prisma }, personId, input.password);
  const passwordHash = await hashPassword(input.password);
  await inTransaction(prisma, async (tx) => {
    await tx.person.update({ where: { id: personId }, data: { passwordHash } });
    await tx.begunSignIn.deleteMany({ where: { personId } });
    await tellOfAccount(tx, personId, 'password-changed', clock());
  });
  await sessions.endAll(personId);
}
