import type { Actor } from '../../actor.ts';
import { NotFound } from '../../problems.ts';
import type { Calculation } from '../calculation.ts';
import { knownId } from '../identifier.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { GroundItem } from '../staleness/rules.ts';
import { groundsOfOpening } from '../staleness/store.ts';
import { asMember, type RecordDeps } from '../use-case.ts';
import { judgeContent, workOut } from './make.ts';
import type { ItemRow } from './store.ts';

/** What a content would come to, and the newest of what it would rest on. */
export interface Preview {
  readonly calculation: Calculation | null;
  readonly grounds: readonly GroundItem[];
}

/** What a content would come to if it were saved now; writes nothing. An item that isn't made yet has no id. */
export async function previewVersion(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly item: Pick<ItemRow, 'openingId' | 'kind' | 'key' | 'title'> & { readonly itemId: string | null };
    readonly content: unknown;
  },
): Promise<Preview> {
  const { openingId } = input.item;
  return asMember(deps, actor, 'item.save', async (tx, { projectId }) => {
    if (openingId !== null) {
      const id = knownId(openingId, 'That opening');
      const opening = await tx.opening.findFirst({ where: { id, projectId }, select: { id: true } });
      if (!opening) throw new NotFound('That opening');
    }
    const item: ItemRow = { ...input.item, itemId: input.item.itemId ?? '', projectId };
    const content = judgeContent(deps.kinds, item, input.content);
    const grounds = await groundsOfOpening(tx, deps.kinds, projectId, openingId);
    return {
      calculation: workOut(deps.kinds, item, content, grounds).calculation,
      grounds,
    };
  });
}

/** The newest contents that an item of an opening may rest on, for a form's first proposal. */
export async function readGroundsOf(
  deps: RecordDeps,
  actor: Actor,
  openingId: string | null,
): Promise<ReadonlyMap<ItemKind, unknown>> {
  return asMember(deps, actor, 'item.read', async (tx, { projectId }) => {
    const grounds = await groundsOfOpening(tx, deps.kinds, projectId, openingId);
    return new Map(grounds.map((ground) => [ground.kind, ground.content]));
  });
}
