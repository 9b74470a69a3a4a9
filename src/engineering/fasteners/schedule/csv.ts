import { formatQuantity } from '../../trace/index.ts';
import { MOST_MEMBERS, RESULT_HEADINGS, scheduleColumns, type Column } from './csv-columns.ts';
import { readCell, readRecords, writeRecords } from './csv-text.ts';
import type { RowJudgement } from './judgement.ts';
import { fasteningRowSchema, type FasteningRow } from './row.ts';

export interface CsvError {
  /** As the spreadsheet numbers it: the heading is row 1. */
  readonly row: number;
  /** Heading of the column; empty where the whole row is meant. */
  readonly column: string;
  readonly sentence: string;
}

export interface ParsedSchedule {
  readonly rows: readonly FasteningRow[];
  /** For each of `rows`, where it stands in the file: the heading is row 1. */
  readonly rowNumbers: readonly number[];
  readonly errors: readonly CsvError[];
}

/** Larger than any house's schedule. */
const MOST_ROWS = 500;
const LONGEST_TEXT = 2_000_000;

/** Value of a row at a column’s path; undefined where the row has none. */
export function valueAt(from: unknown, path: readonly (string | number)[]): unknown {
  let value = from;
  for (const key of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<string | number, unknown>)[key];
  }
  return value;
}

/** A value as the schedule prints it: yes, no, a number, a text. */
export function cellText(value: unknown): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number' || typeof value === 'string') return String(value);
  return '';
}

/**
 * The schedule as CSV, one record for each row. With judgements, four columns of results are appended; they are
 * for reading and are ignored when the file comes back.
 */
export function serialiseSchedule(
  rows: readonly FasteningRow[],
  judgements?: readonly RowJudgement[],
): string {
  const pieces = Math.max(2, ...rows.map((row) => row.members.length));
  const columns = scheduleColumns(pieces);
  const headings = columns.map((column) => column.heading);
  const records = rows.map((row) => columns.map((column) => cellText(valueAt(row, column.path))));
  if (judgements === undefined) return writeRecords([headings, ...records]);
  const results = rows.map((row) => {
    const judged = judgements.find((judgement) => judgement.rowId === row.id);
    if (judged === undefined) return ['', '', '', ''];
    return [
      formatQuantity(judged.demand),
      formatQuantity(judged.capacity),
      Number.isFinite(judged.ratio) ? judged.ratio.toFixed(2) : 'no capacity',
      judged.passes ? 'yes' : 'no',
    ];
  });
  return writeRecords([
    [...headings, ...RESULT_HEADINGS],
    ...records.map((record, index) => [...record, ...(results[index] ?? [])]),
  ]);
}

type Raw = Record<string | number, unknown>;

/** Sets raw[path] = value; arrays come about where the next key is a number. */
function setAt(raw: Raw, path: readonly (string | number)[], value: unknown): void {
  let place: Raw = raw;
  path.forEach((key, depth) => {
    if (depth === path.length - 1) {
      place[key] = value;
      return;
    }
    place[key] ??= typeof path[depth + 1] === 'number' ? [] : {};
    place = place[key] as Raw;
  });
}

/** The cell as a value, or a sentence about what is wrong with it. */
function readValue(column: Column, text: string): { value: unknown } | { sentence: string } {
  switch (column.kind) {
    case 'text':
    case 'optional text':
      return { value: text };
    case 'number': {
      const value = Number(text.trim());
      return Number.isFinite(value) && text.trim() !== ''
        ? { value }
        : { sentence: `"${text}" is not a number.` };
    }
    case 'yes or no': {
      const word = text.trim().toLowerCase();
      if (word === 'yes' || word === 'true') return { value: true };
      if (word === 'no' || word === 'false') return { value: false };
      return { sentence: `"${text}" must be yes or no.` };
    }
  }
}

/** The heading under which a value of a row stands in the file; empty for the row as a whole. */
export function headingOf(path: string): string {
  return path === '' ? '' : columnFor(scheduleColumns(MOST_MEMBERS), path.split('.'));
}

/** The first column at or under the path of a finding. */
function columnFor(columns: readonly Column[], path: readonly PropertyKey[]): string {
  const under = (column: Column): boolean =>
    path.every((key, depth) => depth >= column.path.length || String(column.path[depth]) === String(key));
  return (
    (columns.find((column) => column.path.length >= path.length && under(column)) ?? columns.find(under))
      ?.heading ?? ''
  );
}

function readRow(
  record: readonly string[],
  columns: readonly (Column | undefined)[],
  rowNumber: number,
): { row?: FasteningRow; errors: CsvError[] } {
  const errors: CsvError[] = [];
  const raw: Raw = {};
  const known = columns.filter((column) => column !== undefined);
  const pieceFilled = Array.from({ length: MOST_MEMBERS }, (_, index) =>
    columns.some(
      (column, at) => column?.path[0] === 'members' && column.path[1] === index && (record[at] ?? '') !== '',
    ),
  );
  columns.forEach((column, at) => {
    if (column === undefined) return;
    const text = readCell(record[at] ?? '');
    const emptyPiece = column.path[0] === 'members' && pieceFilled[Number(column.path[1])] !== true;
    if (text === '' && (column.kind !== 'text' || emptyPiece)) return;
    const read = readValue(column, text);
    if ('sentence' in read) errors.push({ row: rowNumber, column: column.heading, sentence: read.sentence });
    else setAt(raw, column.path, read.value);
  });
  if (errors.length > 0) return { errors };
  const parsed = fasteningRowSchema.safeParse(raw);
  if (parsed.success) return { row: parsed.data, errors };
  for (const issue of parsed.error.issues) {
    if (issue.code === 'unrecognized_keys') {
      for (const key of issue.keys) {
        const column = columnFor(known, [...issue.path, key]);
        errors.push({
          row: rowNumber,
          column,
          sentence: 'This cell does not go with the kind chosen in this row; leave it empty.',
        });
      }
    } else {
      const missing = valueAt(raw, issue.path as (string | number)[]) === undefined;
      errors.push({
        row: rowNumber,
        column: columnFor(known, issue.path),
        sentence: missing ? 'This cell must be filled in.' : issue.message,
      });
    }
  }
  return { errors };
}

/**
 * Reads a schedule back. Every error names the row and the column as the spreadsheet shows them; rows without
 * error are returned all the same, so that the page can show both.
 */
export function parseSchedule(text: string): ParsedSchedule {
  if (text.length > LONGEST_TEXT) {
    return {
      rows: [],
      rowNumbers: [],
      errors: [{ row: 1, column: '', sentence: 'The file is too long to be a fastening schedule.' }],
    };
  }
  const { records, problem } = readRecords(text);
  if (problem !== undefined) return { rows: [], rowNumbers: [], errors: [{ ...problem, column: '' }] };
  const [heading, ...body] = records;
  if (heading === undefined || heading.every((cell) => cell.trim() === '')) {
    return {
      rows: [],
      rowNumbers: [],
      errors: [{ row: 1, column: '', sentence: 'The file is empty: its first row must hold the headings.' }],
    };
  }
  const filled = body
    .map((record, index) => ({ record, rowNumber: index + 2 }))
    .filter(({ record }) => record.some((cell) => cell.trim() !== ''));
  if (filled.length > MOST_ROWS) {
    return {
      rows: [],
      rowNumbers: [],
      errors: [{ row: MOST_ROWS + 2, column: '', sentence: `A schedule has at most ${MOST_ROWS} rows.` }],
    };
  }
  const all = scheduleColumns(MOST_MEMBERS);
  const names = heading.map((cell) => readCell(cell).trim());
  const ignored: readonly string[] = RESULT_HEADINGS;
  const errors: CsvError[] = [];
  const columns = names.map((name, index) => {
    const column = all.find((candidate) => candidate.heading === name);
    const spare = name === '' || ignored.includes(name);
    if (column === undefined && !spare) {
      errors.push({ row: 1, column: name, sentence: `There is no column "${name}" in the schedule.` });
    }
    if (column !== undefined && names.indexOf(name) !== index) {
      errors.push({ row: 1, column: name, sentence: `The column "${name}" appears twice.` });
      return undefined;
    }
    return column;
  });
  const rows: FasteningRow[] = [];
  const rowNumbers: number[] = [];
  for (const { record, rowNumber } of filled) {
    const read = readRow(record, columns, rowNumber);
    errors.push(...read.errors);
    if (read.row === undefined) continue;
    const { id } = read.row;
    if (rows.some((row) => row.id === id)) {
      errors.push({ row: rowNumber, column: 'id', sentence: `The id "${id}" is used by a row above.` });
    } else {
      rows.push(read.row);
      rowNumbers.push(rowNumber);
    }
  }
  return { rows, rowNumbers, errors };
}
