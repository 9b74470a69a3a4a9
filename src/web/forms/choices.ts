import type { Field, FormSpec, Option, Typed } from './spec.ts';

/** Options that are not known before the page is: by the name that a select gives in `optionsFrom`. */
export type Choices = Readonly<Record<string, readonly Option[]>>;

/** Options that read as they are kept. */
export function optionsOf(values: readonly string[]): Option[] {
  return values.map((value) => ({ value, text: value }));
}

/**
 * The form with the options of this page filled in. A value that is no longer among them (a file of an earlier
 * version) stays choosable as what it is, so that looking at a form changes nothing.
 */
export function withChoices(spec: FormSpec, choices: Choices, typed: Typed = {}): FormSpec {
  return { ...spec, fields: fieldsWith(spec.fields, choices, typed) };
}

function fieldsWith(fields: readonly Field[], choices: Choices, typed: Typed): Field[] {
  return fields.map((field) => {
    if (field.kind === 'group') return { ...field, fields: fieldsWith(field.fields, choices, typed) };
    if (field.kind !== 'select' || field.optionsFrom === undefined) return field;
    const options = choices[field.optionsFrom] ?? [];
    const value = typed[field.name] ?? '';
    const kept =
      value === '' || options.some((option) => option.value === value)
        ? []
        : [{ value, text: `as it is: ${value.slice(0, 12)}` }];
    return { ...field, options: [...field.options, ...kept, ...options] };
  });
}
