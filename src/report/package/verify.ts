import { fileName } from './write.ts';
import { calculationHash, eventHash, GENESIS_HASH, setHash, versionHash } from '../../record/hash.ts';
import { breakIf, Broken } from '../../record/verify/report.ts';
import { packedTables } from './tables.ts';
import { openPackage, type Package } from './unpack.ts';

type Row = Readonly<Record<string, unknown>>;

export interface VerifiedPackage {
  readonly projectId: string;
  readonly files: number;
  readonly events: number;
  readonly versions: number;
  readonly sets: number;
  readonly head: { readonly seq: number; readonly hash: string } | null;
}

const text = (value: unknown): string => (typeof value === 'string' ? value : '');

/**
 * Checks a package by itself: every file against its hash, the chain of events, the hashes of versions and sets, the
 * hash that each mark names, each attachment's file. Rows that no hash of their own covers are held by the sums of
 * the package only.
 *
 * @throws Broken at the first break, which names the file or the row.
 */
export async function verifyPackage(file: string): Promise<VerifiedPackage> {
  const opened = await openPackage(file);
  try {
    for (const name of opened.names) await readToItsEnd(opened, name);
    const { manifest } = opened;
    const tables = packedTables.map(({ table }) => table);
    breakIf(
      Object.keys(manifest.rows).sort().join() !== [...tables].sort().join(),
      'package',
      'manifest.json',
      'Its tables are not those of a record.',
    );
    for (const table of tables) await checkCount(opened, table);
    const head = await checkChain(opened);
    await checkVersionsAndMarks(opened);
    for await (const row of rowsOf(opened, 'approved_set')) {
      const hash = setHash(text(row.content));
      breakIf(
        hash !== row.hash,
        'approved_set',
        text(row.id),
        'It does not have the hash it is recorded with.',
      );
    }
    const names = new Set(opened.names);
    for await (const row of rowsOf(opened, 'attachment')) {
      const name = fileName(text(row.sha256), text(row.media_type));
      breakIf(!names.has(name), 'attachment', text(row.id), `Its file ${name} is not in the package.`);
    }
    for (const { name, sha256 } of manifest.entries) {
      const named = /^files\/([^.]+)\./.exec(name);
      breakIf(
        named !== null && named[1] !== sha256,
        'package',
        name,
        'Its bytes are not those that it is named for.',
      );
    }
    return {
      projectId: manifest.projectId,
      files: manifest.entries.length,
      events: manifest.rows.event ?? 0,
      versions: manifest.rows.version ?? 0,
      sets: manifest.rows.approved_set ?? 0,
      head,
    };
  } finally {
    opened.close();
  }
}

/** Its hash is judged at its end. */
async function readToItsEnd(opened: Package, name: string): Promise<void> {
  const bytes = opened.read(name);
  while ((await bytes.next()).done !== true);
}

async function checkCount(opened: Package, table: string): Promise<void> {
  let count = 0;
  for await (const row of rowsOf(opened, table)) {
    count += 1;
    breakIf(
      table === 'project' && row.id !== opened.manifest.projectId,
      table,
      text(row.id),
      'It is not the project of the manifest.',
    );
    breakIf(
      'project_id' in row && row.project_id !== opened.manifest.projectId,
      table,
      text(row.id),
      'It belongs to another project.',
    );
  }
  const said = opened.manifest.rows[table];
  breakIf(
    count !== said,
    'package',
    `records/${table}.jsonl`,
    `It has ${count} rows, and the manifest says ${said}.`,
  );
}

async function checkChain(opened: Package): Promise<VerifiedPackage['head']> {
  let prevHash = GENESIS_HASH;
  let seq = 0;
  for await (const row of rowsOf(opened, 'event')) {
    seq += 1;
    const name = String(seq);
    breakIf(row.seq !== seq, 'event', name, `Event ${seq} is missing.`);
    breakIf(
      row.prev_hash !== prevHash,
      'event',
      name,
      `Event ${seq} does not name the hash of the one before it.`,
    );
    const hash = eventHash({
      projectId: text(row.project_id),
      seq,
      at: new Date(text(row.at)),
      actorId: row.actor_id === null ? null : text(row.actor_id),
      actorName: text(row.actor_name),
      type: text(row.type),
      payload: JSON.parse(text(row.payload)) as unknown,
      prevHash,
    });
    breakIf(hash !== row.hash, 'event', name, `Event ${seq} does not have the hash it is recorded with.`);
    prevHash = hash;
  }
  const head = seq === 0 ? null : { seq, hash: prevHash };
  breakIf(
    JSON.stringify(head) !== JSON.stringify(opened.manifest.head),
    'package',
    'manifest.json',
    'The log does not end where the manifest says.',
  );
  return head;
}

async function checkVersionsAndMarks(opened: Package): Promise<void> {
  const kinds = new Map<string, string>();
  for await (const row of rowsOf(opened, 'item')) kinds.set(text(row.id), text(row.kind));
  const hashes = new Map<string, string>();
  for await (const row of rowsOf(opened, 'version')) {
    const id = text(row.id);
    const kind = kinds.get(text(row.item_id));
    if (kind === undefined) throw new Broken('version', id, 'Its item is not in the package.');
    breakIf(
      calculationHash(text(row.calculation)) !== row.calculation_hash,
      'version',
      id,
      'Its calculation does not have the hash it is recorded with.',
    );
    const hash = versionHash({
      kind,
      content: JSON.parse(text(row.content)) as unknown,
      restsOn: JSON.parse(text(row.rests_on)) as unknown,
      calculationHash: text(row.calculation_hash),
      engineVersion: text(row.engine_version),
    });
    breakIf(hash !== row.hash, 'version', id, 'It does not have the hash it is recorded with.');
    hashes.set(id, hash);
  }
  for await (const row of rowsOf(opened, 'mark')) {
    const hash = hashes.get(text(row.version_id));
    breakIf(hash !== row.version_hash, 'mark', text(row.id), 'It names another hash than its version has.');
  }
}

/** The rows of a table, one line at a time. */
export async function* rowsOf(opened: Package, table: string): AsyncGenerator<Row> {
  const name = `records/${table}.jsonl`;
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let rest: string[] = [];
  for await (const chunk of opened.read(name)) {
    const lines = decoder.decode(chunk, { stream: true }).split('\n');
    const last = lines.pop() ?? '';
    const [first, ...more] = lines;
    if (first === undefined) {
      rest.push(last);
      continue;
    }
    yield parsed(name, rest.join('') + first);
    for (const line of more) yield parsed(name, line);
    rest = [last];
  }
  breakIf(rest.join('') !== '', 'package', name, 'Its last line has no end.');
}

function parsed(name: string, line: string): Row {
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    throw new Broken('package', name, 'A line of it is no JSON.');
  }
  if (typeof value !== 'object' || value === null)
    throw new Broken('package', name, 'A line of it is no row.');
  return value as Row;
}
