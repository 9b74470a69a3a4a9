import { Prisma } from '../../database/generated/client.ts';
import { readOutputs } from '../calculation.ts';
import type { Transaction } from '../events/append.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import { readTogether, type ProjectViewer } from '../read-together.ts';
import { readGrounds, staleItems, type GroundedItem, type GroundItem, type StaleReason } from './rules.ts';

interface NewestRow {
  readonly item_id: string;
  readonly project_id: string;
  readonly opening_id: string | null;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly number: number;
  readonly hash: string;
  readonly content: string;
  readonly rests_on: string;
  readonly outputs: string | null;
}

// Cut out of the text as it stands (json, not jsonb): the figures come back digit for digit.
const outputs = Prisma.sql`
  CASE WHEN v.calculation = '' THEN NULL ELSE (v.calculation::json -> 'outputs')::text END`;

const newestVersion = Prisma.sql`
  JOIN LATERAL (SELECT * FROM version WHERE item_id = i.id ORDER BY number DESC LIMIT 1) v ON true`;

/** What items of these openings may rest on: newest versions of the kinds others rest on, and the project's own. */
async function groundRows(
  tx: Transaction,
  kinds: KindRegistry,
  projectIds: readonly string[],
  openingIds: readonly string[],
): Promise<NewestRow[]> {
  return tx.$queryRaw<NewestRow[]>`
    SELECT i.id AS item_id, i.project_id, i.opening_id, i.kind::text AS kind, i.key, i.title,
           v.number, v.hash, v.content, v.rests_on, ${outputs} AS outputs
    FROM item i ${newestVersion}
    WHERE i.project_id = ANY(${[...projectIds]}::uuid[])
      AND i.kind = ANY(${[...kinds.rested]}::item_kind[])
      AND (i.opening_id IS NULL OR i.opening_id = ANY(${[...openingIds]}::uuid[]))
    ORDER BY i.kind, list_key(i.key), i.key`;
}

function groundItem(row: NewestRow): GroundItem {
  return {
    itemId: row.item_id,
    projectId: row.project_id,
    openingId: row.opening_id,
    kind: row.kind,
    key: row.key,
    title: row.title,
    number: row.number,
    hash: row.hash,
    content: JSON.parse(row.content) as unknown,
    outputs: readOutputs(row.outputs),
  };
}

function groundedItem(row: Omit<NewestRow, 'number' | 'hash' | 'outputs'>): GroundedItem {
  return {
    itemId: row.item_id,
    projectId: row.project_id,
    openingId: row.opening_id,
    kind: row.kind,
    key: row.key,
    title: row.title,
    content: JSON.parse(row.content) as unknown,
    restsOn: readGrounds(row.rests_on),
  };
}

/** The newest versions that an item of this opening may rest on. */
export async function groundsOfOpening(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  openingId: string | null,
): Promise<GroundItem[]> {
  const rows = await groundRows(tx, kinds, [projectId], openingId === null ? [] : [openingId]);
  return rows.map(groundItem);
}

/** Which items to look at: those of whole projects, of one opening, or some of a project by id. */
export type StalenessScope =
  | { readonly projectIds: readonly string[] }
  | { readonly projectId: string; readonly openingId: string }
  | { readonly projectId: string; readonly itemIds: readonly string[] };

function scopeCondition(scope: StalenessScope): Prisma.Sql {
  if ('projectIds' in scope) return Prisma.sql`i.project_id = ANY(${[...scope.projectIds]}::uuid[])`;
  if ('openingId' in scope) {
    return Prisma.sql`i.project_id = ${scope.projectId}::uuid AND i.opening_id = ${scope.openingId}::uuid`;
  }
  return Prisma.sql`i.project_id = ${scope.projectId}::uuid AND i.id = ANY(${[...scope.itemIds]}::uuid[])`;
}

/**
 * The items in scope that are stale, with the reasons: two queries, however many items there are. The first finds
 * the few whose grounds have a newer version than themselves (only those can be stale); the second reads what
 * these rest on, and `staleItems` compares figure by figure.
 */
export async function loadStale(
  tx: Transaction,
  kinds: KindRegistry,
  scope: StalenessScope,
): Promise<ReadonlyMap<string, readonly StaleReason[]>> {
  const pairs = kinds.all.flatMap(({ kind }) =>
    [...kinds.groundsOf(kind)].map((ground) => ({ kind, ground })),
  );
  if (pairs.length === 0) return new Map();
  const projects =
    'projectIds' in scope
      ? Prisma.sql`ANY(${[...scope.projectIds]}::uuid[])`
      : Prisma.sql`ANY(${[scope.projectId]}::uuid[])`;
  const candidates = await tx.$queryRaw<NewestRow[]>`
    WITH pair AS (
      SELECT * FROM unnest(${pairs.map((pair) => pair.kind)}::item_kind[],
                           ${pairs.map((pair) => pair.ground)}::item_kind[]) AS p(kind, ground)
    ), ground AS (
      SELECT g.project_id, g.opening_id, g.kind, max(v.created_at) AS newest_at
      FROM item g
      JOIN LATERAL (SELECT created_at FROM version WHERE item_id = g.id ORDER BY number DESC LIMIT 1) v ON true
      WHERE g.project_id = ${projects} AND g.kind = ANY(${[...kinds.rested]}::item_kind[])
      GROUP BY g.project_id, g.opening_id, g.kind
    )
    SELECT i.project_id, i.id AS item_id, i.opening_id, i.kind::text AS kind, i.key, i.title,
           v.content, v.rests_on
    FROM item i ${newestVersion}
    WHERE ${scopeCondition(scope)} AND EXISTS (
      SELECT 1 FROM pair JOIN ground ON ground.kind = pair.ground
      WHERE pair.kind = i.kind AND ground.project_id = i.project_id
        AND (ground.opening_id IS NULL OR ground.opening_id = i.opening_id)
        AND ground.newest_at >= v.created_at
    )`;
  if (candidates.length === 0) return new Map();
  const openings = new Set(candidates.flatMap((row) => (row.opening_id === null ? [] : [row.opening_id])));
  const rows = await groundRows(
    tx,
    kinds,
    [...new Set(candidates.map((row) => row.project_id))],
    [...openings],
  );
  const items = new Map<string, GroundedItem>();
  for (const row of [...rows, ...candidates]) items.set(row.item_id, groundedItem(row));
  const stale = staleItems(kinds, [...items.values()], rows.map(groundItem));
  const asked = new Set(candidates.map((row) => row.item_id));
  return new Map([...stale].filter(([itemId]) => asked.has(itemId)));
}

/** The stale items of one opening. */
export async function staleOfOpening(
  tx: Transaction,
  kinds: KindRegistry,
  viewer: ProjectViewer,
  openingId: string,
): Promise<ReadonlyMap<string, readonly StaleReason[]>> {
  const { projectId } = viewer;
  return readTogether(viewer, ['stale', openingId], () => loadStale(tx, kinds, { projectId, openingId }));
}
