import { rowChanges, type FasteningRow, type RowChange } from '../../engineering/fasteners/index.ts';
import { rowFor } from '../../engineering/proposal/fastening-context.ts';
import { canonicalJson, sha256Hex } from '../canonical.ts';

/** A row of the record, as far as a proposal or a file is held against it. */
export interface KnownRow {
  readonly itemId: string;
  readonly key: string;
  readonly title: string;
  readonly number: number;
  readonly row: FasteningRow;
}

/** What taking a row over would mean. */
export type Compared =
  | { readonly is: 'new'; readonly row: FasteningRow; readonly sameJoint: readonly KnownRow[] }
  | { readonly is: 'same'; readonly row: FasteningRow; readonly there: KnownRow }
  | {
      readonly is: 'differs';
      readonly row: FasteningRow;
      readonly there: KnownRow;
      readonly changes: readonly RowChange[];
    };

function compareWith(row: FasteningRow, there: KnownRow): Compared {
  // Steel, concrete and wood figures that the schedule does not print count as well: the content decides.
  if (canonicalJson(row) === canonicalJson(there.row)) return { is: 'same', row, there };
  return { is: 'differs', row, there, changes: rowChanges(there.row, row) };
}

/**
 * Rows of a design against the rows that are there: by name, else the only one of its joint on both sides. A row that
 * is there keeps its name.
 */
export function compareProposed(
  proposed: readonly FasteningRow[],
  there: readonly KnownRow[],
): readonly Compared[] {
  return proposed.map((row) => {
    const alone = proposed.filter((other) => other.joint === row.joint).length === 1;
    const found = alone
      ? rowFor(
          there.map((one) => one.row),
          row.id,
          row.joint,
        )
      : there.find((one) => one.row.id === row.id)?.row;
    const known = there.find((one) => one.row === found);
    if (known !== undefined) return compareWith({ ...row, id: known.row.id }, known);
    return { is: 'new', row, sameJoint: there.filter((one) => one.row.joint === row.joint) };
  });
}

/** Rows of a file against the rows that are there, by name alone. */
export function compareByName(
  rows: readonly FasteningRow[],
  there: readonly KnownRow[],
): readonly Compared[] {
  return rows.map((row) => {
    const known = there.find((one) => one.row.id === row.id);
    return known === undefined ? { is: 'new', row, sameJoint: [] } : compareWith(row, known);
  });
}

/** Stands for exactly what was shown: the row, and the version that it would follow. */
export function digestOf(compared: Compared): string {
  const onto =
    compared.is === 'new' ? null : { itemId: compared.there.itemId, number: compared.there.number };
  return sha256Hex(canonicalJson({ row: compared.row, onto }));
}

const TITLE_LIMIT = 120;

/** 'Stud pack plies, left', 'Brace foot, Front brace 1': what a new row is called. */
export function titleOfRow({ id, joint, where }: FasteningRow): string {
  const name = joint.charAt(0).toUpperCase() + joint.slice(1);
  const side = /-(left|right|front|rear)$/.exec(id)?.[1];
  const place = side ?? (joint === 'brace foot' ? where.split(':')[0] : undefined);
  return (place === undefined ? name : `${name}, ${place}`).slice(0, TITLE_LIMIT);
}

/** The next free marks N1, N2, …, given those that are there: numbers that were used never come back. */
export function nextKeys(keysThere: readonly string[], count: number): readonly string[] {
  const highest = Math.max(0, ...keysThere.map((key) => Number(/^N(\d{1,6})$/.exec(key)?.[1] ?? 0)));
  return Array.from({ length: count }, (_, index) => `N${highest + index + 1}`);
}
