/**
 * Comma-separated text by RFC 4180: quoted where needed, CRLF between records. Cells that a spreadsheet would
 * run as a formula get a leading apostrophe on the way out and lose it on the way in.
 */
const RISKY_START = /^[=+\-@\t\r\n']/;
const NUMBER = /^-?\d+(\.\d+)?(e-?\d+)?$/i;

/** Text made harmless for a spreadsheet; `readCell` gives back exactly what went in. */
export function guardCell(text: string): string {
  return RISKY_START.test(text) && !NUMBER.test(text) ? `'${text}` : text;
}

export function readCell(cell: string): string {
  return cell.startsWith("'") ? cell.slice(1) : cell;
}

function quote(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

export function writeRecords(records: readonly (readonly string[])[]): string {
  return records.map((record) => `${record.map((cell) => quote(guardCell(cell))).join(',')}\r\n`).join('');
}

export interface CsvProblem {
  /** Record number, the first line is 1. */
  readonly row: number;
  readonly sentence: string;
}

export interface CsvRecords {
  readonly records: readonly (readonly string[])[];
  readonly problem?: CsvProblem;
}

/** Records of the text; blank lines are left out but counted. A quote that never closes is a problem. */
export function readRecords(text: string): CsvRecords {
  const source = text.startsWith('\uFEFF') ? text.slice(1) : text;
  const records: string[][] = [];
  let record: string[] = [];
  let cell = '';
  let quoted = false;
  for (let at = 0; at < source.length; at += 1) {
    const character = source.charAt(at);
    if (quoted) {
      if (character !== '"') cell += character;
      else if (source.charAt(at + 1) === '"') {
        cell += '"';
        at += 1;
      } else quoted = false;
    } else if (character === '"' && cell === '') quoted = true;
    else if (character === ',') {
      record.push(cell);
      cell = '';
    } else if (character === '\n' || character === '\r') {
      if (character === '\r' && source.charAt(at + 1) === '\n') at += 1;
      record.push(cell);
      records.push(record);
      record = [];
      cell = '';
    } else cell += character;
  }
  if (quoted) {
    return {
      records,
      problem: { row: records.length + 1, sentence: 'A quotation mark is opened and never closed.' },
    };
  }
  if (cell !== '' || record.length > 0) records.push([...record, cell]);
  return { records };
}
