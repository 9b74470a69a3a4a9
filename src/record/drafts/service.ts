import type { Actor } from '../../actor.ts';
import { Invalid, NotFound } from '../../problems.ts';
import { knownId } from '../identifier.ts';
import { asPresentMember, type RecordDeps } from '../use-case.ts';

/** One person's unsaved words on one item. */
export interface Draft {
  readonly itemId: string;
  /** The number of the version the person was looking at; 0 for none. */
  readonly onNumber: number;
  /** The form as typed. */
  readonly body: unknown;
  readonly updatedAt: Date;
}

const LONGEST_BODY = 1_000_000;

/** What is kept of a form. @throws Invalid where it is too long */
export function bodyText(body: unknown): string {
  const text = JSON.stringify(body ?? null);
  if (text.length > LONGEST_BODY) throw new Invalid({ '': 'That is too long to be kept as a draft.' });
  return text;
}

/** Keeps what a person typed, over what was kept of it before. Two tabs of one person: the later one stays. */
export async function saveDraft(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string; readonly onNumber: number; readonly body: unknown },
): Promise<void> {
  const itemId = knownId(input.itemId, 'That item');
  const body = bodyText(input.body);
  await asPresentMember(deps, actor, 'item.save', async (tx) => {
    // The item is looked up by the same statement: a draft never lands on another project's item.
    const written = await tx.$executeRaw`
      INSERT INTO draft (person_id, project_id, item_id, on_number, body, updated_at)
      SELECT ${actor.personId}::uuid, project_id, id, ${input.onNumber}::int, ${body}, ${deps.clock()}
      FROM item WHERE id = ${itemId}::uuid AND project_id = ${actor.projectId}::uuid
      ON CONFLICT (person_id, item_id)
      DO UPDATE SET on_number = excluded.on_number, body = excluded.body, updated_at = excluded.updated_at`;
    if (written === 0) throw new NotFound('That item');
  });
}

/** The person's own draft on an item; nobody else's is ever shown. */
export async function loadDraft(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string },
): Promise<Draft | null> {
  const itemId = knownId(input.itemId, 'That item');
  const row = await deps.prisma.draft.findFirst({
    where: { itemId, personId: actor.personId, item: { projectId: actor.projectId } },
  });
  if (!row) return null;
  const { onNumber, updatedAt } = row;
  return { itemId, onNumber, body: JSON.parse(row.body) as unknown, updatedAt };
}

/** Throws the person's own draft away; that there is none is no fault. */
export async function discardDraft(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string },
): Promise<void> {
  const itemId = knownId(input.itemId, 'That item');
  await deps.prisma.draft.deleteMany({
    where: { itemId, personId: actor.personId, item: { projectId: actor.projectId } },
  });
}
