import { z } from 'zod';

/** A line that a person wrote. PostgreSQL keeps no null characters; nobody types one. */
export const plainLine = z
  .string()
  .max(300, 'Use at most 300 characters.')
  .transform((text) => text.replaceAll('\0', '').trim());

/**
 * The same words in the letters of a keyboard: drawings set marks of feet and inches, dashes and joined letters that
 * nobody types. For searching, on both sides.
 */
export function plainLetters(text: string): string {
  return text
    .normalize('NFKC')
    .replace(/[\0\f]/g, ' ')
    .replace(/[‘’ʼ′]/g, "'")
    .replace(/[“”″]/g, '"')
    .replace(/[‐-―−]/g, '-');
}

/** What a file was called: control characters and folders are dropped; what is left is only ever shown. */
export function shownName(filename: string): string {
  const base = filename.split(/[/\\]/).at(-1) ?? '';
  // eslint-disable-next-line no-control-regex -- removing control characters is the point
  const plain = base.replace(/[\u0000-\u001f\u007f\u202a-\u202e\u2066-\u2069]/g, '').trim();
  return plain === '' ? 'unnamed' : plain.slice(0, 200);
}
