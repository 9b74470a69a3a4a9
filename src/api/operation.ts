import type { z } from 'zod';
import type { Actor } from '../actor.ts';
import type { Action } from '../people/permissions.ts';
import type { SignedIn } from '../people/sessions/sessions.ts';
import { NotFound } from '../problems.ts';
import { invalidFrom } from './problems/fields.ts';
import { ScopeLacking } from './problems/refusals.ts';
import type { Scope, TokenUse } from './tokens/index.ts';

/** What a request brings, before anything of it is judged. */
export interface RawCall {
  readonly person: SignedIn | null;
  readonly token: TokenUse | null;
  /** Null where the operation is about no project. */
  readonly actor: Actor | null;
  readonly params: unknown;
  readonly query: unknown;
  readonly body: unknown;
  readonly ifMatch: string | undefined;
  readonly ifNoneMatch: string | undefined;
}

/** What a handler is given: judged by the operation's schemas. */
export interface Call<Params, Query, Body> {
  readonly person: SignedIn;
  /** @throws NotFound where the operation is about no project: a fault of the program. */
  readonly actor: () => Actor;
  readonly params: Params;
  readonly query: Query;
  readonly body: Body;
  readonly ifMatch: string | undefined;
  readonly ifNoneMatch: string | undefined;
  /** For what only some calls of an operation do. @throws ScopeLacking */
  readonly needScope: (scope: Scope) => void;
}

export interface Answer<Result> {
  readonly body: Result;
  /** Quoted (RFC 9110, section 8.8.3). */
  readonly etag?: string;
  /** The path of what was made, below the address of the interface. */
  readonly location?: string;
}

/** The parts of an operation that its route and its description are both made from. */
export interface OperationFace {
  readonly id: string;
  readonly method: 'GET' | 'POST' | 'PUT';
  /** As OpenAPI writes it: '/projects/{projectId}'. */
  readonly path: string;
  readonly tag: string;
  readonly summary: string;
  readonly description?: string;
  readonly access: Action;
  readonly scope: Scope;
  /** Of an answer that succeeds. */
  readonly status: 200 | 201;
  readonly etag?: boolean;
  /** Does it take If-Match and If-None-Match for what it changes? */
  readonly precondition?: boolean;
  /** May others have been faster? */
  readonly conflicts?: boolean;
  /** Takes much computing: fewer of them a minute. */
  readonly heavy?: boolean;
}

export interface Schemas {
  readonly params: z.ZodObject;
  readonly query: z.ZodObject;
  readonly body: z.ZodType | null;
  readonly answer: z.ZodType;
}

export interface Operation extends OperationFace {
  readonly schemas: Schemas;
  readonly run: (raw: RawCall) => Promise<Answer<unknown>>;
}

/**
 * An operation of the interface: one declaration from which its route, its judgement of what comes in, the form of what
 * goes out and its description are made.
 */
export function operation<
  Params extends z.ZodObject,
  Query extends z.ZodObject,
  Body extends z.ZodType | null,
  Result extends z.ZodType,
>(
  face: OperationFace,
  schemas: {
    readonly params: Params;
    readonly query: Query;
    readonly body: Body;
    readonly answer: Result;
  },
  handle: (
    call: Call<z.output<Params>, z.output<Query>, Body extends z.ZodType ? z.output<Body> : null>,
  ) => Promise<Answer<z.input<Result>>>,
): Operation {
  return {
    ...face,
    schemas,
    async run(raw) {
      const { person, token, actor } = raw;
      if (person === null || token === null) throw new NotFound();
      const needScope = (scope: Scope) => {
        if (!token.scopes.includes(scope)) throw new ScopeLacking(scope);
      };
      needScope(face.scope);
      const params = schemas.params.safeParse(raw.params);
      // What can't be an id can't be found.
      if (!params.success) throw new NotFound();
      const query = schemas.query.safeParse(raw.query);
      if (!query.success) throw invalidFrom(query.error.issues, 'query');
      const body = schemas.body === null ? null : schemas.body.safeParse(raw.body);
      if (body !== null && !body.success) throw invalidFrom(body.error.issues, 'body');
      const answer = await handle({
        person,
        actor: () => {
          if (actor === null) throw new NotFound();
          return actor;
        },
        params: params.data,
        query: query.data,
        body: (body === null ? null : body.data) as Body extends z.ZodType ? z.output<Body> : null,
        ifMatch: raw.ifMatch,
        ifNoneMatch: raw.ifNoneMatch,
        needScope,
      });
      // Nothing leaves that the description does not name.
      return { ...answer, body: schemas.answer.parse(answer.body) };
    },
  };
}
