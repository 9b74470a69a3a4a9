import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { NotFound } from '../../problems.ts';
import { dropNewDraft } from '../drafts/new-items.ts';
import { knownId } from '../identifier.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { recordRevised } from '../marks/record.ts';
import { prose } from '../prose.ts';
import { groundsOfOpening } from '../staleness/store.ts';
import { useCase, type RecordDeps, type UseCase } from '../use-case.ts';
import { judgeContent, putOnRecord, workOut, type MadeVersion } from '../versions/make.ts';
import type { ItemRow } from '../versions/store.ts';
import { judgeNewItem } from './rules.ts';

export interface CreateItem {
  /** Null for the project's criteria. */
  readonly openingId: string | null;
  readonly kind: ItemKind;
  /** Tells siblings apart and never changes: 'left', 'N1', 'A-101'. */
  readonly key: string;
  readonly title: string;
  /** Version 1; left out where the item is to be filled in later. */
  readonly content?: unknown;
  readonly reason?: string;
  /** It comes from the person's form of a new one: the draft of that form is done with. */
  readonly fromForm?: true;
}

export interface CreatedItem {
  readonly item: ItemRow;
  readonly version: MadeVersion | null;
}

/**
 * Adds an item to an opening (criteria: to the project), with its first version where a content is given. The
 * engineer's own first version of a reviewable item is marked revised, as every version of the engineer's.
 *
 * @throws Invalid at the fields: key taken, no title, or the content by its kind's schema and the engine.
 * @throws Refused where the opening has its one item of the kind. @throws NotFound for an opening of another project.
 */
export async function createItem(deps: RecordDeps, actor: Actor, input: CreateItem): Promise<CreatedItem> {
  return useCase(deps, actor, 'item.create', async (use) => {
    const created = await addItem(use, input);
    if (input.fromForm === true) await dropNewDraft(use.tx, use.actor, created.item);
    return created;
  });
}

/** `createItem` inside a use case that does more than this. Throws as it does. */
export async function addItem(use: UseCase, input: CreateItem): Promise<CreatedItem> {
  const openingId = input.openingId === null ? null : knownId(input.openingId, 'That opening');
  const title = prose(input.title, 'title');
  const reason = prose(input.reason ?? '', 'reason');
  const { tx, actor: present, at } = use;
  const { projectId } = present;
  const { kind, key } = input;
  if (openingId !== null) {
    const opening = await tx.opening.findFirst({
      where: { id: openingId, projectId },
      select: { id: true },
    });
    if (!opening) throw new NotFound('That opening');
  }
  const there = await tx.item.findMany({ where: { projectId, openingId, kind }, select: { key: true } });
  judgeNewItem({ kind, key, title, openingId, keysThere: there.map((sibling) => sibling.key) });
  const item: ItemRow = { itemId: randomUUID(), projectId, openingId, kind, key, title };
  await tx.item.create({
    data: { id: item.itemId, projectId, openingId, kind, key, title, createdAt: at },
    select: { id: true },
  });
  await use.append('item.created', { itemId: item.itemId, openingId, kind, key, title });
  const version = input.content === undefined ? null : await firstVersion(use, item, input.content, reason);
  return { item, version };
}

async function firstVersion(
  use: UseCase,
  item: ItemRow,
  given: unknown,
  reason: string,
): Promise<MadeVersion> {
  const { tx, actor, kinds } = use;
  const content = judgeContent(kinds, item, given);
  const worked = workOut(
    kinds,
    item,
    content,
    await groundsOfOpening(tx, kinds, item.projectId, item.openingId),
  );
  const revises = actor.role === 'engineer' && kinds.get(item.kind).reviewable;
  const made = await putOnRecord(use, item, 1, worked, reason, revises ? 'revised' : 'saved');
  if (revises) await recordRevised(use, item, made, reason);
  return made;
}
