import {
  headingOf,
  judgeRow,
  parseSchedule,
  serialiseSchedule,
  type CsvError,
  type RowJudgement,
} from '../../engineering/fasteners/index.ts';
import { Refusal, type Editions } from '../../engineering/trace/index.ts';
import type { OutputValue } from '../calculation.ts';
import { compareByName, type Compared, type KnownRow } from './compare.ts';
import type { RowThere } from './store.ts';

/** Excel takes a file for UTF-8 only where it begins so. */
const BYTE_ORDER_MARK = '\uFEFF';

export interface ImportPlan {
  readonly errors: readonly CsvError[];
  /** Empty where there are errors: nothing is kept until all rows are good. */
  readonly rows: readonly Compared[];
  /** Rows of the record that the file does not have; they stay as they are. */
  readonly missing: readonly KnownRow[];
}

/** The file judged whole: its cells, its rows, and what the engine says of each. */
export function planImport(text: string, there: readonly KnownRow[], editions: Editions): ImportPlan {
  const parsed = parseSchedule(text);
  const errors = [...parsed.errors, ...sharedNames(there)];
  parsed.rows.forEach((row, index) => {
    try {
      judgeRow(row, editions);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const place = parsed.rowNumbers[index] ?? 1;
      errors.push({ row: place, column: headingOf(error.path), sentence: error.message });
    }
  });
  if (errors.length === 0 && parsed.rows.length === 0) {
    errors.push({ row: 1, column: '', sentence: 'The file has headings and no rows.' });
  }
  errors.sort((one, other) => one.row - other.row);
  if (errors.length > 0) return { errors, rows: [], missing: [] };
  const names = new Set(parsed.rows.map((row) => row.id));
  return {
    errors,
    rows: compareByName(parsed.rows, there),
    missing: there.filter((one) => !names.has(one.row.id)),
  };
}

/** A name that two rows of the record have can't tell which of them a line of the file means. */
function sharedNames(there: readonly KnownRow[]): CsvError[] {
  const shared = there.filter(
    (one, index) => there.findIndex((other) => other.row.id === one.row.id) < index,
  );
  return shared.map((one) => ({
    row: 1,
    column: 'id',
    sentence: `Row ${one.key} has the short name "${one.row.id}" of another row. Rename one of them in its form first.`,
  }));
}

/** The schedule as a file: RFC 4180, with what each version came to in columns that are not read back. */
export function exportSchedule(there: readonly RowThere[]): string {
  return (
    BYTE_ORDER_MARK +
    serialiseSchedule(
      there.map((one) => one.row),
      there.flatMap(judgementOf),
    )
  );
}

function judgementOf({ row, version }: RowThere): RowJudgement[] {
  const { calculation } = version;
  const quantity = (value: OutputValue | undefined) => (typeof value === 'object' ? value : undefined);
  const demand = quantity(calculation?.outputs.demand);
  const capacity = quantity(calculation?.outputs.capacity);
  if (calculation === null || demand === undefined || capacity === undefined) return [];
  const { checks, notices } = calculation;
  const governing = checks.find(
    (check) => check.demand.value === demand.value && check.capacity.value === capacity.value,
  );
  return [
    {
      rowId: row.id,
      demand,
      capacity,
      ratio: governing?.ratio ?? 0,
      passes: checks.every((check) => check.passes),
      governing,
      checks,
      advice: [],
      notices,
    },
  ];
}
