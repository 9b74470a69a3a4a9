import type { FastifyError } from 'fastify';
import { z } from 'zod';
import { asDatabaseProblem } from '../../database/trouble.ts';
import { Refusal } from '../../engineering/trace/refusal.ts';
import {
  Conflict,
  DatabaseAway,
  DatabaseFull,
  Invalid,
  NotAllowed,
  NotFound,
  Refused,
  SlowedDown,
} from '../../problems.ts';
import { SignInNeeded } from '../../web/plugins/access.ts';
import { pointerOf } from './fields.ts';
import { PreconditionFailed, PreconditionNeeded, ScopeLacking, WrongFields } from './refusals.ts';

/** Each sort of problem: what it is called in its address, its status, its title, and when it comes. */
export const problemKinds = {
  unreadable: [400, 'The request could not be read', 'The body is not JSON, or the request is malformed.'],
  'token-needed': [401, 'A token is needed', 'No token, or one that is revoked, expired or unknown.'],
  'not-your-role': [403, 'Not part of your role', 'Your role in this project does not include it.'],
  'scope-lacking': [403, 'The token is not for this', 'The token does not have the scope that is needed.'],
  'not-found': [404, 'Not found', 'It is not there, or not there for you: the two look the same.'],
  conflict: [409, 'Somebody was faster', 'What you saw is no longer what stands. Read it again.'],
  'precondition-failed': [412, 'Changed meanwhile', 'The tag in If-Match is not that of the newest version.'],
  'too-large': [413, 'Too large', 'The body is larger than this service takes.'],
  'not-json': [415, 'Not JSON', 'Bodies are taken as application/json only.'],
  invalid: [422, 'Something can’t be used', 'Values that can’t be used; “errors” says which and why.'],
  refused: [422, 'The record does not allow that', 'The rules of the record refuse it as things stand.'],
  'precondition-needed': [428, 'If-Match is needed', 'A change must name what it is based on.'],
  'too-many-requests': [429, 'Too many requests', 'Wait as long as Retry-After says.'],
  unexpected: [500, 'Something went wrong on our side', 'Nothing was half-saved. Try again.'],
  unavailable: [
    503,
    'The record can’t be reached',
    'Wait as long as Retry-After says. What was sent is kept whole or not at all.',
  ],
  'no-room': [507, 'No room left', 'The disk of the database is full. Nothing was kept.'],
} as const satisfies Record<string, readonly [number, string, string]>;

export type ProblemKind = keyof typeof problemKinds;

/** Problem details (RFC 9457). */
export const problemSchema = z.object({
  type: z.string().describe('An address that tells the sort of problem; the page behind it explains it.'),
  title: z.string(),
  status: z.int(),
  detail: z.string().describe('A sentence about this occurrence.'),
  instance: z.string().describe('Names this occurrence in the log of the service.'),
  errors: z
    .array(
      z.object({
        pointer: z.string().optional().describe('Where in the body: a JSON Pointer as a URI fragment.'),
        parameter: z.string().optional().describe('Which query parameter.'),
        detail: z.string(),
      }),
    )
    .optional(),
  etag: z
    .string()
    .nullable()
    .optional()
    .describe('With 412: the tag of what stands now, null where there is nothing yet.'),
});
export type ProblemDetails = z.infer<typeof problemSchema>;

interface Told {
  readonly kind: ProblemKind;
  readonly detail: string;
  readonly errors?: ProblemDetails['errors'];
  readonly etag?: string | null;
}

/** One table from what was thrown to a sort of problem. What is not in it is unexpected, and logged whole. */
function tell(error: unknown): Told {
  if (error instanceof SignInNeeded) {
    const detail =
      'Send a token as “Authorization: Bearer …”. This one is missing, revoked, expired or unknown.';
    return { kind: 'token-needed', detail };
  }
  if (error instanceof ScopeLacking) return { kind: 'scope-lacking', detail: error.message };
  if (error instanceof NotAllowed) return { kind: 'not-your-role', detail: error.message };
  if (error instanceof NotFound) {
    return { kind: 'not-found', detail: 'There is nothing here for you at this address.' };
  }
  if (error instanceof PreconditionFailed) {
    return { kind: 'precondition-failed', detail: error.message, etag: error.etag };
  }
  if (error instanceof PreconditionNeeded) return { kind: 'precondition-needed', detail: error.message };
  if (error instanceof Conflict) return { kind: 'conflict', detail: error.message };
  if (error instanceof WrongFields) {
    return { kind: 'invalid', detail: error.message, errors: [...error.errors] };
  }
  if (error instanceof Invalid) {
    const errors = Object.entries(error.fields).map(([path, detail]) => ({
      pointer: pointerOf(path),
      detail,
    }));
    return { kind: 'invalid', detail: error.message, errors };
  }
  if (error instanceof Refusal) {
    const errors = [{ pointer: pointerOf(error.path), detail: error.message }];
    return { kind: 'invalid', detail: error.message, errors };
  }
  if (error instanceof Refused) return { kind: 'refused', detail: error.message };
  if (error instanceof DatabaseAway) return { kind: 'unavailable', detail: error.message };
  if (error instanceof DatabaseFull) return { kind: 'no-room', detail: error.message };
  if (error instanceof SlowedDown) return { kind: 'too-many-requests', detail: error.message };
  return tellFramework(error as Partial<FastifyError>);
}

function tellFramework({ statusCode, code }: Partial<FastifyError>): Told {
  // A form token is asked for only where there is no route of this interface.
  if (code?.startsWith('FST_CSRF_')) {
    return { kind: 'not-found', detail: 'There is nothing here for you at this address.' };
  }
  if (statusCode === 413) return { kind: 'too-large', detail: 'The body is larger than this service takes.' };
  if (statusCode === 415) return { kind: 'not-json', detail: 'Send the body as application/json.' };
  if (statusCode === 429) return { kind: 'too-many-requests', detail: 'Wait a while, then try again.' };
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500) {
    return { kind: 'unreadable', detail: 'The body is empty or is not JSON.' };
  }
  return { kind: 'unexpected', detail: 'Nothing you sent was half-saved. Try again.' };
}

/** The body of an answer that is a problem. */
export function problemDetails(
  thrown: unknown,
  at: { publicUrl: string; requestId: string },
): ProblemDetails {
  const { kind, detail, errors, etag } = tell(asDatabaseProblem(thrown));
  const [status, title] = problemKinds[kind];
  return {
    type: `${at.publicUrl}/api#${kind}`,
    title,
    status,
    detail,
    instance: `urn:uuid:${at.requestId}`,
    ...(errors === undefined ? {} : { errors }),
    ...(etag === undefined ? {} : { etag }),
  };
}
