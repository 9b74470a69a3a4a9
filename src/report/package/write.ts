import type { Writable } from 'node:stream';
import type { Actor } from '../../actor.ts';
import { acceptedTypes, type AcceptedType } from '../../attachments/media-types.ts';
import type { BlobStore } from '../../attachments/storage/blob-store.ts';
import { canonicalJson } from '../../record/canonical.ts';
import { openArchive, type Archive } from './archive.ts';
import { indexPage } from './index-page.ts';
import { MANIFEST, SUMS, sumsOf, type Manifest, type ManifestEntry } from './manifest.ts';
import { packedPapers, type PackedPaper, type PaperDeps } from './papers.ts';
import { asLines, withRows, type Row, type Rows } from './rows.ts';
import { packedTables } from './tables.ts';

export interface PackageDeps extends PaperDeps {
  readonly blobs: BlobStore;
}

export interface PackageOrder {
  readonly databaseUrl: string;
  readonly projectId: string;
  readonly projectName: string;
  /** In whose name papers are made; null for a project that nobody is in any more: it has no papers then. */
  readonly actor: Actor | null;
}

/** The name of a stored file in a package: its hash, and the ending that its kind has. */
export function fileName(sha256: string, mediaType: string): string {
  const known = Object.hasOwn(acceptedTypes, mediaType);
  return `files/${sha256}.${known ? acceptedTypes[mediaType as AcceptedType].extension : 'bin'}`;
}

const tableOf = (name: string) => {
  const found = packedTables.find(({ table }) => table === name);
  if (found === undefined) throw new Error(`The package has no table ${name}.`);
  return found;
};

/**
 * Writes all of a project's record as a ZIP: rows, files, papers, a page to read without the service, a manifest and
 * the list of sums. Nothing is held in memory but what is on its way, and the hashes.
 *
 * @throws BlobMissing where a file of the record is gone; HashFailure where its bytes are not those recorded. The
 * archive then has no end and no program opens it.
 */
export async function writePackage(deps: PackageDeps, order: PackageOrder, to: Writable): Promise<Manifest> {
  const madeAt = deps.clock();
  const archive = openArchive(to, madeAt);
  try {
    return await withRows(order.databaseUrl, order.projectId, async (rows) => {
      const entries: ManifestEntry[] = [];
      const counts: Record<string, number> = {};
      let head: Manifest['head'] = null;
      for (const table of packedTables) {
        let count = 0;
        const lines = asLines(rows.of(table), (row) => {
          count += 1;
          if (table.table === 'event') head = { seq: Number(row.seq), hash: String(row.hash) };
        });
        entries.push(await archive.add(`records/${table.table}.jsonl`, lines));
        counts[table.table] = count;
      }
      entries.push(...(await addFiles(deps, rows, archive)));
      entries.push(...(await addPapers(deps, order, rows, archive)));
      entries.push(await archive.add('index.html', indexPage(rows, order.projectName, madeAt, entries)));
      const manifest: Manifest = {
        format: 1,
        projectId: order.projectId,
        projectName: order.projectName,
        madeAt: madeAt.toISOString(),
        head,
        rows: counts,
        entries,
      };
      const said = await archive.add(MANIFEST, one(`${canonicalJson(manifest)}\n`));
      await archive.add(SUMS, one(sumsOf([...entries, said])));
      await archive.finish();
      return manifest;
    });
  } catch (error) {
    await archive.abandon(error);
    throw error;
  }
}

async function addFiles(deps: PackageDeps, rows: Rows, archive: Archive): Promise<ManifestEntry[]> {
  const entries = new Map<string, ManifestEntry>();
  for await (const row of rows.of(tableOf('attachment'))) {
    const sha256 = String(row.sha256);
    if (entries.has(sha256)) continue;
    const stream = await deps.blobs.open(sha256);
    const entry = await archive.add(fileName(sha256, String(row.media_type)), stream);
    if (entry.sha256 !== sha256 || entry.bytes !== row.bytes) {
      throw new Error(
        `The stored file of attachment ${String(row.id)} does not have the hash or size recorded.`,
      );
    }
    entries.set(sha256, entry);
  }
  return [...entries.values()];
}

async function addPapers(
  deps: PackageDeps,
  { actor }: PackageOrder,
  rows: Rows,
  archive: Archive,
): Promise<ManifestEntry[]> {
  if (actor === null) return [];
  const openings = await all(rows, 'opening');
  const ordinals = new Map(openings.map((row) => [row.id, String(row.ordinal)]));
  const entries: ManifestEntry[] = [];
  const subjects: Record<PackedPaper['of'], readonly Row[]> = {
    opening: openings,
    set: await all(rows, 'approved_set', ['id', 'opening_id', 'number']),
    'closed visit': await closedVisits(rows),
  };
  for (const { of, name, make } of packedPapers) {
    for (const row of subjects[of]) {
      const number = of === 'opening' ? '' : `-${String(row.number)}`;
      const opening = ordinals.get(of === 'opening' ? row.id : row.opening_id) ?? '0';
      const pdf = await make(deps, actor, String(row.id));
      entries.push(await archive.add(`papers/opening-${opening}-${name}${number}.pdf`, one(pdf)));
    }
  }
  return entries;
}

/** An open visit has nothing to print yet. */
async function closedVisits(rows: Rows): Promise<readonly Row[]> {
  const closings = await all(rows, 'visit_closing');
  const closed = new Set(closings.map((row) => row.visit_id));
  return (await all(rows, 'visit')).filter(({ id }) => closed.has(id));
}

async function all(rows: Rows, name: string, columns?: readonly string[]): Promise<readonly Row[]> {
  const table = tableOf(name);
  const found: Row[] = [];
  for await (const row of rows.of(columns === undefined ? table : { ...table, columns })) found.push(row);
  return found;
}

/** A file of one piece, as the archive takes files. */
async function* one(bytes: Buffer | string): AsyncGenerator<Buffer | string> {
  yield bytes;
}
