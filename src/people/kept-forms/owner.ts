import { createHmac, timingSafeEqual } from 'node:crypto';

/**
 * Who a form was shown to, signed, so that the form can say it when the session that showed it is gone. It opens
 * nothing: it only decides for whom what was typed is kept.
 */
export function formOwnerToken(secret: string, personId: string): string {
  return `${personId}.${signature(secret, personId)}`;
}

/** The person a form was shown to; null for what this service did not sign. */
export function readFormOwner(secret: string, token: string | undefined): string | null {
  const [personId = '', signed = ''] = (token ?? '').split('.');
  const expected = Buffer.from(signature(secret, personId));
  const given = Buffer.from(signed);
  return given.length === expected.length && timingSafeEqual(given, expected) ? personId : null;
}

function signature(secret: string, personId: string): string {
  return createHmac('sha256', secret).update(`form owner ${personId}`).digest('base64url');
}
