import { createHash, randomBytes } from 'node:crypto';
import { toBase32 } from './base32.ts';

export const RECOVERY_CODES = 10;
/** 28 signs of five bits are made of it: 140 bits, typed by hand from paper, so no longer than they need be. */
const RECOVERY_CODE_BYTES = 18;
const SIGNS = 28;

/** Ten codes as they are shown, once: seven groups of four. */
export function makeRecoveryCodes(): string[] {
  return Array.from({ length: RECOVERY_CODES }, () => {
    const signs = toBase32(randomBytes(RECOVERY_CODE_BYTES)).slice(0, SIGNS);
    return (signs.match(/.{4}/g) ?? []).join('-');
  });
}

/**
 * What is kept of a code. A plain hash will do from 112 bits on (OWASP ASVS 5.0, 6.5.2); a slow one is for what people
 * think up. Case, spaces and dashes do not count; 0, 1 and 8 are none of the signs, and are read as what they look like.
 */
export function recoveryCodeHash(typed: string): string {
  const signs = typed
    .toUpperCase()
    .replaceAll('0', 'O')
    .replaceAll('1', 'I')
    .replaceAll('8', 'B')
    .replace(/[^A-Z2-7]/g, '');
  return createHash('sha256').update(`recovery code ${signs}`).digest('hex');
}
