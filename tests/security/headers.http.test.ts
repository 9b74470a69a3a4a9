import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createToken } from '../../src/api/tokens/service.ts';
import { createProject } from '../../src/record/projects/service.ts';
import { startTestApp, testPassword, type Client, type TestApp } from '../support/app.ts';
import { testPdf } from '../support/test-files.ts';

/** An installation behind TLS, as people reach it. */
let test: TestApp;
let person: Client;
let projectId = '';
const answers = new Map<string, LightMyRequestResponse>();

beforeAll(async () => {
  test = await startTestApp({ PUBLIC_URL: 'https://record.example.test', TRUSTED_PROXIES: '10.0.0.9' });
  person = await test.person('K. O.');
  ({ projectId } = await createProject(test.deps, person, {
    name: 'House',
    address: '1 Row',
    jurisdiction: 'Town',
    permitNumber: '',
  }));
  const sent = await person.upload(
    `/projects/${projectId}/attachments`,
    { subject: 'project', subjectId: projectId, caption: 'Plan', back: `/projects/${projectId}` },
    [{ field: 'file', ...testPdf() }],
  );
  expect(sent.statusCode).toBe(303);
  const { id: attachmentId } = await test.deps.prisma.attachment.findFirstOrThrow();
  const { token } = await createToken(test.deps, person.personId, { name: 'T', scopes: ['read'], days: 1 });
  const visitor = test.visitor();
  const file = `/projects/${projectId}/attachments/${attachmentId}`;
  const ask: Record<string, () => Promise<LightMyRequestResponse>> = {
    'a page': () => person.get('/'),
    'a page of a project': () => person.get(`/projects/${projectId}`),
    'the sign-in page': () => visitor.get('/sign-in'),
    'a redirect': () => visitor.get('/account'),
    'what is not there': () => visitor.get('/nowhere'),
    'a refusal': () => person.postBare('/projects', { name: 'x' }),
    'a bad form': () => person.post('/projects', { name: '' }),
    'a style': () => visitor.get('/assets/tokens.css'),
    'a script': () => visitor.get('/assets/lintelbook.js'),
    'a picture': () => visitor.get('/assets/lintelbook.svg'),
    'a missing asset': () => visitor.get('/assets/nothing.js'),
    'the worker': () => visitor.get('/on-site-worker.js'),
    health: () => visitor.get('/health'),
    'a file': () => person.get(file),
    'a part of a file': () =>
      test.app.inject({ url: file, headers: { cookie: person.cookies(), range: 'bytes=0-9' } }),
    'a part that is not there': () =>
      test.app.inject({ url: file, headers: { cookie: person.cookies(), range: 'bytes=99999999-' } }),
    'a preview': () => person.get(`${file}/preview/320`),
    'a list for programs': () =>
      test.app.inject({ url: '/api/v1/projects', headers: { authorization: `Bearer ${token}` } }),
    'a program without a token': () => test.app.inject({ url: '/api/v1/projects' }),
    'the description': () => visitor.get('/api/v1/openapi.json'),
    'what can’t be read': () =>
      test.app.inject({
        method: 'POST',
        url: '/sign-in',
        headers: { 'content-type': 'text/xml' },
        payload: '<x/>',
      }),
    'bad JSON': () =>
      test.app.inject({
        method: 'POST',
        url: '/sign-in',
        headers: { 'content-type': 'application/json' },
        payload: '{',
      }),
    'a name that can’t be decoded': () => test.app.inject({ url: '/projects/%E0%A4%A' }),
  };
  for (const [what, answer] of Object.entries(ask)) answers.set(what, await answer());
});
afterAll(() => test.close());

describe('security headers', () => {
  it('stand on every kind of answer', () => {
    const wrong: string[] = [];
    for (const [what, { headers, statusCode }] of answers) {
      const policy = String(headers['content-security-policy']);
      const says = (is: boolean, problem: string) => {
        if (!is) wrong.push(`${what} (${statusCode}): ${problem}`);
      };
      says(headers['x-content-type-options'] === 'nosniff', 'may be sniffed');
      says(headers['strict-transport-security'] === 'max-age=31536000; includeSubDomains', 'no HSTS');
      says(/(^|;)default-src 'none'/.test(policy), `policy: ${policy}`);
      const sandboxed = /;\s*sandbox/.test(policy);
      says(sandboxed || policy.includes("object-src 'none'"), 'no object-src');
      says(sandboxed || policy.includes("base-uri 'none'"), 'no base-uri');
      says(policy.includes("frame-ancestors 'none'"), 'may be framed');
      says(
        !/unsafe|\*|https?:|data:|blob:/.test(policy.replace('upgrade-insecure-requests', '')),
        `loose: ${policy}`,
      );
      says(/^(same-origin|no-referrer)$/.test(String(headers['referrer-policy'])), 'tells its address');
      says(headers['access-control-allow-origin'] === undefined, 'is open to other origins');
      says(headers['cross-origin-opener-policy'] === 'same-origin', 'shares its window');
      says(headers['cross-origin-resource-policy'] === 'same-origin', 'may be embedded');
      says(headers['x-powered-by'] === undefined && headers.server === undefined, 'names its server');
    }
    expect(wrong).toEqual([]);
    expect(answers.size).toBeGreaterThan(20);
  });

  it('name their type and, where they are text, their characters', () => {
    const wrong = [...answers].flatMap(([what, { headers, body }]) => {
      if (body === '') return [];
      const type = String(headers['content-type']);
      const good =
        /^(text\/\w+|application\/(javascript|json|problem\+json)); ?charset=utf-8$|^(application\/(pdf|json|problem\+json)|image\/(webp|svg\+xml))$/i;
      return good.test(type) ? [] : [`${what}: ${type}`];
    });
    expect(wrong).toEqual([]);
  });

  it('what a person was shown is kept by no cache', () => {
    const open = new Set([
      'a style',
      'a script',
      'a picture',
      'the worker',
      'the description',
      'a missing asset',
      'health',
    ]);
    const wrong = [...answers].flatMap(([what, { headers, body }]) =>
      open.has(what) || body === '' || /no-store|private, no-cache/.test(String(headers['cache-control']))
        ? []
        : [`${what}: ${String(headers['cache-control'])}`],
    );
    expect(wrong).toEqual([]);
  });
});

describe('cookies', () => {
  it('every cookie is Secure, HttpOnly, SameSite and bound to the host behind TLS', async () => {
    const visitor = test.visitor();
    const { email } = await test.deps.prisma.person.findUniqueOrThrow({ where: { id: person.personId } });
    const all = [
      // A form whose session is gone is kept: a cookie of its own.
      await keptForm(),
      await visitor.get('/sign-in'),
      await visitor.post('/sign-in', { email: email ?? '', password: testPassword }),
      await visitor.get('/account'),
      // Says something on the next page: a cookie of its own.
      await visitor.post('/account/mail', { mail: 'daily', choice: 'daily' }),
      await visitor.post('/account/password', { current: testPassword, password: 'some other long words' }),
      await visitor.get('/account'),
      await visitor.post('/sign-out'),
    ].flatMap((answer) => [answer.headers['set-cookie'] ?? []].flat());
    const names = new Set(all.map((cookie) => cookie.split('=')[0]));
    expect(names).toEqual(
      new Set([
        '__Host-lintelbook',
        '__Host-lintelbook-form',
        '__Host-lintelbook-said',
        '__Host-lintelbook-kept',
      ]),
    );
    for (const cookie of all) {
      for (const part of [/; ?Secure/i, /; ?HttpOnly/i, /; ?SameSite=Lax/i, /; ?Path=\/(;|$)/i]) {
        // A cookie that is taken away holds nothing; browsers want its Secure and Path all the same.
        if (/=;|Max-Age=0|1970/i.test(cookie) && /HttpOnly|SameSite/i.test(part.source)) continue;
        expect(cookie).toMatch(part);
      }
      expect(cookie).not.toMatch(/Domain=/i);
    }
  });

  async function keptForm(): Promise<LightMyRequestResponse> {
    const page = await person.get(`/projects/${projectId}/people`);
    const owner = /name="_owner" value="([^"]+)"/.exec(page.body)?.[1] ?? '';
    return test
      .visitor()
      .postBare(
        `/projects/${projectId}/invitations`,
        { _owner: owner, label: 'Some words here', role: 'owner' },
        { 'sec-fetch-site': 'same-origin' },
      );
  }
});

describe('behind a proxy', () => {
  it('an address made up by the sender is not believed', async () => {
    const limited = await startTestApp({ RATE_LIMIT: '10', TRUSTED_PROXIES: '10.0.0.9' });
    try {
      const from = (remoteAddress: string, forwarded: string) =>
        limited.app.inject({ url: '/sign-in', remoteAddress, headers: { 'x-forwarded-for': forwarded } });
      const direct: number[] = [];
      for (let n = 0; n < 12; n += 1) direct.push((await from('203.0.113.5', `198.51.100.${n}`)).statusCode);
      expect(direct.slice(10)).toEqual([429, 429]);
      // Through the proxy each sender counts alone.
      const proxied: number[] = [];
      for (let n = 0; n < 12; n += 1) proxied.push((await from('10.0.0.9', `198.51.100.${n}`)).statusCode);
      expect(proxied).toEqual(Array(12).fill(200));
    } finally {
      await limited.close();
    }
  });
});
