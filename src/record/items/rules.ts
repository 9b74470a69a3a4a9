import { Invalid, Refused } from '../../problems.ts';
import type { ItemKind } from '../kinds/definition.ts';

/** The kinds of which an opening (for criteria: the project) holds one. */
const single: ReadonlySet<ItemKind> = new Set(['criteria', 'survey', 'beam', 'shoring']);

const KEY = /^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$/;

/**
 * Judges what a new item is called and where it belongs. Criteria belong to the project, all else to an opening.
 *
 * @throws Invalid at the field; @throws Refused where the kind has its one item already.
 */
export function judgeNewItem(item: {
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly openingId: string | null;
  /** Keys of the items of this kind that are there. */
  readonly keysThere: readonly string[];
}): void {
  const { kind, key, title, openingId, keysThere } = item;
  const fields: Record<string, string> = {};
  if (!KEY.test(key)) {
    fields.key = 'Give a short mark of letters, digits, dots or dashes: N1, left, A-101.';
  } else if (keysThere.includes(key)) {
    fields.key = `There is one with the mark ${key} already.`;
  }
  if (title === '' || title.length > 120) fields.title = 'Give a title of at most 120 characters.';
  if (kind === 'criteria' && openingId !== null) fields.openingId = 'Criteria belong to the whole project.';
  if (kind !== 'criteria' && openingId === null) fields.openingId = 'This belongs to an opening.';
  if (Object.keys(fields).length > 0) throw new Invalid(fields);
  if (single.has(kind) && keysThere.length > 0) {
    throw new Refused(
      kind === 'criteria' ? 'The project has its criteria already.' : `The opening has its ${kind} already.`,
    );
  }
}
