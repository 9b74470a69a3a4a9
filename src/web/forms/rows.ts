import { rowNumbers } from './read.ts';
import type { Field, FormSpec, ListField, Typed } from './spec.ts';

/** What the pressed button asks: 'save', 'preview', 'draft', 'add:strips', 'remove:strips.2'. */
export type Press =
  | { readonly do: 'save' }
  | { readonly do: 'preview' }
  | { readonly do: 'draft' }
  | { readonly do: 'add'; readonly list: string }
  | { readonly do: 'remove'; readonly list: string; readonly row: number };

export function readPress(typed: Typed): Press {
  const pressed = typed.do ?? 'save';
  if (pressed === 'preview' || pressed === 'draft') return { do: pressed };
  if (pressed.startsWith('add:')) return { do: 'add', list: pressed.slice(4) };
  const removed = /^remove:(.+)\.(\d{1,3})$/.exec(pressed);
  if (removed !== null) return { do: 'remove', list: removed[1] ?? '', row: Number(removed[2]) };
  return { do: 'save' };
}

/** The boxes after a row was added or taken out; works without script, since the server does it. */
export function changeRows(spec: FormSpec, typed: Typed, press: Press): Record<string, string> {
  const boxes = { ...typed };
  if (press.do !== 'add' && press.do !== 'remove') return boxes;
  const list = findList(spec.fields, press.list);
  if (list === null) return boxes;
  const rows = rowNumbers(list, typed);
  if (press.do === 'remove') {
    for (const name of Object.keys(boxes)) {
      if (name.startsWith(`${list.name}.${press.row}.`)) Reflect.deleteProperty(boxes, name);
    }
  } else if (rows.length < list.max) {
    const next = (rows.at(-1) ?? -1) + 1;
    for (const field of list.fields) {
      if (field.kind !== 'group' && field.kind !== 'list') boxes[`${list.name}.${next}.${field.name}`] = '';
    }
    for (const [name, text] of Object.entries(list.start)) {
      boxes[`${list.name}.${next}.${name}`] = text.replaceAll('#', String(next + 1));
    }
  }
  return boxes;
}

/** Where the page opens after that: the new row, or the list that lost one. */
export function rowTouched(spec: FormSpec, changed: Typed, press: Press): string {
  if (press.do === 'remove') return press.list;
  const list = press.do === 'add' ? findList(spec.fields, press.list) : null;
  const last = list === null ? undefined : rowNumbers(list, changed).at(-1);
  return list === null || last === undefined ? '' : `${list.name}.${last}`;
}

function findList(fields: readonly Field[], name: string): ListField | null {
  for (const field of fields) {
    if (field.kind === 'list' && field.name === name) return field;
    if (field.kind === 'group') {
      const inner = findList(field.fields, name);
      if (inner !== null) return inner;
    }
  }
  return null;
}

/** Which rows each list of the form holds, for the template. */
export function rowsOf(spec: FormSpec, typed: Typed): Record<string, number[]> {
  const rows: Record<string, number[]> = {};
  const visit = (fields: readonly Field[]) => {
    for (const field of fields) {
      if (field.kind === 'list') rows[field.name] = rowNumbers(field, typed);
      if (field.kind === 'group') visit(field.fields);
    }
  };
  visit(spec.fields);
  return rows;
}
