import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { inTransaction } from '../../database/retry.ts';
import { appendEvent } from '../events/append.ts';
import { useCase, type RecordDeps } from '../use-case.ts';
import type { ProjectInput } from './schemas.ts';

/** Makes a project; who makes it is its contractor. The log begins here. */
export async function createProject(
  deps: Pick<RecordDeps, 'prisma' | 'clock'>,
  person: { readonly personId: string; readonly name: string },
  input: ProjectInput,
): Promise<{ projectId: string }> {
  const projectId = randomUUID();
  const at = deps.clock();
  const { personId, name: actorName } = person;
  await inTransaction(deps.prisma, async (tx) => {
    await tx.project.create({
      data: { id: projectId, ...input, createdById: personId, createdAt: at },
      select: { id: true },
    });
    await tx.membership.create({
      data: { projectId, personId, role: 'contractor', createdAt: at },
      select: { id: true },
    });
    const line = { projectId, at, actorId: personId, actorName };
    const { permitNumber: _none, ...made } = input;
    await appendEvent(tx, { ...line, type: 'project.created', payload: made });
    const joined = { personId, name: actorName, role: 'contractor' as const };
    await appendEvent(tx, { ...line, type: 'member.joined', payload: joined });
  });
  return { projectId };
}

/** Corrects the project's own lines; the log keeps what was changed to what. */
export async function editProject(deps: RecordDeps, actor: Actor, input: ProjectInput): Promise<void> {
  await useCase(deps, actor, 'project.edit', async ({ tx, append }) => {
    const before = await tx.project.findUniqueOrThrow({ where: { id: actor.projectId } });
    const changed = Object.fromEntries(
      Object.entries(input).filter(([key, value]) => before[key as keyof ProjectInput] !== value),
    );
    if (Object.keys(changed).length === 0) return;
    await tx.project.update({ where: { id: actor.projectId }, data: changed, select: { id: true } });
    await append('project.edited', { changed });
  });
}
