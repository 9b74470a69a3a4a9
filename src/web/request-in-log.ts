import type { FastifyRequest } from 'fastify';

/** Routes whose address is itself the proof, up to where it stands. */
const PROOF = /^(\/(?:new-password|invitations|shared|calendar|mail\/stop)\/)[^/?]+/;

/** An address as the log may hold it: without what lets somebody in, and without the words of a query. */
export function addressInLog(url: string): string {
  const [path = ''] = url.split('?');
  return path.replace(PROOF, '$1…') + (url.includes('?') ? '?…' : '');
}

/** A request as the log holds it; its headers are never written. */
export function requestInLog(request: Pick<FastifyRequest, 'method' | 'url' | 'ip'>): Record<string, string> {
  return { method: request.method, url: addressInLog(request.url), ip: request.ip };
}
