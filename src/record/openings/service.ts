import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { useCase, type RecordDeps } from '../use-case.ts';

/** Adds an opening: one place where a bearing wall gives way to a beam. */
export async function createOpening(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly name: string },
): Promise<{ openingId: string }> {
  return useCase(deps, actor, 'opening.create', async ({ tx, at, append }) => {
    const { projectId } = actor;
    const last = await tx.opening.aggregate({ where: { projectId }, _max: { ordinal: true } });
    const ordinal = (last._max.ordinal ?? 0) + 1;
    const openingId = randomUUID();
    const { name } = input;
    await tx.opening.create({
      data: { id: openingId, projectId, ordinal, name, createdAt: at },
      select: { id: true },
    });
    await append('opening.created', { openingId, ordinal, name });
    return { openingId };
  });
}
