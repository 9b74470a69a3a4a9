import { randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { FastifyInstance, LightMyRequestResponse } from 'fastify';
import type { Clock } from '../../src/actor.ts';
import { hashPassword } from '../../src/people/accounts/passwords.ts';
import type { Role } from '../../src/people/roles.ts';
import { buildApp, type LogStream } from '../../src/web/app.ts';
import { compose } from '../../src/web/compose.ts';
import { readConfig } from '../../src/web/config.ts';
import type { Deps } from '../../src/web/deps.ts';
import { freshDatabase } from './database.ts';

export const testPassword = 'four words in a row';
export const testAppSecret = 'a secret of the tests, long enough';
let passwordHash: Promise<string> | undefined;

/** Somebody with a cookie jar and, after the first page, a form token: as a browser would hold them. */
export interface Client {
  readonly personId: string;
  readonly name: string;
  get: (url: string) => Promise<LightMyRequestResponse>;
  /** A form sent as a browser sends it: same origin, with the token of the last page seen. */
  post: (url: string, fields?: Readonly<Record<string, string>>) => Promise<LightMyRequestResponse>;
  /** The same without its token. */
  postBare: (
    url: string,
    fields?: Readonly<Record<string, string>>,
    headers?: Record<string, string>,
  ) => Promise<LightMyRequestResponse>;
  /** A streamed form; token first, as the pages have it. */
  upload: (
    url: string,
    fields: Readonly<Record<string, string>>,
    files: readonly { field: string; name: string; mimeType: string; buffer: Buffer }[],
  ) => Promise<LightMyRequestResponse>;
  cookies: () => string;
}

export interface TestApp {
  readonly app: FastifyInstance;
  readonly deps: Deps;
  /** Of this test's own database, for programs that run beside the service. */
  readonly databaseUrl: string;
  /** Somebody who is not signed in. */
  visitor: () => Client;
  /** A person of their own, signed in for real. */
  person: (name: string) => Promise<Client>;
  /** Makes the person a member directly, as an accepted invitation would. */
  join: (client: Client, projectId: string, role: Role) => Promise<void>;
  close: () => Promise<void>;
}

/**
 * The whole service over a database of its own, without a port; silent but where a log and its level are given, by the
 * clock of the machine where no other is.
 */
export async function startTestApp(
  environment: Readonly<Record<string, string>> = {},
  log?: LogStream,
  clock?: Clock,
): Promise<TestApp> {
  const database = await freshDatabase();
  const dataFolder = await mkdtemp(path.join(tmpdir(), 'lintelbook-app-'));
  const config = readConfig({
    NODE_ENV: 'test',
    LOG_LEVEL: 'silent',
    DATA_DIR: dataFolder,
    RATE_LIMIT: '100000',
    DEMO: 'false',
    ...environment,
  });
  const composed = compose(config, database.prisma, database.url);
  const deps = clock === undefined ? composed : { ...composed, clock };
  const app = await buildApp(deps, testAppSecret, log);
  await app.ready();

  function client(personId: string, name: string): Client {
    const jar = new Map<string, string>();
    let token = '';
    const cookies = () => [...jar].map(([key, value]) => `${key}=${encodeURIComponent(value)}`).join('; ');
    function keep(response: LightMyRequestResponse): LightMyRequestResponse {
      for (const cookie of response.cookies) {
        if (cookie.value === '' || cookie.maxAge === 0) jar.delete(cookie.name);
        else jar.set(cookie.name, cookie.value);
      }
      token = /name="_csrf" value="([^"]+)"/.exec(response.body)?.[1] ?? token;
      return response;
    }
    const form = { 'content-type': 'application/x-www-form-urlencoded', 'sec-fetch-site': 'same-origin' };
    const send = (url: string, fields: Readonly<Record<string, string>>, headers: Record<string, string>) =>
      app.inject({
        method: 'POST',
        url,
        headers: { ...form, cookie: cookies(), ...headers },
        payload: new URLSearchParams(fields).toString(),
      });
    async function ensureToken(): Promise<void> {
      if (token === '')
        keep(await app.inject({ method: 'GET', url: '/sign-in', headers: { cookie: cookies() } }));
    }
    return {
      personId,
      name,
      cookies,
      get: async (url) => keep(await app.inject({ method: 'GET', url, headers: { cookie: cookies() } })),
      async post(url, fields = {}) {
        await ensureToken();
        return keep(await send(url, { _csrf: token, ...fields }, {}));
      },
      postBare: async (url, fields = {}, headers = {}) => send(url, fields, headers),
      async upload(url, fields, files) {
        await ensureToken();
        const boundary = `----${randomUUID()}`;
        const parts: Buffer[] = [];
        for (const [key, value] of Object.entries({ _csrf: token, ...fields })) {
          parts.push(
            Buffer.from(`--${boundary}\r\nContent-Disposition: form-data; name="${key}"\r\n\r\n${value}\r\n`),
          );
        }
        for (const file of files) {
          const head = `--${boundary}\r\nContent-Disposition: form-data; name="${file.field}"; filename="${file.name}"\r\nContent-Type: ${file.mimeType}\r\n\r\n`;
          parts.push(Buffer.from(head), file.buffer, Buffer.from('\r\n'));
        }
        parts.push(Buffer.from(`--${boundary}--\r\n`));
        return keep(
          await app.inject({
            method: 'POST',
            url,
            headers: {
              'content-type': `multipart/form-data; boundary=${boundary}`,
              'sec-fetch-site': 'same-origin',
              cookie: cookies(),
            },
            payload: Buffer.concat(parts),
          }),
        );
      },
    };
  }

  return {
    app,
    deps,
    databaseUrl: database.url,
    visitor: () => client('', 'nobody'),
    async person(name) {
      passwordHash ??= hashPassword(testPassword);
      const email = `${randomUUID()}@example.org`;
      const { id } = await deps.prisma.person.create({
        data: { name, email, passwordHash: await passwordHash },
        select: { id: true },
      });
      const one = client(id, name);
      const response = await one.post('/sign-in', { email, password: testPassword });
      if (response.statusCode !== 303) throw new Error(`sign-in answered ${response.statusCode}`);
      // The token was the visitor's; the next page gives one for this session.
      await one.get('/account');
      return one;
    },
    async join(one, projectId, role) {
      await deps.prisma.membership.create({ data: { projectId, personId: one.personId, role } });
    },
    async close() {
      await app.close();
      await database.close();
      await rm(dataFolder, { recursive: true, force: true });
    },
  };
}
