import type { Field, FormSpec, Typed } from './spec.ts';

/** A box, or a whole list of rows, that two people changed differently. */
export interface BothChanged {
  /** Name of the box or of the list. */
  readonly name: string;
  readonly label: string;
}

export interface Merged {
  readonly values: Record<string, string>;
  readonly both: readonly BothChanged[];
}

/**
 * My changes on top of theirs: a box that I left as it was takes their value, one that I changed keeps mine. Where
 * both changed it, mine stands in the form and the box is named. A list of rows is one unit: rows have no names by
 * which two lists could be brought together without guessing.
 *
 * All three as `fillForm` writes them, so that '8 in' and '8"' are the same.
 */
export function mergeBoxes(
  spec: FormSpec,
  { base, mine, theirs }: { readonly base: Typed; readonly mine: Typed; readonly theirs: Typed },
): Merged {
  const units = unitsOf(spec.fields, '');
  const unitOf = (box: string) =>
    units.find((unit) => (unit.list ? box.startsWith(`${unit.name}.`) : box === unit.name))?.name ?? box;
  const grouped = (boxes: Typed) => {
    const groups = new Map<string, Record<string, string>>();
    for (const [box, text] of Object.entries(boxes)) {
      const unit = unitOf(box);
      groups.set(unit, { ...groups.get(unit), [box]: text });
    }
    return groups;
  };
  const [was, own, other] = [grouped(base), grouped(mine), grouped(theirs)];
  const values: Record<string, string> = {};
  const both: BothChanged[] = [];
  for (const unit of new Set([...own.keys(), ...other.keys(), ...was.keys()])) {
    const [before, my, their] = [was.get(unit), own.get(unit), other.get(unit)];
    const iChanged = !same(before, my);
    Object.assign(values, iChanged ? my : their);
    if (iChanged && !same(before, their) && !same(my, their)) {
      both.push({ name: unit, label: units.find(({ name }) => name === unit)?.label ?? unit });
    }
  }
  return { values, both };
}

interface Unit {
  readonly name: string;
  readonly label: string;
  readonly list: boolean;
}

function unitsOf(fields: readonly Field[], prefix: string): Unit[] {
  return fields.flatMap((field): Unit[] => {
    if (field.kind === 'group') {
      return unitsOf(field.fields, field.prefix === undefined ? prefix : `${prefix}${field.prefix}.`);
    }
    return [{ name: prefix + field.name, label: field.label, list: field.kind === 'list' }];
  });
}

function same(one: Typed | undefined, other: Typed | undefined): boolean {
  const names = new Set([...Object.keys(one ?? {}), ...Object.keys(other ?? {})]);
  return [...names].every((name) => (one?.[name] ?? '') === (other?.[name] ?? ''));
}
