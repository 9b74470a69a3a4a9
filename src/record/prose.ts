import { Invalid } from '../problems.ts';

const LONGEST = 4000;

/**
 * Words that a person gave with an act (a reason, a note, a question), trimmed and with one kind of line end.
 *
 * @throws Invalid at the field where they are too long, or hold what PostgreSQL's text cannot (U+0000, halves of
 * a surrogate pair).
 */
export function prose(text: string, field: string): string {
  const trimmed = text.replace(/\r\n?/g, '\n').trim();
  if (trimmed.length > LONGEST) {
    throw new Invalid({ [field]: `That is longer than ${LONGEST} characters; shorten it.` });
  }
  if (!isKeepable(trimmed)) {
    throw new Invalid({ [field]: 'That holds a character that can’t be kept; type it again.' });
  }
  return trimmed;
}

/** Can PostgreSQL and canonical JSON hold it? U+0000 and halves of a surrogate pair they can't. */
export function isKeepable(text: string): boolean {
  return !text.includes('\0') && !/\p{Surrogate}/u.test(text);
}

/** Names in a sentence: 'the beam, the left support and row N1'. */
export function listed(names: readonly string[]): string {
  if (names.length <= 1) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
}
