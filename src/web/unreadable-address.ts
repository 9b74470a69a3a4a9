import type { FastifyReply, FastifyRequest } from 'fastify';

/** What every other answer gets from the security plugin, which an address that can't be decoded never reaches. */
const HEADERS = {
  'content-security-policy':
    "default-src 'none'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; sandbox",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'strict-transport-security': 'max-age=31536000; includeSubDomains',
  'cache-control': 'no-store',
} as const;

/** An address with a broken percent sign or a part that is too long leads nowhere; nothing of it is repeated. */
export function unreadableAddress(_error: unknown, _request: FastifyRequest, reply: FastifyReply): void {
  // HSTS over plain HTTP is ignored by browsers (RFC 6797, 8.1): it may stand in either case.
  void reply
    .status(400)
    .headers(HEADERS)
    .type('text/plain; charset=utf-8')
    .send('That address can’t be read.\n');
}
