import { cellText, valueAt } from './csv.ts';
import { MOST_MEMBERS, scheduleColumns } from './csv-columns.ts';
import type { FasteningRow } from './row.ts';

export interface RowChange {
  /** Heading of the schedule's column. */
  readonly heading: string;
  readonly was: string;
  readonly now: string;
}

/** What differs between two states of a row, column by column: the revision mark of a printed schedule. */
export function rowChanges(before: FasteningRow, after: FasteningRow): readonly RowChange[] {
  return scheduleColumns(MOST_MEMBERS)
    .map(({ heading, path }) => ({
      heading,
      was: cellText(valueAt(before, path)),
      now: cellText(valueAt(after, path)),
    }))
    .filter(({ was, now }) => was !== now);
}
