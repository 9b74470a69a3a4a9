import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type * as Argon2 from '@node-rs/argon2';
import { tokenForLetter } from '../../src/people/resets/service.ts';
import { startTestApp, testPassword, type TestApp } from '../support/app.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

const signUp = (password: string, email = `${randomUUID()}@example.org`, name = 'A Person') =>
  test.visitor().post('/sign-up', { name, email, password });

describe('a password', () => {
  it('nobody is there in a new installation without the demo', async () => {
    expect(await test.deps.prisma.person.count()).toBe(0);
  });

  it('that is easy is refused with the reason, at sign-up, change and reset', async () => {
    const easy = [
      'password1234',
      'P@ssw0rd2026!',
      'lintelbook2026',
      'hammerhammer',
      'qwertyuiop12',
      '111111111111',
      'abcdefghijkl',
      'ghjcnjgfhjkm',
    ];
    for (const password of easy) {
      const answer = await signUp(password);
      expect(answer.statusCode, password).toBe(422);
      expect(answer.body).toContain('That is among the first that would be guessed.');
      expect(answer.body).not.toContain(`value="${password}"`);
    }
    expect((await signUp('tolliver.graves!1', 'tolliver.graves@example.org')).statusCode).toBe(422);
    expect((await signUp('Tolliver Graves 7', undefined, 'Tolliver Graves')).statusCode).toBe(422);
    const one = await test.person('One');
    const change = await one.post('/account/password', { current: testPassword, password: 'password1234' });
    expect(change.body).toContain('That is among the first that would be guessed.');
    const { prisma } = test.deps;
    await prisma.person.update({ where: { id: one.personId }, data: { name: 'Tolliver Graves' } });
    await one.get('/account');
    const own = { current: testPassword, password: 'tollivergraves12' };
    expect((await one.post('/account/password', own)).body).toContain('That is among the first');
    const at = new Date();
    const { id } = await prisma.passwordReset.create({
      data: { personId: one.personId, createdAt: at, expiresAt: new Date(at.getTime() + 60_000) },
    });
    const link = `/new-password/${(await tokenForLetter(test.deps, id)) ?? ''}`;
    const byLetter = await test.visitor().post(link, { password: own.password });
    expect([byLetter.statusCode, byLetter.body.includes('That is among the first')]).toEqual([422, true]);
    const { newPasswordSchema } = await import('../../src/people/accounts/schemas.ts');
    expect(newPasswordSchema.safeParse('welcome welcome').success).toBe(false);
  });

  it('any characters will do, spaces and other scripts too', async () => {
    for (const password of [
      'correct horse battery staple',
      'ключ под ковриком',
      '梁の上に雪が積もる日の朝に',
      'ümläutÿ çedille',
      '~`!@#%^&*()_+{}|:<>?',
    ]) {
      expect((await signUp(password)).statusCode, password).toBe(303);
    }
  });

  it('counts to the last character and the case of each', async () => {
    const email = `${randomUUID()}@example.org`;
    const long = `${'Long words, one after another. '.repeat(6)}End`;
    expect(long.length).toBeGreaterThan(180);
    expect((await signUp(long, email)).statusCode).toBe(303);
    for (const wrong of [long.slice(0, -1), long.toLowerCase(), ` ${long}`, `${long} `, long.slice(0, 72)]) {
      expect((await test.visitor().post('/sign-in', { email, password: wrong })).statusCode).not.toBe(303);
      await test.deps.prisma.signInAttempt.deleteMany();
    }
    expect((await test.visitor().post('/sign-in', { email, password: long })).statusCode).toBe(303);
    expect((await signUp('x y'.repeat(67))).statusCode).toBe(422);
  });

  it('boxes hide what is typed, and let a password manager and pasting do their work', async () => {
    const one = await test.person('One');
    const pages = [
      [(await test.visitor().get('/sign-in')).body, ['current-password']],
      [(await test.visitor().get('/sign-up')).body, ['new-password']],
      [(await one.get('/account')).body, ['current-password', 'new-password']],
    ] as const;
    for (const [body, kinds] of pages) {
      const boxes = [...body.matchAll(/<input[^>]*name="(?:password|current)"[^>]*>/g)].map(([tag]) => tag);
      expect(boxes.map((tag) => /autocomplete="([^"]+)"/.exec(tag)?.[1])).toEqual([...kinds]);
      for (const tag of boxes) {
        expect(tag).toContain('type="password"');
        expect(tag).not.toMatch(/onpaste|readonly|maxlength/);
      }
    }
  });

  it('is kept by argon2id with 46 MiB', async () => {
    const email = `${randomUUID()}@example.org`;
    await signUp('some quite different words', email);
    const { passwordHash } = await test.deps.prisma.person.findUniqueOrThrow({ where: { email } });
    expect(passwordHash).toMatch(/^\$argon2id\$v=19\$m=47104,t=1,p=1\$/);
  });
});

describe('signing in to an address that nobody has', () => {
  it('does the same work as to one that somebody has', async () => {
    const verify = vi.fn<typeof Argon2.verify>();
    vi.resetModules();
    vi.doMock('@node-rs/argon2', async (original) => {
      const real = await original<typeof Argon2>();
      return { ...real, verify: verify.mockImplementation(real.verify) };
    });
    // Read anew, all of it: the modules in use hold the real package.
    const again = await import('../support/app.ts');
    const own = await again.startTestApp();
    const { personId } = await own.person('One');
    const { email } = await own.deps.prisma.person.findUniqueOrThrow({ where: { id: personId } });
    const work: { verified: number; hashedBy: string[] }[] = [];
    for (const tried of [email ?? '', 'nobody-at-all@example.org', 'nobody-else@example.org']) {
      verify.mockClear();
      const answer = await own
        .visitor()
        .post('/sign-in', { email: tried, password: 'wrong words altogether' });
      expect(answer.statusCode).toBe(422);
      work.push({
        verified: verify.mock.calls.length,
        // The hash that was verified has the same parameters, hence the same cost.
        hashedBy: verify.mock.calls.map(([hash]) => String(hash).split('$').slice(1, 4).join(' ')),
      });
    }
    await own.close();
    vi.doUnmock('@node-rs/argon2');
    vi.resetModules();
    expect(work[0]).toEqual({ verified: 1, hashedBy: ['argon2id v=19 m=47104,t=1,p=1'] });
    expect(work[1]).toEqual(work[0]);
    expect(work[2]).toEqual(work[0]);
  });
});

describe('who has an account', () => {
  it('is told by no invitation', async () => {
    const one = await test.person('One');
    const { email } = await test.deps.prisma.person.findUniqueOrThrow({ where: { id: one.personId } });
    const contractor = await test.person('Con Tractor');
    await contractor.post('/projects', {
      name: 'House',
      address: '1 Row',
      jurisdiction: 'Town',
      permitNumber: '',
    });
    const { projectId } = await test.deps.prisma.membership.findFirstOrThrow({
      where: { personId: contractor.personId },
    });
    const answers = [];
    for (const address of [email ?? '', 'nobody-here@example.org']) {
      const sent = await contractor.post(`/projects/${projectId}/invitations`, {
        role: 'owner',
        label: 'Somebody',
        email: address,
      });
      const page = await contractor.get(`/projects/${projectId}/people`);
      const plain = page.body
        .replaceAll(address, 'ADDRESS')
        .replace(/value="[^"]*"/g, '')
        .replace(/invitations\/[0-9a-f-]+/g, '');
      answers.push({
        status: sent.statusCode,
        said: plain.includes('A letter with a one-time link is on its way to ADDRESS'),
      });
    }
    expect(answers[0]).toEqual({ status: 303, said: true });
    expect(answers[1]).toEqual(answers[0]);
  });
});
