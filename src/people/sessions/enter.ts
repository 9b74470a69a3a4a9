import type { FastifyReply, FastifyRequest } from 'fastify';
import { browserWords } from './browser-words.ts';
import type { Sessions } from './sessions.ts';

/** Only a path of our own: anything else leads to the first page. */
export function safeNext(next: unknown): string {
  return typeof next === 'string' && /^\/(?![/\\])[^\s\\]*$/.test(next) ? next : '/';
}

/** Begins a session in this browser and leads on. What was in the cookie before is worth nothing after it. */
export async function enter(
  { sessions }: { readonly sessions: Sessions },
  request: FastifyRequest,
  reply: FastifyReply,
  { personId, next }: { readonly personId: string; readonly next: unknown },
): Promise<FastifyReply> {
  if (request.person !== null) await sessions.end(request.person.sessionId);
  reply.header('set-cookie', await sessions.start(personId, browserWords(request.headers['user-agent'])));
  return reply.redirect(safeNext(next), 303);
}
