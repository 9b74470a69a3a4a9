import type { Calculation } from '../calculation.ts';
import type { ItemKind } from '../kinds/definition.ts';

/** A drawing for a page: SVG made by src/report/drawings from numbers, never from a user's text unescaped. */
export interface Picture {
  readonly title: string;
  readonly svg: string;
}

export function picturesOf(
  _kind: ItemKind,
  _content: unknown,
  _calculation: Calculation | null,
): readonly Picture[] {
  return [];
}
