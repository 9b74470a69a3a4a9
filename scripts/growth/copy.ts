import { createHash, randomUUID } from 'node:crypto';
import { canonicalJson, sha256Hex } from '../../src/record/canonical.ts';
import { checklistHash, GENESIS_HASH, setHash } from '../../src/record/hash.ts';
import type { Original, OriginalRow } from './original.ts';
import { fill, type Pattern, type Replacements } from './pattern.ts';

export type CopiedRow = readonly (string | null)[];

interface LoggedEvent {
  readonly row: OriginalRow;
  /** Its payload, in the ids of the original. */
  readonly said: Readonly<Record<string, unknown>>;
}

/** Columns that no two rows may share and that no id or hash of the record makes different. */
const OWN_IN_EVERY_COPY: Readonly<Record<string, (value: string, copy: number) => string>> = {
  'person.email': (value, copy) => value.replace('@', `.${copy}@`),
  'invitation.token_hash': (value, copy) => sha256Hex(`${value} ${copy}`),
};

/**
 * Another project with the same history: new ids everywhere, and every hash that covers an id made anew in the order of
 * the log, so that the copy is a record that verifies like any other.
 */
export class Copier {
  readonly #original: Original;
  readonly #log: readonly LoggedEvent[];
  readonly #versions: ReadonlyMap<number, OriginalRow>;
  readonly #sets: ReadonlyMap<number, OriginalRow>;
  readonly #checks: ReadonlyMap<number, readonly OriginalRow[]>;
  readonly #kinds: ReadonlyMap<number, string>;

  constructor(original: Original) {
    this.#original = original;
    const rows = (table: string) => original.tables.get(table)?.rows ?? [];
    const asItWas = { ids: original.lexicon.ids, hashes: original.lexicon.hashes };
    this.#log = rows('event')
      .map((row) => ({ row, said: JSON.parse(filled(row, 'payload', asItWas)) as Record<string, unknown> }))
      .sort((one, other) => numberOf(one.row, 'seq') - numberOf(other.row, 'seq'));
    this.#versions = new Map(rows('version').map((row) => [idOf(row, 'id'), row]));
    this.#sets = new Map(rows('approved_set').map((row) => [idOf(row, 'id'), row]));
    this.#kinds = new Map(rows('item').map((row) => [idOf(row, 'id'), literal(row, 'kind')]));
    const checks = new Map<number, OriginalRow[]>();
    for (const row of rows('check')) {
      const set = idOf(row, 'set_id');
      checks.set(set, [...(checks.get(set) ?? []), row]);
    }
    this.#checks = checks;
  }

  /** @yields the rows of each table, values in the order of its columns */
  *rows(copy: number): Generator<{ table: string; rows: readonly CopiedRow[] }> {
    const to = this.#replacements();
    for (const { name, columns, rows } of this.#original.tables.values()) {
      yield {
        table: name,
        rows: rows.map((row) =>
          columns.map((column) => {
            const pattern = row[column] ?? null;
            if (pattern === null) return null;
            const value = fill(pattern, to);
            return OWN_IN_EVERY_COPY[`${name}.${column}`]?.(value, copy) ?? value;
          }),
        ),
      };
    }
  }

  #replacements(): Replacements {
    const hashes: string[] = [];
    const to = { ids: this.#original.lexicon.ids.map(() => randomUUID()), hashes };
    let prevHash = GENESIS_HASH;
    for (const { row, said } of this.#log) {
      const type = literal(row, 'type');
      if (type === 'version.saved') this.#hashVersion(String(said.versionId), to);
      if (type === 'set.issued') this.#hashSet(String(said.setId), to);
      if (type === 'checklist.produced') this.#hashChecklist(said, to);
      prevHash = this.#hashEvent(row, prevHash, to);
    }
    return to;
  }

  #idIndex(id: string): number {
    return onlyId(this.#original.lexicon.pattern(id));
  }

  #put(hash: Pattern, value: string, to: { readonly hashes: string[] }): void {
    to.hashes[onlyHash(hash)] = value;
  }

  #hashVersion(id: string, to: Replacements & { readonly hashes: string[] }): void {
    const row = found(this.#versions, this.#idIndex(id), 'version');
    // The canonical texts as they stand: an id for an id changes nothing of their form.
    const covered =
      `{"calculationHash":"${filled(row, 'calculation_hash', to)}","content":${filled(row, 'content', to)},` +
      `"engineVersion":${JSON.stringify(filled(row, 'engine_version', to))},` +
      `"kind":"${found(this.#kinds, idOf(row, 'item_id'), 'item')}","restsOn":${filled(row, 'rests_on', to)}}`;
    this.#put(column(row, 'hash'), sha256Hex(covered), to);
  }

  #hashSet(id: string, to: Replacements & { readonly hashes: string[] }): void {
    const row = found(this.#sets, this.#idIndex(id), 'set');
    this.#put(column(row, 'hash'), setHash(filled(row, 'content', to)), to);
  }

  #hashChecklist(said: LoggedEvent['said'], to: Replacements & { readonly hashes: string[] }): void {
    const [after, count] = [Number(said.after), Number(said.checks)];
    const sum = checklistHash();
    const rows = [...found(this.#checks, this.#idIndex(String(said.setId)), 'checklist')]
      .filter((row) => numberOf(row, 'ordinal') > after && numberOf(row, 'ordinal') <= after + count)
      .sort((one, other) => numberOf(one, 'ordinal') - numberOf(other, 'ordinal'));
    for (const row of rows) {
      sum.add({
        id: filled(row, 'id', to),
        versionId: row.version_id == null ? null : filled(row, 'version_id', to),
        source: filled(row, 'source', to),
        localVisit: filled(row, 'local_visit', to),
        key: filled(row, 'key', to),
        ordinal: numberOf(row, 'ordinal'),
        visitKind: filled(row, 'visit_kind', to),
        title: filled(row, 'title', to),
        criterion: filled(row, 'criterion', to),
        clause: filled(row, 'clause', to),
        howToLook: filled(row, 'how_to_look', to),
        photoRequired: literal(row, 'photo_required') === 'true',
        holdPoint: filled(row, 'hold_point', to),
      });
    }
    to.hashes[this.#original.lexicon.hashIndex(String(said.hash))] = sum.digest();
  }

  #hashEvent(event: OriginalRow, prevHash: string, to: Replacements & { readonly hashes: string[] }): string {
    const actorId = event.actor_id == null ? null : filled(event, 'actor_id', to);
    const head = canonicalJson({
      actorId,
      actorName: filled(event, 'actor_name', to),
      at: new Date(literal(event, 'at')).toISOString(),
    });
    const tail = canonicalJson({
      prevHash,
      projectId: filled(event, 'project_id', to),
      seq: numberOf(event, 'seq'),
      type: literal(event, 'type'),
    });
    const covered = `${head.slice(0, -1)},"payload":${filled(event, 'payload', to)},${tail.slice(1)}`;
    const hash = createHash('sha256').update(covered).digest('hex');
    this.#put(column(event, 'hash'), hash, to);
    return hash;
  }
}

function column(row: OriginalRow, name: string): Pattern {
  const pattern = row[name];
  if (pattern == null) throw new Error(`A row of the original has no ${name}.`);
  return pattern;
}

function filled(row: OriginalRow, name: string, to: Replacements): string {
  return fill(column(row, name), to);
}

/** A value in which nothing is replaced. */
function literal(row: OriginalRow, name: string): string {
  const [part] = column(row, name).parts;
  if (typeof part !== 'string') throw new Error(`${name} of the original names an id or a hash.`);
  return part;
}

function numberOf(row: OriginalRow, name: string): number {
  return Number(literal(row, name));
}

function idOf(row: OriginalRow, name: string): number {
  return onlyId(column(row, name));
}

function onlyId({ parts }: Pattern): number {
  const [part] = parts;
  if (typeof part !== 'object' || !('id' in part)) throw new Error('Not an id.');
  return part.id;
}

function onlyHash({ parts }: Pattern): number {
  const [part] = parts;
  if (typeof part !== 'object' || !('hash' in part)) throw new Error('Not a hash of the record.');
  return part.hash;
}

function found<Key, Value>(map: ReadonlyMap<Key, Value>, key: Key, what: string): Value {
  const value = map.get(key);
  if (value === undefined) throw new Error(`The log of the original names a ${what} that is not there.`);
  return value;
}
