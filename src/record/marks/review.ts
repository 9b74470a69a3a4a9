import type { Actor } from '../../actor.ts';
import { attachmentsOf, type AttachmentView } from '../../attachments/store.ts';
import type { Picture } from '../../report/pictures/index.ts';
import { diffVersions, type VersionDiff } from '../diff/versions.ts';
import type { Transaction } from '../events/append.ts';
import { knownId } from '../identifier.ts';
import { findOpening } from '../openings/find.ts';
import { standingsOfOpening } from '../items/standings.ts';
import type { ItemStanding, ItemState } from '../items/state.ts';
import { calculationView, type CalculationView } from '../pages/calculation-view.ts';
import { picturesOfVersions } from '../pages/pictures.ts';
import type { Thread } from '../questions/rules.ts';
import { threadsOfItems } from '../questions/store.ts';
import { asMember, type RecordDeps } from '../use-case.ts';
import { versionsById, type VersionRecord } from '../versions/store.ts';
import { stateSections } from '../worklist/sections.ts';

/** An item that waits for a mark, with all that the engineer looks at before giving one. */
export interface ReviewedItem {
  readonly standing: ItemStanding;
  readonly version: VersionRecord;
  /** Prefix of the ids that the item's part of the page has. */
  readonly anchor: string;
  readonly lines: readonly string[];
  readonly calculation: CalculationView | null;
  readonly pictures: readonly Picture[];
  /** The newest version before this one that bears a mark, and what changed since; null where there is none. */
  readonly before: { readonly version: VersionRecord; readonly diff: VersionDiff } | null;
  readonly questions: readonly Thread[];
  readonly attachments: readonly AttachmentView[];
  /** The very file that a drawing is, by its hash; null for other kinds and where it is not there. */
  readonly sheet: Sheet | null;
  /** False while it is out of date: it can be returned, not approved. */
  readonly mayApprove: boolean;
}

export interface Sheet {
  readonly attachmentId: string;
  readonly name: string;
  readonly sha256: string;
  readonly pages: readonly number[];
}

export interface Review {
  readonly opening: { readonly id: string; readonly ordinal: number; readonly name: string };
  readonly items: readonly ReviewedItem[];
  /** How many wait in the whole opening. */
  readonly waiting: number;
  /** Hand in as `after` for the items that follow; null where these are the last. */
  readonly next: string | null;
}

/** As many items as one page shows whole; the others follow on the next one. */
const PAGE = 25;

const waits: readonly ItemState['is'][] = stateSections.engineer['to mark'];

/**
 * The items of an opening that wait for a mark, along the load path, each whole. A fixed number of queries,
 * however many items there are.
 *
 * @throws NotFound for an opening of another project.
 */
export async function readReview(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string; readonly after?: string },
): Promise<Review> {
  const openingId = knownId(input.openingId, 'That opening');
  return asMember(deps, actor, 'mark.create', async (tx, present) => {
    const { projectId, role } = present;
    const opening = await findOpening(tx, present, openingId);
    const standings = await standingsOfOpening(tx, deps.kinds, present, openingId);
    const waiting = standings.filter(({ state }) => waits.includes(state.is));
    const start = waiting.findIndex(({ facts }) => facts.itemId === input.after) + 1;
    const shown = waiting.slice(start, start + PAGE);
    const itemIds = shown.map(({ facts }) => facts.itemId);
    const versionIds = shown.flatMap(({ facts }) => (facts.newest === null ? [] : [facts.newest.versionId]));
    const [newest, lastMarked, threads, attachments] = await Promise.all([
      versionsById(tx, projectId, versionIds),
      lastMarkedBefore(tx, projectId, itemIds, versionIds),
      threadsOfItems(tx, projectId, itemIds),
      attachmentsOf(tx, projectId, role, 'item', itemIds),
    ]);
    const [versions, before] = [byItem(newest), byItem(lastMarked)];
    const rows = shown.flatMap((standing, place) => {
      const version = versions.get(standing.facts.itemId);
      return version === undefined ? [] : [{ standing, version, anchor: `i${start + place + 1}-` }];
    });
    const drawn = rows.map(({ standing, version, anchor }) => ({
      kind: standing.facts.kind,
      content: version.content,
      restsOn: version.restsOn,
      calculation: version.calculation,
      idPrefix: anchor,
    }));
    const [sheets, pictures] = await Promise.all([
      sheetsOf(tx, projectId, [...versions.values()]),
      picturesOfVersions(tx, projectId, drawn),
    ]);
    return {
      opening: { id: opening.id, ordinal: opening.ordinal, name: opening.name },
      waiting: waiting.length,
      next: start + PAGE < waiting.length ? (itemIds.at(-1) ?? null) : null,
      items: rows.map(({ standing, version, anchor }, place): ReviewedItem => {
        const { itemId, kind } = standing.facts;
        const marked = before.get(itemId);
        return {
          standing,
          version,
          anchor,
          lines: deps.kinds.get(kind).describe(version.content),
          calculation: calculationView(version.calculation),
          pictures: pictures[place] ?? [],
          before:
            marked === undefined
              ? null
              : { version: marked, diff: diffVersions(deps.kinds, kind, marked, version) },
          questions: threads.filter((thread) => thread.itemId === itemId && thread.open),
          attachments: attachments.filter((one) => one.subjectId === itemId),
          sheet: sheets.get(fileOf(version) ?? '') ?? null,
          mayApprove: standing.stale.length === 0,
        };
      }),
    };
  });
}

function byItem(versions: readonly VersionRecord[]): ReadonlyMap<string, VersionRecord> {
  return new Map(versions.map((version) => [version.itemId, version]));
}

/** Of each item the newest version that bears a mark, the shown ones left out. */
async function lastMarkedBefore(
  tx: Transaction,
  projectId: string,
  itemIds: readonly string[],
  shownIds: readonly string[],
): Promise<VersionRecord[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT DISTINCT ON (v.item_id) v.id FROM version v JOIN mark m ON m.version_id = v.id
    WHERE v.project_id = ${projectId}::uuid AND v.item_id = ANY(${[...itemIds]}::uuid[])
      AND v.id <> ALL(${[...shownIds]}::uuid[])
    ORDER BY v.item_id, v.number DESC`;
  return versionsById(
    tx,
    projectId,
    rows.map((row) => row.id),
  );
}

/** The hash of the file that a drawing's content names. */
function fileOf({ content }: VersionRecord): string | undefined {
  const { sha256 } = (content ?? {}) as { sha256?: unknown };
  return typeof sha256 === 'string' ? sha256 : undefined;
}

const MOST_PAGES = 20;

async function sheetsOf(
  tx: Transaction,
  projectId: string,
  versions: readonly VersionRecord[],
): Promise<ReadonlyMap<string, Sheet>> {
  const hashes = versions.flatMap((version) => fileOf(version) ?? []);
  if (hashes.length === 0) return new Map();
  const files = await tx.attachment.findMany({
    where: { projectId, sha256: { in: hashes } },
    select: { id: true, sha256: true, originalName: true, caption: true, pageCount: true },
  });
  return new Map(
    files.map(({ id, sha256, originalName, caption, pageCount }) => {
      const count = Math.min(Math.max(1, pageCount ?? 1), MOST_PAGES);
      const pages = Array.from({ length: count }, (_, page) => page + 1);
      return [sha256, { attachmentId: id, sha256, name: caption === '' ? originalName : caption, pages }];
    }),
  );
}
