import { createHash, randomBytes } from 'node:crypto';

/** Begins every token, so that one left in a file or a log is recognised for what it is. */
export const tokenPrefix = 'lintelbook_';
const FORM = /^lintelbook_[\w-]{43}$/;

/** A new token: 256 random bits. It needs no slow hash: there is nothing to guess from. */
export function makeToken(): string {
  return tokenPrefix + randomBytes(32).toString('base64url');
}

/** SHA-256, hexadecimal: what is kept of a token. */
export function hashToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

/** The token of an Authorization header (RFC 6750, section 2.1); null where it holds none of ours. */
export function tokenOf(authorization: string | undefined): string | null {
  const [scheme = '', token = '', ...rest] = (authorization ?? '').split(' ');
  return scheme.toLowerCase() === 'bearer' && rest.length === 0 && FORM.test(token) ? token : null;
}
