import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { safeNext } from '../../src/people/sessions/enter.ts';
import { hashSessionId } from '../../src/people/sessions/adapter.ts';
import { startTestApp, testPassword, type Client, type TestApp } from '../support/app.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

async function signUp(client: Client, email: string, password = testPassword) {
  return client.post('/sign-up', { name: 'A Person', email, password });
}
const signedIn = async (client: Client) => (await client.get('/account')).statusCode === 200;

describe('accounts', () => {
  it('sign up, sign out, sign in', async () => {
    const client = test.visitor();
    expect((await signUp(client, 'One@Example.org')).statusCode).toBe(303);
    expect(await signedIn(client)).toBe(true);
    expect((await client.post('/sign-out')).statusCode).toBe(303);
    expect(await signedIn(client)).toBe(false);
    await client.get('/sign-in');
    const response = await client.post('/sign-in', { email: 'one@example.org', password: testPassword });
    expect(response.statusCode).toBe(303);
    expect(await signedIn(client)).toBe(true);
  });

  it('refuses a short password and a bad address at their fields, and gives back what was typed', async () => {
    const response = await signUp(test.visitor(), 'nowhere', 'short');
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('Use at least 12 characters');
    expect(response.body).toContain('Enter an e-mail address');
    expect(response.body).toContain('value="nowhere"');
    expect(response.body).not.toContain('value="short"');
  });

  it('says the same of an unknown address and of a wrong password', async () => {
    await signUp(test.visitor(), 'two@example.org');
    const wrong = await test
      .visitor()
      .post('/sign-in', { email: 'two@example.org', password: 'not that one' });
    const unknown = await test
      .visitor()
      .post('/sign-in', { email: 'nobody@example.org', password: 'not that one' });
    for (const response of [wrong, unknown]) {
      expect(response.statusCode).toBe(422);
      expect(response.body).toContain('The address and the password do not belong together.');
    }
  });

  it('keeps only a hash of the session id, and a fresh one for each sign-in', async () => {
    const client = test.visitor();
    await signUp(client, 'three@example.org');
    const id = /lintelbook=([^;]+)/.exec(client.cookies())?.[1] ?? '';
    expect(await test.deps.prisma.session.count({ where: { id } })).toBe(0);
    expect(await test.deps.prisma.session.count({ where: { id: hashSessionId(id) } })).toBe(1);
    await client.get('/sign-in');
    await client.post('/sign-in', { email: 'three@example.org', password: testPassword });
    expect(client.cookies()).not.toContain(id);
    expect(await test.deps.prisma.session.count({ where: { id: hashSessionId(id) } })).toBe(0);
  });

  it('signs out everywhere', async () => {
    const one = test.visitor();
    await signUp(one, 'four@example.org');
    const other = test.visitor();
    await other.post('/sign-in', { email: 'four@example.org', password: testPassword });
    expect(await signedIn(other)).toBe(true);
    await one.get('/account');
    await one.post('/sign-out-everywhere');
    expect(await signedIn(one)).toBe(false);
    expect(await signedIn(other)).toBe(false);
  });

  it('changes the password, ends every other session and keeps this one', async () => {
    const one = test.visitor();
    await signUp(one, 'five@example.org');
    const other = test.visitor();
    await other.post('/sign-in', { email: 'five@example.org', password: testPassword });
    await one.get('/account');
    const wrong = await one.post('/account/password', {
      current: 'not it at all',
      password: 'a new one, long enough',
    });
    expect(wrong.body).toContain('That is not your present password.');
    const response = await one.post('/account/password', {
      current: testPassword,
      password: 'a new one, long enough',
    });
    expect(response.statusCode).toBe(303);
    expect(await signedIn(one)).toBe(true);
    expect(await signedIn(other)).toBe(false);
    const old = await test.visitor().post('/sign-in', { email: 'five@example.org', password: testPassword });
    expect(old.statusCode).toBe(422);
  });

  it('ends a session of thirty days, however busy', async () => {
    const client = test.visitor();
    await signUp(client, 'six@example.org');
    const { id: personId } = await test.deps.prisma.person.findUniqueOrThrow({
      where: { email: 'six@example.org' },
    });
    const month = new Date(Date.now() - 31 * 86_400_000);
    await test.deps.prisma.session.updateMany({ where: { personId }, data: { createdAt: month } });
    expect(await signedIn(client)).toBe(false);
  });

  it('slows guessing at one account', async () => {
    const client = test.visitor();
    const answers: number[] = [];
    for (let guess = 0; guess < 12; guess += 1) {
      answers.push(
        (await client.post('/sign-in', { email: 'guess@example.org', password: `guess ${guess}` }))
          .statusCode,
      );
    }
    // Five are free; tests/people/attempts.http.test.ts says what comes after.
    expect(answers.slice(0, 5)).toEqual(Array(5).fill(422));
    expect(answers.slice(5)).toEqual(Array(7).fill(429));
  });

  it.each([
    '//evil.example',
    'https://evil.example',
    '/\\evil.example',
    'javascript:alert(1)',
    '',
    undefined,
    '/a b',
  ])('never leads to %s after sign-in', (next) => {
    expect(safeNext(next)).toBe('/');
  });
});

describe('forged requests', () => {
  it('are refused without the token, with a foreign one, and from a foreign origin', async () => {
    const client = await test.person('Victim');
    const other = await test.person('Attacker');
    const form = { name: 'Forged', address: 'x', jurisdiction: 'x' };
    expect((await client.postBare('/projects', form)).statusCode).toBe(403);
    const page = await other.get('/projects/new');
    const token = /name="_csrf" value="([^"]+)"/.exec(page.body)?.[1] ?? '';
    expect((await client.postBare('/projects', { ...form, _csrf: token })).statusCode).toBe(403);
    const own = /name="_csrf" value="([^"]+)"/.exec((await client.get('/projects/new')).body)?.[1] ?? '';
    for (const headers of [{ 'sec-fetch-site': 'cross-site' }, { 'sec-fetch-site': 'same-site' }]) {
      expect((await client.postBare('/projects', { ...form, _csrf: own }, headers)).statusCode).toBe(403);
    }
    expect(await test.deps.prisma.project.count({ where: { name: 'Forged' } })).toBe(0);
  });
});

describe('every page', () => {
  it('carries the strict policy and is never cached', async () => {
    const response = await test.visitor().get('/');
    const policy = String(response.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).not.toContain('unsafe');
    expect(response.headers['x-content-type-options']).toBe('nosniff');
    expect(response.headers['cache-control']).toBe('no-store');
  });

  it('is one plain answer where nothing is', async () => {
    const response = await test.visitor().get('/nowhere');
    expect(response.statusCode).toBe(404);
    expect(response.body).toContain('There is nothing here for you at this address.');
  });
});
