import type { FastifyError, FastifyReply } from 'fastify';
import fp from 'fastify-plugin';
import { asDatabaseProblem } from '../../database/trouble.ts';
import { Refusal } from '../../engineering/trace/refusal.ts';
import {
  Conflict,
  DatabaseAway,
  DatabaseFull,
  HashFailure,
  Invalid,
  NotAllowed,
  NotFound,
  Refused,
  SlowedDown,
  StorageFull,
  StorageUnavailable,
  secondsToWait,
} from '../../problems.ts';
import { CodesNeeded, SignInNeeded } from './access.ts';

interface Shown {
  readonly status: number;
  readonly title: string;
  readonly sentence: string;
}

/** One table from problem to status and words. What is not in it is a 500 and is logged whole. */
function show(error: unknown): Shown | null {
  if (error instanceof NotFound) {
    return { status: 404, title: 'Not found', sentence: 'There is nothing here for you at this address.' };
  }
  if (error instanceof NotAllowed) {
    return { status: 403, title: 'Not part of your role', sentence: error.message };
  }
  if (error instanceof Conflict) {
    return { status: 409, title: 'Somebody was faster', sentence: error.message };
  }
  if (error instanceof Invalid || error instanceof Refusal) {
    return { status: 422, title: 'Something needs another look', sentence: error.message };
  }
  if (error instanceof Refused) {
    return { status: 422, title: 'The record does not allow that', sentence: error.message };
  }
  if (error instanceof StorageFull) {
    return { status: 507, title: 'No room left', sentence: error.message };
  }
  if (error instanceof StorageUnavailable) {
    return { status: 503, title: 'Files can’t be reached', sentence: error.message };
  }
  if (error instanceof DatabaseAway) {
    return { status: 503, title: 'The record can’t be reached', sentence: error.message };
  }
  if (error instanceof DatabaseFull) {
    return { status: 507, title: 'No room left', sentence: error.message };
  }
  if (error instanceof HashFailure) {
    return { status: 500, title: 'The stored file is damaged', sentence: error.message };
  }
  if (error instanceof SlowedDown) {
    return { status: 429, title: 'Not so fast', sentence: error.message };
  }
  const status = (error as Partial<FastifyError>).statusCode;
  if (status === 429) {
    return { status, title: 'Too many requests', sentence: 'Wait a minute, then try again.' };
  }
  if (isOldForm(error)) {
    return {
      status: 403,
      title: 'The form was too old',
      sentence: 'Go back, reload the page and send the form again. Nothing was saved.',
    };
  }
  if (status === 413) {
    return { status, title: 'Too large', sentence: 'That is larger than this service takes.' };
  }
  if (status !== undefined && status >= 400 && status < 500) {
    return { status, title: 'That request could not be read', sentence: 'Go back and try again.' };
  }
  return null;
}

/** Who may not do it, or names what is not there, gets nothing back that could be sent again. */
const NOT_KEPT: ReadonlySet<number> = new Set([403, 404]);

/** Its session has ended, and another one began. */
function isOldForm(error: unknown): boolean {
  return (error as Partial<FastifyError>).code?.startsWith('FST_CSRF_') === true;
}

/** Where the form that was refused comes back filled; nowhere where there is no database to keep it. */
async function keptAgain(reply: FastifyReply, refused: unknown): Promise<string | null> {
  if (refused instanceof DatabaseAway || refused instanceof DatabaseFull) return null;
  try {
    return await reply.keepRefused();
  } catch (error) {
    // The answer to what went wrong first must not fail for this.
    reply.log.error({ err: error }, 'a refused form could not be kept');
    return null;
  }
}

export const errors = fp(
  async (app) => {
    app.setNotFoundHandler({ preHandler: app.rateLimit({ max: 120 }) }, async (_request, reply) =>
      reply.status(404).page('web/problem.njk', {
        title: 'Not found',
        sentence: 'There is nothing here for you at this address.',
      }),
    );

    app.setErrorHandler(async (thrown, request, reply) => {
      const error = asDatabaseProblem(thrown);
      if (error instanceof SignInNeeded) {
        const next = request.method === 'GET' ? request.url : '/';
        return reply.redirect(`/sign-in?next=${encodeURIComponent(next)}`, 303);
      }
      if (error instanceof CodesNeeded) return reply.redirect('/account/codes', 303);
      const shown = show(error);
      if (shown === null || shown.status >= 500) request.log.error({ err: error }, 'unexpected');
      if (isOldForm(error)) {
        request.log.warn({ ip: request.ip, route: request.routeOptions.url }, 'sent without its token');
      }
      const { status, title, sentence } = shown ?? {
        status: 500,
        title: 'Something went wrong on our side',
        sentence: 'Nothing you sent was half-saved. Try again; if it happens again, name the number below.',
      };
      const again = NOT_KEPT.has(status) && !isOldForm(error) ? null : await keptAgain(reply, error);
      const waitSeconds = secondsToWait(error);
      if (waitSeconds !== null) reply.header('retry-after', waitSeconds);
      return reply.status(status).page('web/problem.njk', { title, sentence, requestId: request.id, again });
    });
  },
  { name: 'errors', dependencies: ['views', 'security', 'kept-forms'] },
);
