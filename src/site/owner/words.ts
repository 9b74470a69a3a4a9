import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Invalid, NotFound } from '../../problems.ts';
import type { Role } from '../../people/roles.ts';
import type { Transaction } from '../../record/events/append.ts';
import { knownId } from '../../record/identifier.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { namesOfPeople } from '../../people/names.ts';

export interface OwnerWordSaid {
  readonly text: string;
  readonly byName: string;
  readonly byRole: Role;
  readonly at: Date;
}

export interface OwnerThread {
  readonly threadId: string;
  /** The contractor began it: something for the owner to decide. Else a question of the owner's. */
  readonly isDecision: boolean;
  readonly said: readonly OwnerWordSaid[];
  /** Whose word is awaited; null once it is answered. */
  readonly waitsOn: 'owner' | 'contractor' | null;
}

/** The same words again within a minute are a double tap. */
const DOUBLE_TAP_MS = 60_000;

/** Whose turn it is: who did not begin the thread, until they have spoken last. */
export function waitsOn(roles: readonly Role[]): OwnerThread['waitsOn'] {
  const [first] = roles;
  const last = roles.at(-1);
  if (first === undefined || last !== first) return null;
  return first === 'owner' ? 'contractor' : 'owner';
}

/**
 * Owner and contractor ask and answer each other; nobody else reads it.
 *
 * @throws Invalid without words; @throws NotFound for an opening or thread that is not in the actor's project.
 */
export async function sayOnOwnersPage(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string; readonly threadId: string | null; readonly text: string },
): Promise<void> {
  const openingId = knownId(input.openingId, 'That opening');
  const threadId = input.threadId === null ? null : knownId(input.threadId, 'That question');
  const text = prose(input.text, 'text');
  if (text === '') throw new Invalid({ text: 'Write something first.' });
  await useCase(deps, actor, 'owner.say', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId: byId, role: byRole } = present;
    if (!(await tx.opening.findFirst({ where: { id: openingId, projectId }, select: { id: true } }))) {
      throw new NotFound('That opening');
    }
    const first = { id: threadId ?? '', projectId, openingId, threadId: null };
    if (threadId !== null && !(await tx.ownerWord.findFirst({ where: first, select: { id: true } }))) {
      throw new NotFound('That question');
    }
    const last = await tx.ownerWord.findFirst({ where: { projectId, openingId }, orderBy: { at: 'desc' } });
    const soon = last !== null && at.getTime() - last.at.getTime() < DOUBLE_TAP_MS;
    if (soon && last.byId === byId && last.text === text && last.threadId === threadId) return;
    const id = randomUUID();
    const said = { openingId, threadId, text, byRole };
    await tx.ownerWord.create({ data: { id, projectId, ...said, byId, at }, select: { id: true } });
    await append('owner.said', { ownerWordId: id, ...said });
  });
}

/** The threads of an opening, the newest first; for owner and contractor only. */
export async function ownerThreads(
  tx: Pick<Transaction, 'ownerWord' | 'person'>,
  projectId: string,
  openingId: string,
): Promise<OwnerThread[]> {
  const rows = await tx.ownerWord.findMany({ where: { projectId, openingId }, orderBy: { at: 'asc' } });
  const names = await namesOfPeople(
    tx,
    rows.map((row) => row.byId),
  );
  const begun = rows.filter((row) => row.threadId === null).reverse();
  return begun.map((first) => {
    const all = rows.filter((row) => row.id === first.id || row.threadId === first.id);
    return {
      threadId: first.id,
      isDecision: first.byRole === 'contractor',
      said: all.map(({ text, byId, byRole, at }) => ({ text, byName: names.get(byId) ?? '', byRole, at })),
      waitsOn: waitsOn(all.map((row) => row.byRole)),
    };
  });
}
