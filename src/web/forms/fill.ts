import { formatFeetInches } from '../../engineering/units/length.ts';
import type { Field, FormSpec } from './spec.ts';

/** The boxes as they look for stored content: the reverse of `readForm`. */
export function fillForm(spec: FormSpec, content: unknown): Record<string, string> {
  const typed: Record<string, string> = {};
  fillFields(spec.fields, content, '', typed);
  return typed;
}

function fillFields(
  fields: readonly Field[],
  content: unknown,
  prefix: string,
  typed: Record<string, string>,
): void {
  const record = (typeof content === 'object' && content !== null ? content : {}) as Record<string, unknown>;
  for (const field of fields) {
    if (field.kind === 'group') {
      if (field.prefix === undefined) fillFields(field.fields, record, prefix, typed);
      else fillFields(field.fields, record[field.prefix], `${prefix}${field.prefix}.`, typed);
    } else if (field.kind === 'list') {
      const rows = record[field.name];
      if (!Array.isArray(rows)) continue;
      rows.forEach((row, index) => {
        fillFields(field.fields, row, `${prefix}${field.name}.${index}.`, typed);
      });
    } else {
      const text = textOf(field, record[field.name]);
      if (text !== undefined) typed[prefix + field.name] = text;
    }
  }
}

function textOf(field: Exclude<Field, { kind: 'group' | 'list' }>, value: unknown): string | undefined {
  if (value === undefined || value === null) return undefined;
  if (field.kind === 'checkbox') return value === true ? 'yes' : undefined;
  if (field.kind === 'length' && typeof value === 'number') return lengthText(value);
  if (typeof value === 'number') return String(value);
  return typeof value === 'string' ? value : undefined;
}

/** Feet and inches where 1/16 in says it exactly; else decimals of an inch, so that nothing is rounded away. */
function lengthText(inches: number): string {
  return Number.isInteger(inches * 16) ? formatFeetInches(inches, { to: 16 }) : `${inches}"`;
}
