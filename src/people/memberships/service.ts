import type { Actor } from '../../actor.ts';
import { NotFound, Refused } from '../../problems.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';

/** Ends a membership at once. What the person did stays in the record under the person's name. */
export async function removeMember(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly membershipId: string },
): Promise<void> {
  await useCase(deps, actor, 'people.remove', async ({ tx, at, append }) => {
    const membership = await tx.membership.findFirst({
      where: { id: input.membershipId, projectId: actor.projectId, revokedAt: null },
      include: { person: { select: { name: true } } },
    });
    if (membership === null) throw new NotFound('That member');
    if (membership.personId === actor.personId) {
      throw new Refused('You can’t take yourself out: the project would have nobody to run it.');
    }
    await tx.membership.update({ where: { id: membership.id }, data: { revokedAt: at } });
    const { personId, role, person } = membership;
    await append('member.removed', { personId, name: person.name, role });
  });
}
