import type { z } from 'zod';
import type { Calculation, OutputValue } from '../calculation.ts';

/** Every kind of item, in the order in which they are listed: bases first, then along the load path. */
export const itemKinds = [
  'criteria',
  'survey',
  'service',
  'beam',
  'support',
  'footing',
  'hanger',
  'fastening',
  'shoring',
  'drawing',
] as const;
export type ItemKind = (typeof itemKinds)[number];

/** An item's newest version, as far as another item needs to know it. */
export interface ContextItem {
  readonly itemId: string;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  /** Number and hash of the newest version. */
  readonly number: number;
  readonly hash: string;
  /** As the kind's schema gave it when it was saved. */
  readonly content: unknown;
  readonly outputs: Readonly<Record<string, OutputValue>>;
}

/** What a calculation may look at: the item itself, and the newest versions of the kinds it declares to rest on. */
export interface ItemContext {
  readonly self: { readonly itemId: string; readonly key: string; readonly title: string };
  readonly items: readonly ContextItem[];
}

/** One thing that an item rests on, with the figures taken from it. */
export interface RestsOn {
  readonly on: ContextItem;
  /** What is taken, in trade words: 'left reaction of the beam'. Tells two entries on one item apart. */
  readonly label: string;
  readonly values: Readonly<Record<string, OutputValue>>;
}

/** One entry of a survey: a framing run, a wall above, a brace. */
export interface Observation {
  readonly id: string;
  readonly label: string;
}

/**
 * A kind of item: what it holds, what it says of itself, what it rests on and how it is calculated. `restsOn` and
 * `calculate` may throw the engine's `Refusal`; its sentence and path reach the form.
 */
export interface ItemKindDefinition<Content> {
  readonly kind: ItemKind;
  readonly title: string;
  /** False for the bases, criteria, survey and services: they are versioned and never marked. */
  readonly reviewable: boolean;
  /** The kinds that `restsOn` and `calculate` look at; nothing else is in the context. */
  readonly restsOnKinds: readonly ItemKind[];
  readonly schema: z.ZodType<Content>;
  /** Names for the paths of the content, dotted, list positions as '*': { 'member.plies': 'plies' }. */
  readonly labels?: Readonly<Record<string, string>>;
  /** Rows of the content that files may belong to, each with a name that it keeps from version to version. */
  observations?(content: Content): readonly Observation[];
  /** Short lines in trade words. */
  describe(content: Content): readonly string[];
  restsOn(content: Content, context: ItemContext): readonly RestsOn[];
  /** Null where the kind has nothing to calculate. */
  calculate(content: Content, context: ItemContext): Calculation | null;
}

/** The newest version of a kind of which there is one in an opening; undefined where there is none yet. */
export function onlyOf(context: ItemContext, kind: ItemKind): ContextItem | undefined {
  return context.items.find((item) => item.kind === kind);
}

/** The newest versions of all items of a kind, in the order of their keys. */
export function allOf(context: ItemContext, kind: ItemKind): readonly ContextItem[] {
  return context.items.filter((item) => item.kind === kind);
}
