import { NotFound } from '../problems.ts';

/** A part of a list that is at hand as a whole, as a page shows it. */
export interface ListPage<Entry> {
  readonly entries: readonly Entry[];
  readonly total: number;
  /** Places of the first and the last entry shown, from 1. */
  readonly from: number;
  readonly to: number;
  /** Hand in as `after` for the next page; null on the last one. */
  readonly next: string | null;
}

/**
 * A page of a list, after the entry with this key; the first one where none is named.
 *
 * @throws NotFound where no entry of the list has that key: an address that this program did not write
 */
export function listPage<Entry>(
  list: readonly Entry[],
  keyOf: (entry: Entry) => string,
  after: string | undefined,
  size: number,
): ListPage<Entry> {
  const place = after === undefined ? -1 : list.findIndex((entry) => keyOf(entry) === after);
  if (after !== undefined && place === -1) throw new NotFound('That page');
  const start = place + 1;
  const entries = list.slice(start, start + size);
  const to = start + entries.length;
  const last = entries.at(-1);
  return {
    entries,
    total: list.length,
    from: start + 1,
    to,
    next: to < list.length && last !== undefined ? keyOf(last) : null,
  };
}
