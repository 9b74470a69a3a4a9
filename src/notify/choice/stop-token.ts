import { createHmac, timingSafeEqual } from 'node:crypto';
import { isId } from '../../record/identifier.ts';

/**
 * The token of a letter's stop link: whose mail it ends, and a signature nobody can guess. It stays good, as letters
 * do; all it can do is end mail.
 */
export function stopToken(secret: string, personId: string): string {
  return `${personId}.${signature(secret, personId).toString('base64url')}`;
}

/** Whose mail a token ends; null for one that was not made here. */
export function readStopToken(secret: string, token: string): string | null {
  const [personId = '', signed = '', ...rest] = token.split('.');
  if (!isId(personId) || rest.length > 0) return null;
  const given = Buffer.from(signed, 'base64url');
  const right = signature(secret, personId);
  return given.length === right.length && timingSafeEqual(given, right) ? personId : null;
}

function signature(secret: string, personId: string): Buffer {
  return createHmac('sha256', secret).update(`stop mail\n${personId}`).digest();
}
