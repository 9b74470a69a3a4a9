import type { Actor } from '../../actor.ts';
import { NotFound } from '../../problems.ts';
import type { Transaction } from '../events/append.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { asPresentMember, type RecordDeps } from '../use-case.ts';
import { bodyText } from './service.ts';

/** Where an item that is not there yet would go. */
export interface NewPlace {
  readonly kind: ItemKind;
  /** Null for the project's own criteria. */
  readonly openingId: string | null;
}

/** One person's unsaved words on a new item. */
export interface NewDraft {
  /** The form as typed. */
  readonly body: unknown;
  readonly updatedAt: Date;
}

/** A new item that was begun, for the page of its opening. */
export interface Begun {
  readonly kind: ItemKind;
  readonly updatedAt: Date;
}

const at = ({ personId, projectId }: Actor, { kind, openingId }: NewPlace) => ({
  personId,
  projectId,
  openingId,
  kind,
  itemId: null,
});

/**
 * Keeps what a person typed of a new item: one of each kind in an opening, over what was kept of it before.
 *
 * @throws NotFound for another project's opening. @throws Invalid where it is too long
 */
export async function saveNewDraft(
  deps: RecordDeps,
  actor: Actor,
  { kind, openingId, body }: NewPlace & { readonly body: unknown },
): Promise<void> {
  const text = bodyText(body);
  await asPresentMember(deps, actor, 'item.create', async (tx) => {
    // The opening is looked up by the same statement: a draft never lands in another project's.
    const written = await tx.$executeRaw`
      INSERT INTO draft (person_id, project_id, opening_id, kind, on_number, body, updated_at)
      SELECT ${actor.personId}::uuid, ${actor.projectId}::uuid, ${openingId}::uuid, ${kind}::item_kind, 0, ${text},
             ${deps.clock()}
      WHERE ${openingId}::uuid IS NULL
         OR EXISTS (SELECT 1 FROM opening WHERE id = ${openingId}::uuid AND project_id = ${actor.projectId}::uuid)
      ON CONFLICT (person_id, kind, COALESCE(opening_id, project_id)) WHERE item_id IS NULL
      DO UPDATE SET body = excluded.body, updated_at = excluded.updated_at`;
    if (written === 0) throw new NotFound('That opening');
  });
}

/** The person's own; nobody else's is ever shown. */
export async function loadNewDraft(
  deps: Pick<RecordDeps, 'prisma'>,
  actor: Actor,
  place: NewPlace,
): Promise<NewDraft | null> {
  const row = await deps.prisma.draft.findFirst({
    where: at(actor, place),
    select: { body: true, updatedAt: true },
  });
  return row === null ? null : { body: JSON.parse(row.body) as unknown, updatedAt: row.updatedAt };
}

/** Throws it away, or is done with it once it was saved; that there is none is no fault. */
export async function dropNewDraft(
  tx: Pick<Transaction, 'draft'>,
  actor: Actor,
  place: NewPlace,
): Promise<void> {
  await tx.draft.deleteMany({ where: at(actor, place) });
}

/** What a person began in an opening, or of the project's own where it is null, and did not save. */
export async function begunBy(
  deps: Pick<RecordDeps, 'prisma'>,
  { personId, projectId }: Actor,
  openingId: string | null,
): Promise<Begun[]> {
  const rows = await deps.prisma.draft.findMany({
    where: { personId, projectId, openingId, itemId: null },
    orderBy: { kind: 'asc' },
    select: { kind: true, updatedAt: true },
  });
  return rows.flatMap(({ kind, updatedAt }) => (kind === null ? [] : [{ kind, updatedAt }]));
}
