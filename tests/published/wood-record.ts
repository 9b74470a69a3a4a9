import { expect } from 'vitest';

/** One record of tests/published/reference, as far as the wood checks read it. */
export interface WoodRecord {
  readonly id: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: Readonly<Record<string, unknown>>;
  readonly tolerance: {
    readonly rel?: number;
    readonly abs?: number;
    readonly exact?: boolean;
    readonly note?: string;
  };
  readonly source: { readonly title: string; readonly section?: string };
  readonly provenance: string;
  readonly confidence: string;
}

export function woodRecords(file: { readonly records: unknown }): readonly WoodRecord[] {
  return file.records as readonly WoodRecord[];
}

/** The test's name: record, source, how it is known. */
export function named(record: WoodRecord): string {
  return `${record.id} — ${record.source.title} (${record.provenance})`;
}

/** A number of a record; throws where there is none, so that a renamed field can't pass unnoticed. */
export function numberOf(values: Readonly<Record<string, unknown>>, key: string): number {
  const entry = values[key];
  const value = typeof entry === 'object' && entry !== null && 'value' in entry ? entry.value : entry;
  if (typeof value !== 'number') throw new TypeError(`no number under ${key}`);
  return value;
}

export function textOf(values: Readonly<Record<string, unknown>>, key: string): string {
  const entry = values[key];
  const value = typeof entry === 'object' && entry !== null && 'value' in entry ? entry.value : entry;
  if (typeof value !== 'string') throw new TypeError(`no text under ${key}`);
  return value;
}

/** Holds a computed value against the record within the record's own tolerance. */
export function holds(record: WoodRecord, key: string, actual: number): void {
  const target = numberOf(record.expected, key);
  const { exact, rel, abs } = record.tolerance;
  const allowed =
    exact === true ? 1e-9 * Math.abs(target) : Math.max((rel ?? 0) * Math.abs(target), abs ?? 0);
  expect(Math.abs(actual - target), `${record.id} ${key}: ${actual} against ${target}`).toBeLessThanOrEqual(
    allowed,
  );
}
