import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto';

const keyOf = (secret: string) =>
  Buffer.from(hkdfSync('sha256', secret, '', 'lintelbook webhook secrets', 32));
const NONCE = 12;
const TAG = 16;

/** Encrypts under the installation's secret (AES-256-GCM, SP 800-38D): the table alone signs nothing. */
export function seal(text: string, secret: string): string {
  const nonce = randomBytes(NONCE);
  const cipher = createCipheriv('aes-256-gcm', keyOf(secret), nonce);
  const body = Buffer.concat([cipher.update(text, 'utf8'), cipher.final()]);
  return Buffer.concat([nonce, cipher.getAuthTag(), body]).toString('base64url');
}

/** @throws Error where it was sealed under another secret, or changed since */
export function unseal(sealed: string, secret: string): string {
  const bytes = Buffer.from(sealed, 'base64url');
  const decipher = createDecipheriv('aes-256-gcm', keyOf(secret), bytes.subarray(0, NONCE));
  decipher.setAuthTag(bytes.subarray(NONCE, NONCE + TAG));
  return Buffer.concat([decipher.update(bytes.subarray(NONCE + TAG)), decipher.final()]).toString('utf8');
}
