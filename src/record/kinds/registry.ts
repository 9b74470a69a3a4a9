import type { ItemKind, ItemKindDefinition } from './definition.ts';
import { itemKinds } from './definition.ts';

/** The kinds that an installation knows, and the version of the engine that calculates them. */
export interface KindRegistry {
  readonly engineVersion: string;
  readonly all: readonly ItemKindDefinition<unknown>[];
  /** @throws Error for a kind that nobody defined: a fault of the program, not of the person. */
  get(kind: ItemKind): ItemKindDefinition<unknown>;
  has(kind: ItemKind): boolean;
  /** All that a kind rests on, through others, too: a support on the beam and by it on the survey. */
  groundsOf(kind: ItemKind): ReadonlySet<ItemKind>;
  /** The kinds that any other rests on. */
  readonly rested: readonly ItemKind[];
}

/**
 * @throws Error where a kind is defined twice, rests on one that is not defined, or rests on itself in a circle.
 */
export function kindRegistry(
  engineVersion: string,
  definitions: readonly ItemKindDefinition<unknown>[],
): KindRegistry {
  const byKind = new Map<ItemKind, ItemKindDefinition<unknown>>();
  for (const definition of definitions) {
    if (byKind.has(definition.kind)) throw new Error(`The kind ${definition.kind} is defined twice.`);
    byKind.set(definition.kind, definition);
  }
  const get = (kind: ItemKind) => {
    const found = byKind.get(kind);
    if (!found) throw new Error(`The kind ${kind} is not defined.`);
    return found;
  };

  const grounds = new Map<ItemKind, ReadonlySet<ItemKind>>();
  const collect = (kind: ItemKind, path: readonly ItemKind[]): ReadonlySet<ItemKind> => {
    if (path.includes(kind)) throw new Error(`Kinds rest on each other: ${[...path, kind].join(' → ')}.`);
    const known = grounds.get(kind);
    if (known) return known;
    const found = new Set<ItemKind>();
    for (const direct of get(kind).restsOnKinds) {
      found.add(direct);
      for (const further of collect(direct, [...path, kind])) found.add(further);
    }
    grounds.set(kind, found);
    return found;
  };
  for (const kind of byKind.keys()) collect(kind, []);

  const listed = itemKinds.filter((kind) => byKind.has(kind));
  return {
    engineVersion,
    all: listed.map(get),
    get,
    has: (kind) => byKind.has(kind),
    groundsOf: (kind) => collect(kind, []),
    rested: listed.filter((kind) => [...byKind.values()].some((other) => other.restsOnKinds.includes(kind))),
  };
}

/** The kinds in an order in which each comes after all that it rests on. */
export function alongTheLoadPath(kinds: KindRegistry): readonly ItemKind[] {
  return kinds.all
    .map((definition) => definition.kind)
    .sort(
      (one, other) =>
        kinds.groundsOf(one).size - kinds.groundsOf(other).size ||
        itemKinds.indexOf(one) - itemKinds.indexOf(other),
    );
}
