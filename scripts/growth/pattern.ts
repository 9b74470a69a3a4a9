/** What a copy puts in the place of an id or a hash of the original. */
export interface Replacements {
  readonly ids: readonly string[];
  /** Filled while the copy is made: a hash stands only after what it covers. */
  readonly hashes: readonly string[];
}

type Part = string | { readonly id: number } | { readonly hash: number };

/** A value of a row, cut where an id or a hash of the record stands. */
export interface Pattern {
  readonly parts: readonly Part[];
}

const ID_OR_HASH = /[0-9a-f]{64}|[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}/g;

/** Numbers the ids and the hashes as they are met. */
export class Lexicon {
  readonly #ids = new Map<string, number>();
  readonly #hashes = new Map<string, number>();

  /** Only these are replaced: hashes of files and of calculations, which name nothing, stay as they are. */
  addHash(hash: string): number {
    const known = this.#hashes.get(hash) ?? this.#hashes.size;
    this.#hashes.set(hash, known);
    return known;
  }

  hashIndex(hash: string): number {
    const index = this.#hashes.get(hash);
    if (index === undefined) throw new Error(`${hash} is no hash of the record.`);
    return index;
  }

  get ids(): readonly string[] {
    return [...this.#ids.keys()];
  }

  get hashes(): readonly string[] {
    return [...this.#hashes.keys()];
  }

  pattern(value: string): Pattern {
    const parts: Part[] = [];
    let from = 0;
    for (const match of value.matchAll(ID_OR_HASH)) {
      const [found] = match;
      const part = found.length === 64 ? this.#hashPart(found) : { id: this.#idIndex(found) };
      if (part === null) continue;
      if (match.index > from) parts.push(value.slice(from, match.index));
      parts.push(part);
      from = match.index + found.length;
    }
    if (from < value.length || parts.length === 0) parts.push(value.slice(from));
    return { parts };
  }

  #hashPart(hash: string): { hash: number } | null {
    const known = this.#hashes.get(hash);
    return known === undefined ? null : { hash: known };
  }

  #idIndex(id: string): number {
    const known = this.#ids.get(id) ?? this.#ids.size;
    this.#ids.set(id, known);
    return known;
  }
}

export function fill({ parts }: Pattern, { ids, hashes }: Replacements): string {
  let text = '';
  for (const part of parts) {
    if (typeof part === 'string') text += part;
    else if ('id' in part) text += ids[part.id] ?? '';
    else text += hashes[part.hash] ?? '';
  }
  return text;
}
