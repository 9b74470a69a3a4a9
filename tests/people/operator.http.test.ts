import { execFile } from 'node:child_process';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startTestApp, testPassword, type Client, type TestApp } from '../support/app.ts';
import { emailOf } from './kept-forms/session.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

const accounts = (words: readonly string[], databaseUrl = test.databaseUrl) =>
  new Promise<{ code: unknown; out: string; err: string }>((done) => {
    const env = { ...process.env, DATABASE_URL: databaseUrl };
    execFile('scripts/accounts', words, { env }, (error, out, err) => {
      done({ code: error === null ? 0 : error.code, out, err });
    });
  });
const isIn = async (client: Client) => (await client.get('/account')).statusCode === 200;

describe('scripts/accounts', () => {
  it('ends the sessions of one account, and of all', async () => {
    const one = await test.person('K. O.');
    const other = await test.person('R. T.');
    const { prisma } = test.deps;
    const soon = new Date(Date.now() + 60_000);
    await prisma.begunSignIn.create({
      data: { id: 'a'.repeat(64), personId: one.personId, createdAt: new Date(), expiresAt: soon },
    });
    const ended = await accounts(['end-sessions', (await emailOf(test, one)).toUpperCase()]);
    expect(ended).toEqual({ code: 0, out: '1 session ended.\n', err: '' });
    expect([await isIn(one), await isIn(other)]).toEqual([false, true]);
    expect(await prisma.begunSignIn.count()).toBe(0);
    await test.person('D. V.');
    expect(await accounts(['end-sessions', '--all'])).toEqual({
      code: 0,
      out: '2 sessions ended.\n',
      err: '',
    });
    expect(await isIn(other)).toBe(false);
  });

  it('switches codes off for somebody who has lost them, and tells it by mail', async () => {
    const one = await test.person('K. O.');
    const email = await emailOf(test, one);
    const { personId } = one;
    const at = new Date();
    await test.deps.prisma.secondFactor.create({
      data: { personId, sealedSecret: 'x', begunAt: at, confirmedAt: at },
    });
    const asked = await test.visitor().post('/sign-in', { email, password: testPassword });
    expect(asked.headers.location).toBe('/sign-in/code?next=%2F');
    expect(await accounts(['codes-off', email])).toMatchObject({ code: 0, err: '' });
    const after = await test.visitor().post('/sign-in', { email, password: testPassword });
    expect(after.headers.location).toBe('/');
    const letters = await test.deps.prisma.letter.findMany({ where: { personId } });
    expect(letters.map(({ kind }) => kind)).toEqual(['codes-off']);
    const again = await accounts(['codes-off', email]);
    expect([again.code, again.err]).toEqual([1, `The account under ${email} asks no one-time codes.\n`]);
  });

  it('refuses what it does not know in one line, and says how it is used', async () => {
    const nobody = await accounts(['end-sessions', 'nobody@example.org']);
    expect(nobody).toEqual({
      code: 1,
      out: '',
      err: 'Nobody here has an account under nobody@example.org.\n',
    });
    for (const words of [
      [],
      ['end-sessions'],
      ['codes-off', '--all'],
      ['all', 'x'],
      ['end-sessions', 'x', 'y'],
    ]) {
      const { code, err } = await accounts(words);
      expect([words, code, err.startsWith('usage: scripts/accounts')]).toEqual([words, 2, true]);
    }
    const away = await accounts(['end-sessions', '--all'], 'postgresql://nobody@127.0.0.1:1/none');
    expect(away.code).toBe(2);
    expect(away.err.trim().split('\n')).toHaveLength(1);
  });
});
