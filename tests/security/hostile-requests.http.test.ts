import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createToken } from '../../src/api/tokens/service.ts';
import { permissions } from '../../src/people/permissions.ts';
import { createProject } from '../../src/record/projects/service.ts';
import { startTestApp, type Client, type TestApp } from '../support/app.ts';

let test: TestApp;
let person: Client;
let projectId = '';
let token = '';
const logged: string[] = [];

beforeAll(async () => {
  test = await startTestApp({ LOG_LEVEL: 'error' }, { write: (line) => void logged.push(line) });
  person = await test.person('Con Tractor');
  ({ projectId } = await createProject(test.deps, person, {
    name: 'House',
    address: '1 Row',
    jurisdiction: 'Town',
    permitNumber: '',
  }));
  ({ token } = await createToken(test.deps, person.personId, {
    name: 'T',
    scopes: ['read', 'propose'],
    days: 1,
  }));
});
afterAll(() => test.close());

const program = (url: string, payload: string, type = 'application/json') =>
  test.app.inject({
    method: 'POST',
    url,
    headers: { authorization: `Bearer ${token}`, 'content-type': type },
    payload,
  });
const project = () => test.deps.prisma.project.findUniqueOrThrow({ where: { id: projectId } });

describe('a body', () => {
  it('a field that the form does not have changes nothing', async () => {
    const before = await project();
    const other = randomUUID();
    const extra = {
      id: other,
      createdAt: '2001-01-01',
      createdById: other,
      role: 'engineer',
      personId: other,
      isAdmin: 'true',
      closedAt: '',
      passwordHash: 'x',
    };
    const answer = await person.post(`/projects/${projectId}/edit`, {
      name: 'House two',
      address: '1 Row',
      jurisdiction: 'Town',
      permitNumber: '',
      ...extra,
    });
    expect(answer.statusCode).toBe(303);
    const after = await project();
    expect({ ...after, name: before.name }).toEqual(before);
    expect(after.name).toBe('House two');
    const visitor = test.visitor();
    const email = `${randomUUID()}@example.org`;
    await visitor.post('/sign-up', { name: 'New', email, password: 'six plain words in here', ...extra });
    const made = await test.deps.prisma.person.findUniqueOrThrow({
      where: { email },
      include: { memberships: true },
    });
    expect(made.id).not.toBe(other);
    expect(made.passwordHash).not.toBe('x');
    expect(made.closedAt).toBeNull();
    expect(made.memberships).toEqual([]);
    expect(Math.abs(made.createdAt.getTime() - Date.now())).toBeLessThan(600_000);
  });

  it('a key that would reach a prototype is refused or dropped', async () => {
    const bodies = [
      '{"__proto__":{"isAdmin":true},"beam":{}}',
      '{"constructor":{"prototype":{"isAdmin":true}}}',
      '{"beam":{"__proto__":{"isAdmin":true}}}',
    ];
    for (const body of bodies) {
      const answer = await program('/api/v1/calculations', body);
      expect([400, 422]).toContain(answer.statusCode);
    }
    const forms = [
      '__proto__[isAdmin]=1',
      '__proto__.isAdmin=1',
      'constructor[prototype][isAdmin]=1',
      '__proto__=1',
      'constructor=1',
      'toString=1',
      'hasOwnProperty=1',
    ];
    const page = await person.get('/projects/new');
    const own = /name="_csrf" value="([^"]+)"/.exec(page.body)?.[1] ?? '';
    for (const form of forms) {
      for (const url of ['/projects', `/projects/${projectId}/edit`, `/projects/${projectId}/invitations`]) {
        const answer = await test.app.inject({
          method: 'POST',
          url: `${url}?${form}`,
          headers: {
            cookie: person.cookies(),
            'content-type': 'application/x-www-form-urlencoded',
            'sec-fetch-site': 'same-origin',
          },
          payload: `_csrf=${encodeURIComponent(own)}&${form}`,
        });
        expect(answer.statusCode, `${url} ${form}`).toBe(422);
      }
      expect((await person.get(`/projects/${projectId}/log?${form}`)).statusCode).toBe(200);
    }
    expect(({} as Record<string, unknown>).isAdmin).toBeUndefined();
    expect(Object.hasOwn(Object.prototype, 'isAdmin')).toBe(false);
  });

  it('a name sent twice breaks nothing', async () => {
    const page = await person.get('/projects/new');
    const own = encodeURIComponent(/name="_csrf" value="([^"]+)"/.exec(page.body)?.[1] ?? '');
    const send = (payload: string) =>
      test.app.inject({
        method: 'POST',
        url: '/projects',
        headers: {
          cookie: person.cookies(),
          'content-type': 'application/x-www-form-urlencoded',
          'sec-fetch-site': 'same-origin',
        },
        payload,
      });
    const before = await test.deps.prisma.project.count();
    expect((await send(`_csrf=${own}&name=A&name=B&address=x&jurisdiction=y&permitNumber=`)).statusCode).toBe(
      422,
    );
    expect((await send(`_csrf=${own}&_csrf=${own}&name=A&address=x&jurisdiction=y`)).statusCode).toBe(403);
    expect(await test.deps.prisma.project.count()).toBe(before);
    for (const url of [
      '/sign-in?next=/a&next=//evil.example',
      `/projects/${projectId}/log?after=1&after=2`,
      '/set-check?number=1&number=2',
    ]) {
      expect((await person.get(url)).statusCode, url).toBeLessThan(500);
    }
  });

  it('deep, long and odd JSON is refused without harm', async () => {
    const deep = `${'{"a":'.repeat(20_000)}1${'}'.repeat(20_000)}`;
    const wide = `{${Array.from({ length: 40_000 }, (_, n) => `"k${n}":1`).join(',')}}`;
    for (const body of [
      deep,
      wide,
      '['.repeat(50_000) + ']'.repeat(50_000),
      '1e999',
      '"\\ud800"',
      'null',
      '[]',
      '\u0000',
      '{"a":1}{"b":2}',
    ]) {
      const answer = await program('/api/v1/calculations', body);
      expect([400, 422], body.slice(0, 20)).toContain(answer.statusCode);
    }
    expect((await program('/api/v1/calculations', `{"a":"${'x'.repeat(3 * 1024 * 1024)}"}`)).statusCode).toBe(
      413,
    );
    expect((await program('/api/v1/calculations', '<a/>', 'text/xml')).statusCode).toBe(415);
    expect((await test.visitor().get('/health')).statusCode).toBe(200);
  });
});

describe('an address', () => {
  it('no path leads out of the folder of assets', async () => {
    const ways = [
      '../app.ts',
      '..%2fapp.ts',
      '%2e%2e/app.ts',
      '%2e%2e%2fapp.ts',
      '..%5capp.ts',
      '....//app.ts',
      '%252e%252e%252fapp.ts',
      '/etc/passwd',
      '%2fetc%2fpasswd',
      'tokens.css%00.js',
      '../../../package.json',
      '.git/config',
      '.git/HEAD',
      '.env',
      '',
      '.',
      '%2e',
      'idb.js/../../secret.ts',
      '~root',
      'C:%5cx',
    ];
    for (const way of ways) {
      const answer = await test.app.inject({ url: `/assets/${way}` });
      expect([400, 403, 404], `${way}: ${answer.statusCode}`).toContain(answer.statusCode);
      expect(answer.body).not.toMatch(/buildApp|"dependencies"|root:|ref:|Index of/);
    }
    for (const url of [
      '/.git/config',
      '/.git/HEAD',
      '/.env',
      '/package.json',
      '/src/web/app.ts',
      '/assets',
      '/data/cookie-secret',
    ]) {
      expect((await test.app.inject({ url })).statusCode, url).toBe(404);
    }
  });

  it('TRACE, CONNECT and made-up methods are not served', async () => {
    for (const method of ['TRACE', 'CONNECT', 'PROPFIND', 'DELETE', 'PATCH', 'OPTIONS', 'LOCK']) {
      for (const url of ['/', '/sign-in', `/projects/${projectId}`, '/api/v1/projects']) {
        const answer = await test.app.inject({
          method: method as 'GET',
          url,
          headers: { cookie: person.cookies() },
        });
        expect([403, 404, 405], `${method} ${url}: ${answer.statusCode}`).toContain(answer.statusCode);
        expect(answer.headers.allow ?? '').not.toContain('TRACE');
      }
    }
  });

  it('what is open to everybody is this list', () => {
    const open = test.app
      .routeTable()
      .filter(({ method, access }) => method !== 'HEAD' && permissions[access].who === 'anyone')
      .map(({ method, url }) => `${method} ${url}`)
      .sort();
    expect(open).toEqual(OPEN);
  });

  it('an unexpected error says a number and nothing of the inside', async () => {
    const broken = await startTestApp({ LOG_LEVEL: 'error' }, { write: (line) => void logged.push(line) });
    try {
      const one = await broken.person('K. O.');
      logged.length = 0;
      await broken.deps.prisma.$executeRaw`ALTER TABLE membership RENAME TO membership_gone`;
      const answer = await one.get('/');
      expect(answer.statusCode).toBe(500);
      expect(answer.body).not.toMatch(/prisma|membership|SELECT|relation|\.ts\b|node_modules|at .*:\d+:\d+/i);
      const [line = '{}'] = logged;
      const { reqId, err } = JSON.parse(line) as { reqId: string; err: { message: string } };
      expect(answer.body).toContain(reqId);
      expect(err.message).toMatch(/membership/);
    } finally {
      await broken.close();
    }
  });
});

const OPEN = [
  'GET /api',
  'GET /api/v1/openapi.json',
  'GET /assets/*',
  'GET /assets/idb.js',
  'GET /calendar/:token',
  'GET /components',
  'GET /forgotten-password',
  'GET /health',
  'GET /invitations/:token',
  'GET /mail/stop/:token',
  'GET /new-password/:token',
  'GET /on-site',
  'GET /on-site-worker.js',
  'GET /provisions',
  'GET /shared/:token',
  'GET /shared/:token/photos/:attachmentId',
  'GET /sign-in',
  'GET /sign-in/code',
  'GET /sign-up',
  'GET /',
  'POST /forgotten-password',
  'POST /mail/stop/:token',
  'POST /new-password/:token',
  'POST /sign-in',
  'POST /sign-in/code',
  'POST /sign-up',
].sort();
