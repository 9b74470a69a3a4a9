import { rowNumbers } from './read.ts';
import type { Field, FormSpec, Typed } from './spec.ts';

/**
 * Where the boxes at fault are, where their labels alone don't tell: 'strip 2' for a box of a list, the title of its
 * group for a label that stands in the form several times ('Species'). By name of the box.
 */
export function placesOf(
  { fields }: FormSpec,
  typed: Typed,
  names: readonly string[],
): Readonly<Record<string, string>> {
  const labels = labelsOf(fields);
  const often = (label: string) => labels.filter((one) => one === label).length > 1;
  const places = names.map((name) => [name, placeOf(fields, typed, name, '', '', often)] as const);
  return Object.fromEntries(places.filter(([, place]) => place !== ''));
}

function labelsOf(fields: readonly Field[]): string[] {
  return fields.flatMap((field) =>
    field.kind === 'group' ? labelsOf(field.fields) : field.kind === 'list' ? [] : [field.label],
  );
}

function placeOf(
  fields: readonly Field[],
  typed: Typed,
  name: string,
  prefix: string,
  around: string,
  often: (label: string) => boolean,
): string {
  for (const field of fields) {
    if (field.kind === 'group') {
      const inner = field.prefix === undefined ? prefix : `${prefix}${field.prefix}.`;
      const found = placeOf(field.fields, typed, name, inner, field.label, often);
      if (found !== '') return found;
    } else if (field.kind === 'list') {
      const start = `${prefix}${field.name}.`;
      if (!name.startsWith(start)) continue;
      const row = rowNumbers(field, typed, prefix).indexOf(Number(name.slice(start.length).split('.')[0]));
      return row === -1 ? '' : `${field.one.toLowerCase()} ${row + 1}`;
    } else if (prefix + field.name === name) {
      return often(field.label) ? around : '';
    }
  }
  return '';
}

/** 'Dead load (strip 2): fill this in.': a sentence as the list of all faults says it, apart from its box. */
export function faultInPlace(sentence: string, place: string | undefined): string {
  if (place === undefined || place === '') return sentence;
  const label = /^[^:“]{1,80}(?=: )/.exec(sentence)?.[0];
  return label === undefined
    ? `${place.charAt(0).toUpperCase()}${place.slice(1)}: ${sentence}`
    : `${label} (${place})${sentence.slice(label.length)}`;
}
