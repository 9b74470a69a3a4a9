import { z } from 'zod';
import { itemKinds, type ItemKind } from '../../record/kinds/definition.ts';

/** The name, in the description, of what an item of a kind holds. */
export function contentReference(kind: ItemKind): string {
  return `${kind.charAt(0).toUpperCase()}${kind.slice(1)}Content`;
}

/** The content of an item: judged by its kind's own schema, in the use case, with the kind known. */
export const contentSchema = z.record(z.string(), z.unknown()).meta({
  description: 'By the kind of the item.',
  anyOf: itemKinds.map((kind) => ({ $ref: `#/components/schemas/${contentReference(kind)}` })),
});

/** A content as it is kept: what an earlier version of a kind's schema took stays as it was. */
export const keptContentSchema = z
  .unknown()
  .meta({ description: 'As it was saved, by the kind of the item.' });
