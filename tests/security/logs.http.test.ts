import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { createToken } from '../../src/api/tokens/service.ts';
import { createProject } from '../../src/record/projects/service.ts';
import { addressHash } from '../../src/people/accounts/attempts.ts';
import { startTestApp, testPassword, type Client, type TestApp } from '../support/app.ts';

/** The log of the service at its most talkative. */
let test: TestApp;
let person: Client;
let email = '';
const lines: string[] = [];
const told = () => lines.map((line) => JSON.parse(line) as Record<string, unknown>);
const called = (msg: string) => told().filter((line) => line.msg === msg);

beforeAll(async () => {
  test = await startTestApp(
    { LOG_LEVEL: 'debug', RATE_LIMIT: '10000' },
    { write: (line) => void lines.push(line) },
  );
  person = await test.person('K. O.');
  email = (await test.deps.prisma.person.findUniqueOrThrow({ where: { id: person.personId } })).email ?? '';
});
beforeEach(() => {
  lines.length = 0;
});
afterAll(() => test.close());

describe('the lines of the log', () => {
  it('say who, what and when of each sign-in, good and bad', async () => {
    const visitor = test.visitor();
    await visitor.post('/sign-in', { email, password: 'wrong words altogether' });
    await visitor.post('/sign-in', { email, password: testPassword });
    await visitor.get('/account');
    await visitor.post('/account/password', { current: 'not it', password: 'nine plain words here now' });
    await visitor.post('/account/password', { current: testPassword, password: 'nine plain words here now' });
    await visitor.get('/account');
    await visitor.post('/sign-out');
    const { personId } = person;
    expect(called('sign-in refused')).toMatchObject([{ addressHash: addressHash(email), ip: '127.0.0.1' }]);
    for (const what of ['signed in', 'password not changed', 'password changed', 'signed out']) {
      const [line, more] = called(what);
      expect(line, what).toMatchObject({ personId });
      expect(more).toBeUndefined();
      expect(line!.reqId).toMatch(/^[0-9a-f-]{36}$/);
      // Milliseconds since 1970, UTC.
      expect(Math.abs(Number(line!.time) - Date.now())).toBeLessThan(120_000);
    }
    const guesser = test.visitor();
    for (let n = 0; n < 6; n += 1)
      await guesser.post('/sign-in', { email: 'guessed@example.org', password: `no ${n}` });
    expect(called('sign-in pauses')).toMatchObject([{ addressHash: addressHash('guessed@example.org') }]);
  });

  it('say of a forged request and of too many', async () => {
    const other = await test.person('D. V.');
    await other.postBare('/projects', { name: 'x' });
    await other.postBare(
      '/projects',
      { name: 'x' },
      { origin: 'https://evil.example', 'sec-fetch-site': 'cross-site' },
    );
    expect(called('sent without its token')).toMatchObject([{ route: '/projects' }]);
    expect(called('sent from another site')).toMatchObject([
      { route: '/projects', origin: 'https://evil.example' },
    ]);
    for (let n = 0; n < 12; n += 1) await test.visitor().get('/new-password/nothing-at-all');
    expect(called('too many requests').length).toBeGreaterThan(0);
  });

  it('hold no password, token, cookie or link that lets somebody in', async () => {
    const secrets = { password: 'unmistakable-password-1', other: 'unmistakable-password-2' };
    const visitor = test.visitor();
    await visitor.post('/sign-in', { email: 'somebody@example.org', password: secrets.password });
    await visitor.get(`/sign-in?next=${secrets.other}`);
    const again = await test.person('R. T.');
    const { token } = await createToken(test.deps, again.personId, { name: 'T', scopes: ['read'], days: 1 });
    await test.app.inject({ url: '/api/v1/projects', headers: { authorization: `Bearer ${token}` } });
    const { projectId } = await createProject(test.deps, again, {
      name: 'House',
      address: '1 Row',
      jurisdiction: 'Town',
      permitNumber: '',
    });
    await again.get(`/projects/${projectId}/people`);
    const invited = await again.post(`/projects/${projectId}/invitations`, { role: 'owner', label: 'S. L.' });
    const link = /\/invitations\/([\w-]{32})/.exec(invited.body)?.[1] ?? '';
    expect(link).not.toBe('');
    const proofs = ['new-password', 'invitations', 'shared', 'calendar', 'mail/stop'];
    for (const kind of proofs) await visitor.get(`/${kind}/unmistakable-${kind.replace('/', '-')}-token`);
    await visitor.get(`/invitations/${link}`);
    // The error of a page carries its request along, too.
    test.app.log.error({
      req: { method: 'GET', url: `/invitations/${link}?x=1`, ip: '::1', headers: { cookie: 'x' } },
    });
    const whole = lines.join('');
    expect(whole.length).toBeGreaterThan(500);
    const session = /lintelbook=([^;]+)/.exec(again.cookies())?.[1] ?? '';
    for (const secret of [
      ...Object.values(secrets),
      token,
      link,
      session,
      testPassword,
      'unmistakable',
      'somebody@',
    ]) {
      expect(secret).not.toBe('');
      expect(whole).not.toContain(secret);
    }
    expect(whole).toContain('/invitations/…');
  });

  it('are one JSON object a line, whatever was sent', async () => {
    const nasty = 'x%0a%7B%22level%22:60,%22msg%22:%22made%20up%22%7D%0d%0a\u001b[31m';
    await test.app.inject({
      url: `/nowhere/${encodeURI(nasty)}`,
      headers: { 'user-agent': 'a\tb', origin: 'x' },
    });
    await person.postBare('/projects', { name: 'x' }, { origin: 'https://x", "msg": "made up' });
    expect(lines.length).toBeGreaterThan(0);
    for (const line of lines) {
      expect(line.endsWith('\n') && line.indexOf('\n') === line.length - 1).toBe(true);
      const { msg, level } = JSON.parse(line) as { msg: string; level: number };
      expect(msg).not.toBe('made up');
      expect(level).toBeLessThan(60);
    }
  });
});
