import { createHmac } from 'node:crypto';

/**
 * The headers by which a receiver knows that a call is ours, whole, and fresh: HMAC-SHA-256 (RFC 2104, FIPS 198-1) over
 * the seconds since 1970, a full stop, and the body as it was sent. The id is the same for each try of one call.
 */
export function signedHeaders(call: {
  readonly callId: string;
  readonly body: string;
  readonly secret: string;
  readonly at: Date;
}): Record<string, string> {
  const timestamp = String(Math.floor(call.at.getTime() / 1000));
  const signature = createHmac('sha256', call.secret).update(`${timestamp}.${call.body}`).digest('hex');
  return {
    'content-type': 'application/json; charset=utf-8',
    'user-agent': 'Lintelbook',
    'lintelbook-call': call.callId,
    'lintelbook-timestamp': timestamp,
    'lintelbook-signature': signature,
  };
}
