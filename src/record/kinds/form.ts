import type { FormSpec, Typed } from '../../web/forms/spec.ts';
import type { ItemKind } from './definition.ts';

/** How a kind is asked for on a page, and what a new one starts with. */
export interface KindForm {
  readonly kind: ItemKind;
  readonly spec: FormSpec;
  /** The boxes of a new item, filled as far as the opening's other items and the day in the house tell. */
  readonly start: (grounds: ReadonlyMap<ItemKind, unknown>, key: string, today: string) => Typed;
  /** Other beginnings, by the words they are chosen by; the page offers them above an untouched form. */
  readonly starts?: Readonly<Record<string, Typed>>;
  /** Mark and title of a new item, given those that are there. */
  readonly name: (keysThere: readonly string[]) => { readonly key: string; readonly title: string };
  /** A title from the content, where the title box may stay blank. */
  readonly titleFrom?: (content: unknown) => string;
  /** The page below the opening that lists the kind: a new item leads back to it, to the next one. */
  readonly list?: string;
}

export type KindForms = ReadonlyMap<ItemKind, KindForm>;
