import type { Actor } from '../../src/actor.ts';
import type { PrismaClient } from '../../src/database/generated/client.ts';
import type { Role } from '../../src/people/roles.ts';

/** Who acts in a project, by role: its members as the use cases know them. */
export async function actorsOf(
  prisma: Pick<PrismaClient, 'membership'>,
  projectId: string,
): Promise<(role: Role) => Actor> {
  const members = await prisma.membership.findMany({ where: { projectId }, include: { person: true } });
  return (role) => {
    const member = members.find((one) => one.role === role);
    if (member === undefined) throw new Error(`The project has no ${role}.`);
    return { personId: member.personId, name: member.person.name, role, projectId };
  };
}
