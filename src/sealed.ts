import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto';

/** What is sealed: each purpose has a key of its own, so that what was sealed for one opens for no other. */
export type SealedFor = 'lintelbook webhook secrets' | 'lintelbook one-time codes';

const keyOf = (secret: string, purpose: SealedFor) =>
  Buffer.from(hkdfSync('sha256', secret, '', purpose, 32));
const NONCE = 12;
const TAG = 16;

/** Encrypts under the installation's secret (AES-256-GCM, SP 800-38D): a copy of the table alone is worth nothing. */
export function seal(text: string, secret: string, purpose: SealedFor): string {
  const nonce = randomBytes(NONCE);
  const cipher = createCipheriv('aes-256-gcm', keyOf(secret, purpose), nonce);
  const body = Buffer.concat([cipher.update(text, 'utf8'), cipher.final()]);
  return Buffer.concat([nonce, cipher.getAuthTag(), body]).toString('base64url');
}

/** @throws Error where it was sealed under another secret or for another purpose, or changed since */
export function unseal(sealed: string, secret: string, purpose: SealedFor): string {
  const bytes = Buffer.from(sealed, 'base64url');
  const decipher = createDecipheriv('aes-256-gcm', keyOf(secret, purpose), bytes.subarray(0, NONCE));
  decipher.setAuthTag(bytes.subarray(NONCE, NONCE + TAG));
  return Buffer.concat([decipher.update(bytes.subarray(NONCE + TAG)), decipher.final()]).toString('utf8');
}
