import { describe, expect, it } from 'vitest';
import { lettersOf } from '../../../src/notify/mail/letters.ts';
import { testAppSecret, testPassword } from '../../support/app.ts';
import { guardedPeople, isIn, saysOnItsPage, shownCodes } from './guarded-people.ts';

const { app, now, lettersTo, withCodes, atCode } = guardedPeople();

describe('keeping and switching codes off', () => {
  it('makes ten new recovery codes for the password; those before are worth nothing', async () => {
    const { person, recovery, email } = await withCodes('K. O.');
    await person.get('/account/codes');
    expect((await person.post('/account/codes/recovery', { current: 'not it' })).statusCode).toBe(422);
    const made = shownCodes((await person.post('/account/codes/recovery', { current: testPassword })).body);
    expect(made).toHaveLength(10);
    expect(made.filter((code) => recovery.includes(code))).toEqual([]);
    expect(await lettersTo(person)).toEqual(['codes-on', 'recovery-codes']);
    const browser = await atCode(email);
    expect((await browser.post('/sign-in/code', { recoveryCode: recovery[0]! })).statusCode).toBe(422);
    expect((await browser.post('/sign-in/code', { recoveryCode: made[0]! })).statusCode).toBe(303);
    const without = await app().person('R. T.');
    await without.get('/account/codes');
    await saysOnItsPage(
      without,
      await without.post('/account/codes/recovery', { current: testPassword }),
      'nothing to recover',
    );
  });

  it('says when few recovery codes are left', async () => {
    const { person } = await withCodes('K. O.');
    const all = await app().deps.prisma.recoveryCode.findMany({ where: { personId: person.personId } });
    const used = all.slice(0, 9).map(({ codeHash }) => codeHash);
    await app().deps.prisma.recoveryCode.updateMany({
      where: { codeHash: { in: used } },
      data: { usedAt: now() },
    });
    const { body } = await person.get('/account/codes');
    expect(body).toContain('You have 1 unused recovery code.');
    expect(body).toContain('Few recovery codes are left');
  });

  it('switches off for the password; nothing is asked any more, and the mail says so', async () => {
    const { person, email } = await withCodes('K. O.');
    const between = await atCode(email);
    await person.get('/account/codes');
    const wrong = await person.post('/account/codes/off', { currentForOff: 'not it' });
    expect([wrong.statusCode, wrong.body.includes('f-currentForOff-error"')]).toEqual([422, true]);
    expect((await person.post('/account/codes/off', { currentForOff: testPassword })).headers.location).toBe(
      '/account',
    );
    expect(await lettersTo(person)).toEqual(['codes-on', 'codes-off']);
    const { personId } = person;
    expect(await app().deps.prisma.recoveryCode.count({ where: { personId } })).toBe(0);
    expect(String((await between.get('/sign-in/code')).headers.location)).toMatch(/^\/sign-in$/);
    const other = app().visitor();
    expect((await other.post('/sign-in', { email, password: testPassword })).headers.location).toBe('/');
    expect(await isIn(other)).toBe(true);
  });

  it('tells each of it in a letter that no choice of mail holds back and that lets nobody in', async () => {
    const { person, email } = await withCodes('K. O.');
    await app().deps.prisma.person.update({ where: { id: person.personId }, data: { mailChoice: 'none' } });
    await person.get('/account/codes');
    await person.post('/account/codes/off', { currentForOff: testPassword });
    const write = lettersOf({ ...app().deps, secret: testAppSecret });
    const letters = await app().deps.prisma.letter.findMany({ where: { personId: person.personId } });
    const words = await Promise.all(letters.map((row) => write(row)));
    expect(words.map((one) => one?.subject).sort()).toEqual([
      'One-time codes are off',
      'One-time codes are on',
    ]);
    for (const one of words) {
      expect(one).toMatchObject({ to: { address: email }, stopUrl: null });
      expect(one!.text).toContain('If it was not you: choose a new password at once');
      expect(one!.text).not.toMatch(/new-password\//);
      expect(one!.html).toContain('/forgotten-password');
    }
  });
});
