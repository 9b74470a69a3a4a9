import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

/**
 * The passwords of twelve characters and more among the million most used of ten million breached ones (OWASP ASVS 5.0,
 * 6.2.4 and 6.2.12), as hashes: none can be read here. Made by scripts/much-used-passwords.ts from the list
 * `10_million_password_list_top_1M` of the collection SecLists; its licence, Creative Commons Attribution-ShareAlike
 * 3.0, holds for the file of hashes, too.
 */
export const MUCH_USED_PASSWORDS = new URL('./much-used-passwords.bin', import.meta.url);

/** Six bytes in order: another password has the hash of one of them by chance once in six thousand million. */
export const RECORD_BYTES = 6;

export function recordOf(password: string): Buffer {
  const plain = password.normalize('NFC').toLowerCase();
  return createHash('sha256').update(plain).digest().subarray(0, RECORD_BYTES);
}

let records: Buffer | undefined;

/** Is it one of the list, in large letters or small? */
export function isMuchUsedPassword(password: string): boolean {
  records ??= readFileSync(MUCH_USED_PASSWORDS);
  const wanted = recordOf(password);
  let from = 0;
  let to = records.length / RECORD_BYTES;
  while (from < to) {
    const middle = Math.floor((from + to) / 2);
    const place = middle * RECORD_BYTES;
    const order = wanted.compare(records, place, place + RECORD_BYTES);
    if (order === 0) return true;
    if (order < 0) to = middle;
    else from = middle + 1;
  }
  return false;
}
