import type { Actor } from '../../actor.ts';
import type { FasteningRow } from '../../engineering/fasteners/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Picture } from '../../report/pictures/index.ts';
import type { Transaction } from '../events/append.ts';
import { knownId } from '../identifier.ts';
import type { ItemStanding } from '../items/state.ts';
import type { SetEntryContent } from '../sets/content.ts';
import { listSets, type SetView } from '../sets/read.ts';
import { asMember, type RecordDeps } from '../use-case.ts';
import { versionsById, versionsOfItems, type VersionRecord } from '../versions/store.ts';
import {
  changesBetween,
  revisionsOf,
  rowPicture,
  rowWords,
  type Revision,
  type RowWords,
} from './document.ts';
import { openingHead, rowsThere, type OpeningHead, type RowThere } from './store.ts';

export interface ScheduleRow extends RowWords {
  readonly picture: Picture | null;
}

export interface Schedule {
  readonly opening: OpeningHead;
  readonly rows: readonly (ScheduleRow & { readonly standing: ItemStanding })[];
  readonly there: readonly RowThere[];
}

/** The schedule of an opening as it stands: newest versions, with every revision that led to them. */
export async function readSchedule(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string },
): Promise<Schedule> {
  const openingId = knownId(input.openingId, 'That opening');
  return asMember(deps, actor, 'item.read', async (tx, { projectId }) => {
    const opening = await openingHead(tx, { projectId }, openingId);
    const there = await rowsThere(tx, deps.kinds, projectId, openingId);
    const versions = await versionsOfItems(
      tx,
      projectId,
      there.map((one) => one.itemId),
    );
    const pictures = await picturesOf(
      tx,
      projectId,
      there.map(({ key, version }) => ({ key, version })),
    );
    return {
      opening,
      there,
      rows: there.map((one) => ({
        ...rowWords(
          one,
          one.version,
          revisionsOf(versions.filter((version) => version.itemId === one.itemId)),
        ),
        standing: one.standing,
        picture: pictures.get(one.version.versionId) ?? null,
      })),
    };
  });
}

export interface SetSchedule {
  readonly set: SetView;
  readonly rows: readonly (ScheduleRow & { readonly mark: SetEntryContent['mark'] })[];
}

/**
 * The schedule as an issued set froze it, revisions told against the set before it. Null for a set that isn't there;
 * what is between two sets is not the readers' of sets to see.
 */
export async function readSetSchedule(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly setId: string;
    /** Of the patterns' sheet, as their model has it. */ readonly sheetWidth?: number;
  },
): Promise<SetSchedule | null> {
  const setId = knownId(input.setId, 'That set');
  const head = await asMember(deps, actor, 'set.read', (tx, { projectId }) =>
    tx.approvedSet.findFirst({ where: { id: setId, projectId }, select: { openingId: true } }),
  );
  if (head === null) return null;
  const sets = await listSets(deps, actor, { openingId: head.openingId });
  const set = sets.find((one) => one.setId === setId);
  if (set === undefined) return null;
  const before = sets.find((one) => one.number < set.number);
  const entries = fasteningEntries(set);
  const earlier = before === undefined ? [] : fasteningEntries(before);
  return asMember(deps, actor, 'set.read', async (tx, { projectId }) => {
    const versions = await versionsById(
      tx,
      projectId,
      [...entries, ...earlier].map((entry) => entry.versionId),
    );
    const byId = new Map(versions.map((version) => [version.versionId, version]));
    const shown = entries.flatMap((entry) => {
      const version = byId.get(entry.versionId);
      return version === undefined ? [] : [{ key: entry.key, entry, version }];
    });
    const pictures = await picturesOf(tx, projectId, shown, input.sheetWidth);
    return {
      set,
      rows: shown.map(({ entry, version }) => {
        const last = earlier.find((one) => one.itemId === entry.itemId);
        const was = last === undefined ? undefined : byId.get(last.versionId);
        return {
          ...rowWords(entry, version, sinceLastSet(before?.number, was, version)),
          mark: entry.mark,
          picture: pictures.get(version.versionId) ?? null,
        };
      }),
    };
  });
}

function fasteningEntries(set: SetView): readonly SetEntryContent[] {
  return set.content.entries.filter((entry) => entry.kind === 'fastening');
}

function sinceLastSet(
  numberBefore: number | undefined,
  was: VersionRecord | undefined,
  now: VersionRecord,
): readonly Revision[] {
  const changes =
    numberBefore === undefined || was?.versionId === now.versionId
      ? []
      : was === undefined
        ? [`new since set ${numberBefore}`]
        : changesBetween(was, now).map((line) => `since set ${numberBefore}: ${line}`);
  const { number, at, authorName, authorRole, reason } = now;
  return [{ number, at, by: authorName, role: authorRole, reason, changes }];
}

/** Each version's pattern, by the very criteria that it rests on: one query for all of them. */
async function picturesOf(
  tx: Transaction,
  projectId: string,
  shown: readonly { readonly key: string; readonly version: VersionRecord }[],
  sheetWidth?: number,
): Promise<ReadonlyMap<string, Picture>> {
  const groundOf = (version: VersionRecord) => version.restsOn.find(({ on }) => on.kind === 'criteria')?.on;
  const wanted = shown.flatMap(({ version }) => {
    const ground = groundOf(version);
    return ground === undefined ? [] : [{ itemId: ground.itemId, number: ground.number }];
  });
  if (wanted.length === 0) return new Map();
  const rows = await tx.version.findMany({
    where: { projectId, OR: wanted },
    select: { itemId: true, number: true, content: true },
  });
  const criteria = new Map(
    rows.map((row) => [`${row.itemId} ${row.number}`, JSON.parse(row.content) as Criteria]),
  );
  const pictures = new Map<string, Picture>();
  for (const { key, version } of shown) {
    const ground = groundOf(version);
    const found = ground && criteria.get(`${ground.itemId} ${ground.number}`);
    const picture = found && rowPicture(key, version.content as FasteningRow, found.editions, sheetWidth);
    if (picture) pictures.set(version.versionId, picture);
  }
  return pictures;
}
