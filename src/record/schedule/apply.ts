import type { FasteningRow } from '../../engineering/fasteners/index.ts';
import type { Actor } from '../../actor.ts';
import type { Action } from '../../people/permissions.ts';
import { Conflict, Invalid, Refused } from '../../problems.ts';
import { knownId } from '../identifier.ts';
import { addItem } from '../items/create.ts';
import { useCase, type RecordDeps } from '../use-case.ts';
import { addVersion } from '../versions/service.ts';
import { nextKeys, titleOfRow } from './compare.ts';
import { openingHead, rowsThere, type RowThere } from './store.ts';

/** A row to be kept: as a new item, or as the next version of one that was shown with this number. */
export interface RowWish {
  readonly row: FasteningRow;
  readonly onto: { readonly itemId: string; readonly expectedNumber: number } | null;
}

export interface RowsConflict {
  /** The rows as they stand now that moved since they were shown, or were added under a wished name. */
  readonly moved: readonly RowThere[];
}

export interface RowsApplied {
  readonly created: readonly string[];
  readonly revised: readonly string[];
}

/**
 * Keeps rows of an opening's schedule, all of them or none: new ones as items N1, N2, …, others as new versions.
 *
 * @throws Conflict<RowsConflict> where a row moved since it was shown. @throws Invalid with 'id: sentence' under the
 * row's name where the engine refuses one. @throws Refused by the rules of saving, with the row's mark in front.
 */
export async function applyRows(
  deps: RecordDeps,
  actor: Actor,
  action: Action,
  input: { readonly openingId: string; readonly wishes: readonly RowWish[]; readonly reason: string },
): Promise<RowsApplied> {
  const openingId = knownId(input.openingId, 'That opening');
  const { wishes, reason } = input;
  if (wishes.length === 0) throw new Refused('Choose at least one row.');
  return useCase(deps, actor, action, async (use) => {
    const { tx, kinds, actor: present } = use;
    await openingHead(tx, present, openingId);
    const there = await rowsThere(tx, kinds, present.projectId, openingId);
    const moved = there.filter((one) =>
      wishes.some(({ row, onto }) =>
        onto === null
          ? one.row.id === row.id
          : onto.itemId === one.itemId && onto.expectedNumber !== one.number,
      ),
    );
    if (moved.length > 0) {
      const names = moved.map((one) => one.key).join(', ');
      throw new Conflict<RowsConflict>(`Changed meanwhile: ${names}. Nothing was kept.`, { moved });
    }
    const items = await tx.item.findMany({
      where: { projectId: present.projectId, openingId, kind: 'fastening' },
      select: { key: true },
    });
    const fresh = wishes.filter((wish) => wish.onto === null);
    const keys = nextKeys(
      items.map((item) => item.key),
      fresh.length,
    );
    const created: string[] = [];
    const revised: string[] = [];
    for (const wish of wishes) {
      const { row, onto } = wish;
      if (onto === null) {
        const key = keys[created.length] ?? '';
        const title = titleOfRow(row);
        await naming(key, row, () =>
          addItem(use, { openingId, kind: 'fastening', key, title, content: row, reason }),
        );
        created.push(key);
      } else {
        const key = there.find((one) => one.itemId === onto.itemId)?.key ?? '';
        await naming(key, row, () => addVersion(use, onto.itemId, { ...onto, content: row, reason }));
        revised.push(key);
      }
    }
    return { created, revised };
  });
}

/** One row among many is refused: the sentence says which. */
async function naming(key: string, row: FasteningRow, work: () => Promise<unknown>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (error instanceof Invalid) throw new Invalid({ [row.id]: `${key}, ${row.id}: ${error.message}` });
    if (error instanceof Refused) throw new Refused(`${key}, ${row.id}: ${error.message}`);
    throw error;
  }
}
