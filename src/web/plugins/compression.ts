import { pipeline, Readable } from 'node:stream';
import { promisify } from 'node:util';
import { createGzip, gzip } from 'node:zlib';
import type { FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';

/** Words; pictures and PDFs are small already, and what programs read keeps its tag to the byte. */
const WORDS = /^(?:text\/(?:html|css|javascript)|application\/javascript|image\/svg\+xml)\b/;
/** Below this the header costs what it saves. */
const WORTHWHILE_BYTES = 1024;

const gzipped = promisify(gzip);

/** Compressed once, for as long as the whole one is kept by somebody. */
const kept = new WeakMap<Buffer, { small: Promise<Buffer> | null }>();

/** Marks a payload that will be sent more than once. @returns the same */
export function sentAgain(payload: Buffer): Buffer {
  kept.set(payload, { small: null });
  return payload;
}

function compressed(payload: string | Buffer): Promise<Buffer> {
  const known = typeof payload === 'string' ? undefined : kept.get(payload);
  if (known === undefined) return gzipped(payload);
  known.small ??= gzipped(payload);
  return known.small;
}

/**
 * Pages, styles and scripts go over the line compressed: on a slow phone that is half the time until a page can be
 * used. Form tokens differ from answer to answer, or where a page is kept from address to address, and cookies are
 * SameSite, so that nobody else can have pages with guesses in them sent often enough to learn from their lengths.
 */
export const compression = fp(
  async (app) => {
    app.addHook('onSend', async (request, reply, payload) => {
      if (!mayCompress(request, reply)) return payload;
      if (payload instanceof Readable) {
        markAs(reply);
        // Whoever breaks off ends both.
        return pipeline(payload, createGzip(), () => undefined);
      }
      if (typeof payload !== 'string' && !Buffer.isBuffer(payload)) return payload;
      if (payload.length < WORTHWHILE_BYTES) return payload;
      const small = await compressed(payload);
      markAs(reply);
      return small;
    });
  },
  { name: 'compression' },
);

function mayCompress(request: FastifyRequest, reply: FastifyReply): boolean {
  const type = reply.getHeader('content-type');
  if (request.method === 'HEAD' || typeof type !== 'string' || !WORDS.test(type)) return false;
  if (reply.hasHeader('content-encoding') || reply.hasHeader('content-range')) return false;
  // A cache between has to keep both apart, whichever this one asked for.
  reply.header('vary', 'accept-encoding');
  return /\bgzip\b(?!\s*;\s*q=0(?:\.0*)?(?:,|$))/.test(request.headers['accept-encoding'] ?? '');
}

function markAs(reply: FastifyReply): void {
  reply.header('content-encoding', 'gzip');
  reply.removeHeader('content-length');
}
