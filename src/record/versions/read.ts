import type { Actor } from '../../actor.ts';
import { NotFound } from '../../problems.ts';
import { diffVersions, type VersionDiff } from '../diff/versions.ts';
import { knownId } from '../identifier.ts';
import { standingsOfItems } from '../items/standings.ts';
import type { ItemStanding } from '../items/state.ts';
import type { Transaction } from '../events/append.ts';
import { readTogether, type ProjectViewer } from '../read-together.ts';
import { asMember, type RecordDeps } from '../use-case.ts';
import {
  findItem,
  newestVersion,
  versionById,
  versionByNumber,
  versionLines,
  type ItemRow,
  type VersionLine,
  type VersionRecord,
} from './store.ts';

/** An item as its page shows it. */
export interface ItemPage {
  readonly item: ItemRow;
  readonly standing: ItemStanding;
  /** Null where nothing was entered yet. */
  readonly newest: VersionRecord | null;
}

function itemOf(tx: Transaction, viewer: ProjectViewer, itemId: string): Promise<ItemRow> {
  return readTogether(viewer, ['item', itemId], async () => {
    const item = await findItem(tx, viewer.projectId, itemId);
    if (!item) throw new NotFound('That item');
    return item;
  });
}

/** An item with its state and its newest version. @throws NotFound for an item of another project. */
export async function readItem(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string },
): Promise<ItemPage> {
  const itemId = knownId(input.itemId, 'That item');
  return asMember(deps, actor, 'item.read', async (tx, present) => {
    const [item, [standing], newest] = await Promise.all([
      itemOf(tx, present, itemId),
      standingsOfItems(tx, deps.kinds, present.projectId, [itemId]),
      newestVersion(tx, itemId),
    ]);
    if (!standing) throw new NotFound('That item');
    return { item, standing, newest };
  });
}

export interface HistoryPage {
  readonly item: ItemRow;
  /** Newest first. */
  readonly versions: readonly VersionLine[];
  /** Hand in as `before` for the next page; null on the last one. */
  readonly next: number | null;
}

const PAGE = 50;

/** An item's versions, newest first, with the words said on each. */
export async function readHistory(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string; readonly before?: number; readonly limit?: number },
): Promise<HistoryPage> {
  const itemId = knownId(input.itemId, 'That item');
  const limit = input.limit ?? PAGE;
  return asMember(deps, actor, 'item.read', async (tx, present) => {
    const [item, lines] = await Promise.all([
      itemOf(tx, present, itemId),
      versionLines(tx, itemId, limit + 1, input.before),
    ]);
    const versions = lines.slice(0, limit);
    const next = lines.length > limit ? (versions.at(-1)?.number ?? null) : null;
    return { item, versions, next };
  });
}

/** One version of an item, by its number. */
export async function readVersion(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string; readonly number: number },
): Promise<{ readonly item: ItemRow; readonly version: VersionRecord; readonly newestNumber: number }> {
  const itemId = knownId(input.itemId, 'That item');
  return asMember(deps, actor, 'item.read', async (tx, { projectId }) => {
    const item = await findItem(tx, projectId, itemId);
    if (!item) throw new NotFound('That item');
    const [version, newest] = await Promise.all([
      versionByNumber(tx, itemId, input.number),
      tx.version.aggregate({ where: { itemId }, _max: { number: true } }),
    ]);
    if (!version) throw new NotFound('That version');
    return { item, version, newestNumber: newest._max.number ?? version.number };
  });
}

export interface Comparison {
  readonly item: ItemRow;
  readonly was: VersionRecord;
  readonly now: VersionRecord;
  readonly diff: VersionDiff;
}

/** Any two versions of an item side by side. */
export async function compareVersions(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string; readonly was: number; readonly now: number },
): Promise<Comparison> {
  const itemId = knownId(input.itemId, 'That item');
  return asMember(deps, actor, 'item.read', async (tx, { projectId }) => {
    const item = await findItem(tx, projectId, itemId);
    if (!item) throw new NotFound('That item');
    const [was, now] = await Promise.all([
      versionByNumber(tx, itemId, input.was),
      versionByNumber(tx, itemId, input.now),
    ]);
    if (!was || !now) throw new NotFound('That version');
    return { item, was, now, diff: diffVersions(deps.kinds, item.kind, was, now) };
  });
}

/** A version as an issued set holds it: what inspector and owner may read of an item. */
export async function readVersionInSet(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly setId: string; readonly itemId: string },
): Promise<{ readonly item: ItemRow; readonly version: VersionRecord }> {
  const setId = knownId(input.setId, 'That set');
  const itemId = knownId(input.itemId, 'That item');
  return asMember(deps, actor, 'set.read', async (tx, { projectId }) => {
    const entry = await tx.setEntry.findFirst({ where: { setId, itemId, set: { projectId } } });
    const item = entry && (await findItem(tx, projectId, itemId));
    const version = entry && (await versionById(tx, projectId, entry.versionId));
    if (!item || !version) throw new NotFound('That item');
    return { item, version };
  });
}
