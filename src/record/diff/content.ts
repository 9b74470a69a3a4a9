import { diffWords, type WordRun } from './words.ts';
import { exactValue, plainName, plainValue } from './labels.ts';

/** One place where two contents differ. */
export interface ContentChange {
  /** Dotted, as form fields are named; rows that have an id by it: 'braces.b2.positionIn'. */
  readonly path: string;
  /** In trade words: 'braces b2, position'. */
  readonly label: string;
  /** As it was; null where it was not there. */
  readonly was: string | null;
  /** As it is now; null where it is gone. */
  readonly now: string | null;
  /** Word by word, for texts of more than a few words that both have. */
  readonly words?: readonly WordRun[];
}

export type Labels = Readonly<Record<string, string>>;

interface Place {
  readonly path: readonly string[];
  /** The same with '*' for rows, as labels name it. */
  readonly pattern: readonly string[];
  readonly words: readonly string[];
}

/** Where two contents differ, in the order of the newer one; what is gone comes after what is there. */
export function diffContent(was: unknown, now: unknown, labels: Labels = {}): readonly ContentChange[] {
  const changes: ContentChange[] = [];
  compare({ path: [], pattern: [], words: [] }, was, now, labels, changes);
  return changes;
}

function isGroup(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function compare(place: Place, was: unknown, now: unknown, labels: Labels, changes: ContentChange[]): void {
  if (Array.isArray(was) && Array.isArray(now)) {
    compareRows(place, was, now, labels, changes);
  } else if (isGroup(was) && isGroup(now)) {
    for (const name of new Set([...Object.keys(now), ...Object.keys(was)])) {
      compare(inside(place, name, labels), was[name], now[name], labels, changes);
    }
  } else if (isGroup(was ?? now) || Array.isArray(was ?? now)) {
    // All of it came or went (or changed its very form): told leaf by leaf.
    if (was !== undefined) leaves(place, was, labels, changes, 'was');
    if (now !== undefined) leaves(place, now, labels, changes, 'now');
  } else if (was !== now) {
    changes.push(leaf(place, was, now));
  }
}

function inside(place: Place, name: string, labels: Labels): Place {
  const path = [...place.path, name];
  const pattern = [...place.pattern, name];
  return { path, pattern, words: [...place.words, labels[pattern.join('.')] ?? plainName(name)] };
}

/**
 * Rows are the same row where they have the same id (or key); rows without one, by their place. A name that comes
 * twice is told apart by its count, so that no row hides another.
 */
function namedRows(rows: readonly unknown[]): Map<string, unknown> {
  const named = new Map<string, unknown>();
  for (const [index, row] of rows.entries()) {
    const name = rowName(row, index);
    let unique = name;
    for (let count = 2; named.has(unique); count += 1) unique = `${name} (${count})`;
    named.set(unique, row);
  }
  return named;
}

function rowName(row: unknown, index: number): string {
  if (isGroup(row)) {
    if (typeof row.id === 'string') return row.id;
    if (typeof row.key === 'string') return row.key;
  }
  return String(index + 1);
}

function rowPlace(place: Place, name: string): Place {
  const words = place.words.slice(0, -1);
  const last = place.words.at(-1);
  return {
    path: [...place.path, name],
    pattern: [...place.pattern, '*'],
    words: [...words, last === undefined ? name : `${last} ${name}`],
  };
}

function compareRows(
  place: Place,
  was: readonly unknown[],
  now: readonly unknown[],
  labels: Labels,
  changes: ContentChange[],
): void {
  const before = namedRows(was);
  for (const [name, row] of namedRows(now)) {
    compare(rowPlace(place, name), before.get(name), row, labels, changes);
    before.delete(name);
  }
  for (const [name, row] of before) compare(rowPlace(place, name), row, undefined, labels, changes);
}

function leaves(
  place: Place,
  value: unknown,
  labels: Labels,
  changes: ContentChange[],
  side: 'was' | 'now',
): void {
  if (Array.isArray(value)) {
    for (const [name, row] of namedRows(value)) leaves(rowPlace(place, name), row, labels, changes, side);
  } else if (isGroup(value)) {
    for (const [name, part] of Object.entries(value)) {
      leaves(inside(place, name, labels), part, labels, changes, side);
    }
  } else {
    changes.push(side === 'was' ? leaf(place, value, undefined) : leaf(place, undefined, value));
  }
}

const FEW_WORDS = 3;

function leaf(place: Place, was: unknown, now: unknown): ContentChange {
  const name = place.path.at(-1) ?? '';
  const shown = {
    path: place.path.join('.'),
    label: place.words.join(', '),
    was: was === undefined ? null : plainValue(name, was),
    now: now === undefined ? null : plainValue(name, now),
  };
  if (typeof was === 'number' && typeof now === 'number' && shown.was === shown.now) {
    return { ...shown, was: exactValue(name, was), now: exactValue(name, now) };
  }
  if (typeof was === 'string' && typeof now === 'string') {
    const long = [was, now].some((text) => text.trim().split(/\s+/).length > FEW_WORDS);
    if (long) return { ...shown, words: diffWords(was, now) };
  }
  return shown;
}
