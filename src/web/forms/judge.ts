import type { z } from 'zod';
import { placesOf } from './places.ts';
import { readForm, rowNumbers } from './read.ts';
import type { Field, FormSpec, Typed } from './spec.ts';

/** What a page draws a form from: the boxes as typed and a sentence for each box at fault. */
export interface FormState {
  readonly values: Typed;
  readonly errors: Readonly<Record<string, string>>;
  /** Where a box at fault is, for the list of all faults (places.ts). */
  readonly places?: Readonly<Record<string, string>>;
  /** The row just added ('strips.2') or the list that just lost one ('strips'): the page opens there. */
  readonly at?: string;
}

export type Judged<Content> =
  | { readonly ok: true; readonly content: Content; readonly form: FormState }
  | { readonly ok: false; readonly form: FormState };

/**
 * Reads and judges a form: what could not be read first, then what the schema refuses. Paths of the content
 * are led back to the boxes, where removed rows have left gaps in the numbering.
 */
export function judgeForm<Content>(
  spec: FormSpec,
  schema: z.ZodType<Content>,
  typed: Typed,
): Judged<Content> {
  const { content, problems } = readForm(spec, typed);
  const errors = { ...problems };
  const parsed = schema.safeParse(content);
  if (!parsed.success) {
    for (const issue of parsed.error.issues) {
      const name = boxName(spec.fields, typed, issue.path.map(String));
      errors[name] ??= issueSentence(issue, labelOf(spec.fields, issue.path.map(String)));
    }
  }
  if (!parsed.success || Object.keys(errors).length > 0)
    return { ok: false, form: { values: typed, errors, places: placesOf(spec, typed, Object.keys(errors)) } };
  return { ok: true, content: parsed.data, form: { values: typed, errors: {} } };
}

/** A plain flat form (sign-in, invitation): names are the schema's own keys. */
export function judgeFlat<Content>(schema: z.ZodType<Content>, typed: Typed): Judged<Content> {
  const parsed = schema.safeParse(typed);
  if (parsed.success) return { ok: true, content: parsed.data, form: { values: typed, errors: {} } };
  const errors: Record<string, string> = {};
  for (const issue of parsed.error.issues) errors[issue.path.join('.')] ??= issue.message;
  return { ok: false, form: { values: typed, errors } };
}

/** Content path → box name: 'strips.1.spanIn' of the content may sit in row 3 of the form. */
function boxName(fields: readonly Field[], typed: Typed, path: readonly string[]): string {
  const [head, index] = path;
  for (const field of flatten(fields)) {
    if (field.kind === 'list' && field.name === head && index !== undefined) {
      const row = rowNumbers(field, typed)[Number(index)];
      return [head, String(row ?? index), ...path.slice(2)].join('.');
    }
  }
  return path.join('.');
}

function flatten(fields: readonly Field[]): Field[] {
  return fields.flatMap((field) =>
    field.kind === 'group' && field.prefix === undefined ? flatten(field.fields) : [field],
  );
}

function labelOf(fields: readonly Field[], path: readonly string[]): string {
  const [head, ...rest] = path;
  for (const field of flatten(fields)) {
    if (field.kind === 'group') {
      if (field.prefix === head) return labelOf(field.fields, rest);
    } else if (field.name === head) {
      return field.kind === 'list' && rest.length > 1 ? labelOf(field.fields, rest.slice(1)) : field.label;
    }
  }
  return '';
}

function issueSentence(issue: z.core.$ZodIssue, label: string): string {
  const start = label === '' ? '' : `${label}: `;
  if (issue.code === 'custom') return issue.message;
  if (issue.code === 'too_small') {
    return issue.origin === 'string'
      ? `${start}fill this in.`
      : `${start}at least ${String(issue.minimum)}${issue.inclusive === false ? ', and more than that' : ''}.`;
  }
  if (issue.code === 'too_big') {
    return issue.origin === 'string'
      ? `${start}at most ${String(issue.maximum)} characters.`
      : `${start}at most ${String(issue.maximum)}.`;
  }
  if (issue.code === 'invalid_type') return `${start}fill this in.`;
  return `${start}${issue.message}.`;
}
