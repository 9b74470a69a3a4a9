import { parseLength } from '../../engineering/units/length.ts';
import type { Field, FormSpec, ListField, Typed } from './spec.ts';

export interface Reading {
  /** Nested content, for the schema to judge. */
  readonly content: Record<string, unknown>;
  /** Name → sentence for what could not even be read as a number or a length. */
  readonly problems: Record<string, string>;
}

/** Keeps the text fields of a request body; files, repeated names and foreign objects are dropped. */
export function typedFrom(body: unknown): Record<string, string> {
  const typed: Record<string, string> = {};
  if (typeof body !== 'object' || body === null) return typed;
  for (const [name, value] of Object.entries(body)) {
    if (typeof value === 'string') typed[name] = value.replaceAll('\r\n', '\n');
  }
  return typed;
}

/** The values of one name that a form may send several times: boxes that are ticked. */
export function chosenFrom(body: unknown, name: string): string[] {
  if (typeof body !== 'object' || body === null) return [];
  const value: unknown = (body as Record<string, unknown>)[name];
  return [value].flat().filter((one): one is string => typeof one === 'string');
}

export function readForm(spec: FormSpec, typed: Typed): Reading {
  const problems: Record<string, string> = {};
  const content: Record<string, unknown> = {};
  readFields(spec.fields, typed, '', content, problems);
  return { content, problems };
}

function readFields(
  fields: readonly Field[],
  typed: Typed,
  prefix: string,
  into: Record<string, unknown>,
  problems: Record<string, string>,
): void {
  for (const field of fields) {
    const when = 'when' in field ? field.when : undefined;
    if (when !== undefined && !when.is.includes(typed[prefix + when.field] ?? '')) continue;
    if (field.kind === 'group') {
      if (field.prefix === undefined) {
        readFields(field.fields, typed, prefix, into, problems);
        continue;
      }
      if (field.optional && !anythingTyped(field.fields, typed, `${prefix}${field.prefix}.`)) continue;
      const inner: Record<string, unknown> = {};
      readFields(field.fields, typed, `${prefix}${field.prefix}.`, inner, problems);
      into[field.prefix] = inner;
    } else if (field.kind === 'list') {
      into[field.name] = rowNumbers(field, typed, prefix).map((row) => {
        const inner: Record<string, unknown> = {};
        readFields(field.fields, typed, `${prefix}${field.name}.${row}.`, inner, problems);
        return inner;
      });
    } else {
      const value = readValue(field, typed[prefix + field.name] ?? '', prefix + field.name, problems);
      if (value !== undefined) into[field.name] = value;
    }
  }
}

function anythingTyped(fields: readonly Field[], typed: Typed, prefix: string): boolean {
  return fields.some((field) => 'name' in field && (typed[prefix + field.name] ?? '').trim() !== '');
}

/** The rows that the form holds, in order; rows may have gaps after one was taken out. */
export function rowNumbers(field: ListField, typed: Typed, prefix = ''): number[] {
  const start = `${prefix}${field.name}.`;
  const rows = new Set<number>();
  for (const name of Object.keys(typed)) {
    if (!name.startsWith(start)) continue;
    const row = /^(\d{1,3})\./.exec(name.slice(start.length));
    if (row !== null) rows.add(Number(row[1]));
  }
  return [...rows].sort((a, b) => a - b).slice(0, field.max);
}

function readValue(
  field: Exclude<Field, { kind: 'group' | 'list' }>,
  text: string,
  name: string,
  problems: Record<string, string>,
): unknown {
  const trimmed = text.trim();
  if (field.kind === 'checkbox') return trimmed === 'yes';
  if (trimmed === '') {
    if (field.blankIsText === true) return '';
    if (field.optional !== true) problems[name] = `${field.label}: fill this in.`;
    return undefined;
  }
  switch (field.kind) {
    case 'text':
    case 'textarea':
    case 'select':
      return trimmed;
    case 'length': {
      const reading = parseLength(trimmed, { bareNumber: 'nothing' });
      if ('inches' in reading) return reading.inches;
      problems[name] = `${field.label}: ${reading.problem}`;
      return undefined;
    }
    case 'number': {
      const value = readNumber(withoutUnit(trimmed, field.unit));
      if (value !== null && (field.whole !== true || Number.isInteger(value))) return value;
      problems[name] = `${field.label}: enter ${field.whole ? 'a whole number' : 'a number'}.`;
      return undefined;
    }
  }
}

/** '25 psf' in a box of psf says the same as '25'; another unit stays, and is no number. */
function withoutUnit(text: string, unit: string | undefined): string {
  if (unit === undefined || !text.toLowerCase().endsWith(unit.toLowerCase())) return text;
  return text.slice(0, -unit.length).trim();
}

/** '1,500' and '.5' are numbers; '1e309', '12ft' and '' are not. */
export function readNumber(text: string): number | null {
  const plain = text.replace(
    /^(-?\d{1,3})((?:,\d{3})+)(?=\.|$)/,
    (_, head: string, rest: string) => head + rest.replaceAll(',', ''),
  );
  if (!/^-?(\d+(\.\d*)?|\.\d+)(e[+-]?\d{1,3})?$/i.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
}
