import { inTransaction } from '../../database/retry.ts';
import { Refused } from '../../problems.ts';
import { appendEvent, lockProject, type Transaction } from '../../record/events/append.ts';
import type { RecordDeps } from '../../record/use-case.ts';
import type { Role } from '../roles.ts';

/** Stands in the log for whoever runs the installation: no account, no role. */
export const OPERATOR = 'Operator of this installation';

export interface TakeOver {
  readonly projectId: string;
  /** Of an account here. */
  readonly email: string;
  /** The member of the imported record whose place it is. */
  readonly memberName: string;
}

/**
 * Lets an account into an imported project in the place of one of its people, whom nobody can sign in as. What that
 * person did stays theirs: versions, marks and findings keep their author, and the log says who came in for whom.
 *
 * @throws NotFound where there is no such project; Refused where there is no such account, where nobody or more than
 * one of that name is there to be replaced, where that member can sign in, or where the account is in the project.
 */
export async function takeOverMembership(
  deps: Pick<RecordDeps, 'prisma' | 'clock' | 'listeners'>,
  { projectId, email, memberName }: TakeOver,
): Promise<{ readonly name: string; readonly role: Role }> {
  return inTransaction(deps.prisma, async (tx) => {
    await lockProject(tx, projectId);
    const person = await tx.person.findUnique({ where: { email: email.trim().toLowerCase() } });
    if (person?.closedAt !== null) {
      throw new Refused(
        `Nobody here has an account under ${email}. The person signs up first, then comes in.`,
      );
    }
    const present = await tx.membership.findFirst({
      where: { projectId, personId: person.id, revokedAt: null },
      select: { role: true },
    });
    if (present !== null) throw new Refused(`${person.name} is in this project already, as ${present.role}.`);
    const membership = await standIn(tx, projectId, memberName);
    const at = deps.clock();
    const { role } = membership;
    await tx.membership.update({ where: { id: membership.id }, data: { revokedAt: at } });
    await tx.membership.create({ data: { projectId, personId: person.id, role, createdAt: at } });
    const line = { projectId, at, actorId: null, actorName: OPERATOR } as const;
    const events = [
      await appendEvent(tx, {
        ...line,
        type: 'member.removed',
        payload: { personId: membership.personId, name: memberName, role },
      }),
      await appendEvent(tx, {
        ...line,
        type: 'member.joined',
        payload: { personId: person.id, name: person.name, role },
      }),
    ];
    for (const event of events) for (const listener of deps.listeners ?? []) await listener(tx, event);
    return { name: person.name, role };
  });
}

async function standIn(tx: Transaction, projectId: string, name: string) {
  const found = await tx.membership.findMany({
    where: { projectId, revokedAt: null, person: { name } },
    include: { person: { select: { email: true, closedAt: true } } },
  });
  const [only] = found;
  if (only === undefined) throw new Refused(`Nobody named ${name} is in this project.`);
  if (found.length > 1) throw new Refused(`More than one person named ${name} is in this project.`);
  if (only.person.email !== null) {
    throw new Refused(
      `${name} has an account and can sign in. Members take each other out on the page of people.`,
    );
  }
  return only;
}
