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

/** 'Concrete, 2500 psi' for 'concrete, 2500 psi': what begins a line or a sentence, with nothing else of it changed. */
export function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** One full stop at the end, whether or not the words, which somebody typed, bring their own. */
export function withFullStop(text: string): string {
  return /[.!?…]$/.test(text) ? text : `${text}.`;
}

/** Several things in one sentence: those that are sentences themselves lose their full stop. */
export function joined(things: readonly string[]): string {
  return things.map(withoutFullStop).join('; ');
}

/** The stop of an initial, as in 'K. O.', belongs to the name and stays. */
export function withoutFullStop(text: string): string {
  return text.replace(/(?<!(^|\P{L})\p{Lu})\.$/u, '');
}
