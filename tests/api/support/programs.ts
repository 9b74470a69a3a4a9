import type { LightMyRequestResponse } from 'fastify';
import { scopes, type Scope } from '../../../src/api/tokens/scopes.ts';
import { createToken } from '../../../src/api/tokens/service.ts';
import type { Client, TestApp } from '../../support/app.ts';

export interface Sent {
  readonly body?: unknown;
  /** As it stands, where it is no JSON at all. */
  readonly text?: string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** A program that sends a token and JSON, and nothing else. */
export interface Program {
  readonly token: string;
  readonly tokenId: string;
  send: (method: string, path: string, sent?: Sent) => Promise<LightMyRequestResponse>;
  get: (path: string, headers?: Readonly<Record<string, string>>) => Promise<LightMyRequestResponse>;
}

/** A program of a person's, with a token of every scope or of those named. */
export async function programOf(
  test: TestApp,
  person: Pick<Client, 'personId'>,
  held: readonly Scope[] = scopes,
): Promise<Program> {
  const made = await createToken(test.deps, person.personId, { name: 'Test', scopes: held, days: 30 });
  const send: Program['send'] = (method, path, { body, text, headers = {} } = {}) =>
    test.app.inject({
      method: method as 'GET',
      url: `/api/v1${path}`,
      headers: {
        authorization: `Bearer ${made.token}`,
        ...(body === undefined && text === undefined ? {} : { 'content-type': 'application/json' }),
        ...headers,
      },
      ...(text !== undefined
        ? { payload: text }
        : body !== undefined
          ? { payload: JSON.stringify(body) }
          : {}),
    });
  return { ...made, send, get: (path, headers = {}) => send('GET', path, { headers }) };
}
