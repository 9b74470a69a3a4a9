import type { Actor } from '../actor.ts';
import { hashPassword } from '../people/accounts/passwords.ts';
import { acceptInvitation, invite } from '../people/invitations/service.ts';
import type { Role } from '../people/roles.ts';
import { isUniqueViolation } from '../database/retry.ts';
import { createItem } from '../record/items/create.ts';
import { createProject } from '../record/projects/service.ts';
import { demoCriteria, demoTimeZone } from './cinder-ferry.ts';
import { demoPassword, demoSignIns } from './people.ts';
import type { DemoDeps, StoryClock, Telling } from './telling.ts';

/**
 * The four people, their project and its criteria.
 *
 * @returns null where another process that started at the same moment is loading the demo.
 */
export async function foundHouse(given: DemoDeps, story: StoryClock): Promise<Telling | null> {
  const deps: DemoDeps = { ...given, clock: story.clock };
  const passwordHash = await hashPassword(demoPassword);
  const people = new Map<Role, { personId: string; name: string }>();
  for (const { role, name, email } of demoSignIns) {
    const personId = await addPerson(deps, { name, email, passwordHash });
    if (personId === null) return null;
    people.set(role, { personId, name });
  }
  const person = (role: Role) => {
    const found = people.get(role);
    if (found === undefined) throw new Error(`The demo has no ${role}.`);
    return found;
  };
  story.on(1);
  const { projectId } = await createProject(deps, person('contractor'), {
    name: 'Cinder Ferry, bed-sitting room',
    address: '12 Slipway Row, Cinder Ferry',
    jurisdiction: 'Town of Cinder Ferry (invented)',
    permitNumber: 'BP-70-0418',
    timeZone: demoTimeZone,
  });
  const as = (role: Role): Actor => ({ ...person(role), role, projectId });
  for (const { role, name } of demoSignIns) {
    if (role === 'contractor') continue;
    const { token } = await invite(deps, as('contractor'), { role, label: name });
    await acceptInvitation(deps, person(role), token);
  }
  await createItem(deps, as('contractor'), {
    openingId: null,
    kind: 'criteria',
    key: 'criteria',
    title: 'Design criteria',
    content: demoCriteria,
  });
  return { deps, projectId, on: story.on, now: story.now, as };
}

async function addPerson(
  { prisma }: DemoDeps,
  data: { readonly name: string; readonly email: string; readonly passwordHash: string },
): Promise<string | null> {
  try {
    return (await prisma.person.create({ data, select: { id: true } })).id;
  } catch (error) {
    if (isUniqueViolation(error)) return null;
    throw error;
  }
}
