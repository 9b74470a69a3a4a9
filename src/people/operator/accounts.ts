import type { Clock } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { Refused } from '../../problems.ts';
import { switchCodesOff } from '../second-factor/factor.ts';

interface OperatorDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
}

async function personOf({ prisma }: OperatorDeps, email: string): Promise<string> {
  const person = await prisma.person.findUnique({
    where: { email: email.trim().toLowerCase() },
    select: { id: true },
  });
  if (person === null) throw new Refused(`Nobody here has an account under ${email}.`);
  return person.id;
}

/**
 * Ends every session of one account, or of all, and every sign-in that waits for its code. Tokens of programs stay:
 * their people revoke them.
 *
 * @returns how many sessions ended
 * @throws Refused where there is no such account
 */
export async function endSessionsOf(deps: OperatorDeps, email: string | null): Promise<number> {
  const where = email === null ? {} : { personId: await personOf(deps, email) };
  const [{ count }] = await deps.prisma.$transaction([
    deps.prisma.session.deleteMany({ where }),
    deps.prisma.begunSignIn.deleteMany({ where }),
  ]);
  return count;
}

/**
 * For somebody who has lost the phone and the recovery codes, and whom the operator knows: the password alone lets in
 * again. The person is told by mail.
 *
 * @throws Refused where there is no such account, or codes are off
 */
export async function switchCodesOffFor(deps: OperatorDeps, email: string): Promise<void> {
  const on = await switchCodesOff(deps, await personOf(deps, email));
  if (!on) throw new Refused(`The account under ${email} asks no one-time codes.`);
}
