import { describe, expect, it } from 'vitest';
import { testPassword } from '../../support/app.ts';
import { emailOf } from '../kept-forms/session.ts';
import { guardedPeople, isIn, saysOnItsPage, secretOn, shownCodes, unescaped } from './guarded-people.ts';

const { app, lines, seconds, codeNow, lettersTo, sessionsOf, withCodes, atCode } = guardedPeople();

describe('switching codes on', () => {
  it('shows the secret as picture and text, and asks nothing at sign-in before a first code fits', async () => {
    const person = await app().person('K. O.');
    expect((await person.get('/account')).body).toContain('Codes are off');
    expect((await person.get('/account/codes/code.svg')).statusCode).toBe(404);
    await person.get('/account/codes');
    await person.post('/account/codes', { current: testPassword });
    const page = await person.get('/account/codes');
    const secret = secretOn(page.body);
    expect(secret).toMatch(/^[A-Z2-7]{32}$/);
    const picture = await person.get('/account/codes/code.svg');
    expect(picture.headers['content-type']).toContain('image/svg+xml');
    expect(picture.headers['cache-control']).toBe('no-store');
    const wrong = await person.post('/account/codes/confirmation', { code: '12345' });
    expect([wrong.statusCode, wrong.body.includes('Enter the six figures')]).toEqual([422, true]);
    const later = await person.post('/account/codes/confirmation', { code: codeNow(secret, 3) });
    expect([later.statusCode, unescaped(later.body).includes('not right just now')]).toEqual([422, true]);
    // The secret stays: what was scanned is not thrown away by a slip of the finger.
    expect(secretOn(later.body)).toBe(secret);
    const other = app().visitor();
    const email = await emailOf(app(), person);
    expect((await other.post('/sign-in', { email, password: testPassword })).headers.location).toBe('/');
    expect(await lettersTo(person)).toEqual([]);

    const confirmed = await person.post('/account/codes/confirmation', { code: codeNow(secret) });
    expect(shownCodes(confirmed.body)).toHaveLength(10);
    expect(confirmed.body).not.toContain(secret);
    expect(await lettersTo(person)).toEqual(['codes-on']);
    const after = await person.get('/account/codes');
    expect(after.body).toContain('You have 10 unused recovery codes');
    expect([secretOn(after.body), shownCodes(after.body)]).toEqual(['', []]);
    expect((await person.get('/account/codes/code.svg')).statusCode).toBe(404);
    expect((await person.get('/account')).body).toContain('Codes are on');
  });

  it('asks the password first, and lets nobody begin over codes that are on', async () => {
    const person = await app().person('K. O.');
    await person.get('/account/codes');
    const wrong = await person.post('/account/codes', { current: 'not that one' });
    expect([wrong.statusCode, wrong.body.includes('That is not your present password.')]).toEqual([
      422,
      true,
    ]);
    const none = await person.post('/account/codes', { current: '' });
    expect([none.statusCode, none.body.includes('Enter your present password.')]).toEqual([422, true]);
    expect(await app().deps.prisma.secondFactor.count({ where: { personId: person.personId } })).toBe(0);
    await saysOnItsPage(
      person,
      await person.post('/account/codes/confirmation', { code: '123456' }),
      'That took too long',
    );
    const { person: guarded, secret } = await withCodes('R. T.');
    await saysOnItsPage(
      guarded,
      await guarded.post('/account/codes', { current: testPassword }),
      'on already',
    );
    const again = await guarded.post('/account/codes/confirmation', { code: codeNow(secret) });
    await saysOnItsPage(guarded, again, 'One-time codes are on already.');
    const browser = await atCode(await emailOf(app(), guarded));
    await browser.post('/sign-in/code', { code: codeNow(secret) });
    expect(await isIn(browser)).toBe(true);
  });

  it('forgets a secret that was not confirmed in time, and one that was begun anew', async () => {
    const person = await app().person('K. O.');
    await person.get('/account/codes');
    await person.post('/account/codes', { current: testPassword });
    const first = secretOn((await person.get('/account/codes')).body);
    await person.post('/account/codes', { current: testPassword });
    const second = secretOn((await person.get('/account/codes')).body);
    expect(second).not.toBe(first);
    expect((await person.post('/account/codes/confirmation', { code: codeNow(first) })).statusCode).toBe(422);
    seconds(15 * 60 + 1);
    await saysOnItsPage(
      person,
      await person.post('/account/codes/confirmation', { code: codeNow(second) }),
      'That took too long',
    );
    expect(secretOn((await person.get('/account/codes')).body)).toBe('');
  });

  it('keeps the secret sealed and the recovery codes as hashes, and logs neither', async () => {
    const { person, secret, recovery, email } = await withCodes('K. O.');
    const browser = await atCode(email);
    await browser.post('/sign-in/code', { code: '000000' });
    await browser.post('/sign-in/code', { recoveryCode: recovery[0]! });
    const rows = JSON.stringify([
      await app().deps.prisma.secondFactor.findMany({ select: { sealedSecret: true } }),
      await app().deps.prisma.recoveryCode.findMany(),
      await app().deps.prisma.begunSignIn.findMany(),
      await app().deps.prisma.letter.findMany(),
    ]);
    const log = lines.join('');
    expect(log).toContain('code refused');
    for (const one of [secret, ...recovery, recovery[0]!.replaceAll('-', '')]) {
      expect(rows).not.toContain(one);
      expect(log).not.toContain(one);
    }
    expect(
      await app().deps.prisma.recoveryCode.count({ where: { personId: person.personId, usedAt: null } }),
    ).toBe(9);
  });
});

describe('signing in with codes', () => {
  it('asks a browser that sends many codes to wait, too', async () => {
    const { email } = await withCodes('K. O.');
    const browser = await atCode(email);
    const answers: number[] = [];
    for (let guess = 0; guess < 11; guess += 1) {
      answers.push((await browser.post('/sign-in/code', { code: 'not a code' })).statusCode);
    }
    expect(answers).toEqual([...Array<number>(10).fill(422), 429]);
  });

  it('asks the code on a second page, and begins no session before it is right', async () => {
    const { person, secret, email } = await withCodes('K. O.');
    const before = await sessionsOf(person);
    const browser = await atCode(email, '/account/mail');
    expect(await sessionsOf(person)).toBe(before);
    expect(await isIn(browser)).toBe(false);
    const wrong = await browser.post('/sign-in/code', { code: codeNow(secret, 7), next: '/account/mail' });
    expect([wrong.statusCode, unescaped(wrong.body).includes('not right just now')]).toEqual([422, true]);
    expect(await sessionsOf(person)).toBe(before);
    const typed = codeNow(secret);
    const right = await browser.post('/sign-in/code', {
      code: `${typed.slice(0, 3)} ${typed.slice(3)}`,
      next: '/account/mail',
    });
    expect([right.statusCode, right.headers.location]).toEqual([303, '/account/mail']);
    expect(await isIn(browser)).toBe(true);
    expect(await sessionsOf(person)).toBe(before + 1);
    // The second page is done with.
    expect(String((await browser.get('/sign-in/code')).headers.location)).toMatch(/^\/sign-in$/);
  });

  it('takes a code in its own 30 seconds, not one step early or late, and each once', async () => {
    const { person, secret, email } = await withCodes('K. O.');
    for (const [off, status] of [
      [-1, 422],
      [1, 422],
      [0, 303],
    ] as const) {
      seconds(90);
      const browser = await atCode(email);
      expect((await browser.post('/sign-in/code', { code: codeNow(secret, off) })).statusCode).toBe(status);
    }
    seconds(90);
    const used = codeNow(secret);
    expect((await (await atCode(email)).post('/sign-in/code', { code: used })).statusCode).toBe(303);
    const again = await atCode(email);
    expect((await again.post('/sign-in/code', { code: used })).statusCode).toBe(422);
    expect(await isIn(again)).toBe(false);
    expect(await isIn(person)).toBe(true);
  });

  it('does not take the code that switched codes on', async () => {
    const person = await app().person('K. O.');
    await person.get('/account/codes');
    await person.post('/account/codes', { current: testPassword });
    const code = codeNow(secretOn((await person.get('/account/codes')).body));
    await person.post('/account/codes/confirmation', { code });
    const browser = await atCode(await emailOf(app(), person));
    expect((await browser.post('/sign-in/code', { code })).statusCode).toBe(422);
  });

  it('of two who come with one code at once lets one in', async () => {
    const { secret, email } = await withCodes('K. O.');
    const browsers = [await atCode(email), await atCode(email)];
    const code = codeNow(secret);
    const answers = await Promise.all(browsers.map((browser) => browser.post('/sign-in/code', { code })));
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 422]);
  });

  it('takes each recovery code once, and tells it by mail', async () => {
    const { person, recovery, email } = await withCodes('K. O.');
    const [first = ''] = recovery;
    const browser = await atCode(email);
    const right = await browser.post('/sign-in/code', {
      recoveryCode: first.toLowerCase().replaceAll('-', ' '),
    });
    expect(right.statusCode).toBe(303);
    expect(await isIn(browser)).toBe(true);
    expect(await lettersTo(person)).toEqual(['codes-on', 'recovery-code-used']);
    const again = await atCode(email);
    for (const recoveryCode of [first, 'AAAA-AAAA-AAAA-AAAA-AAAA-AAAA-AAAA', '']) {
      const answer = await again.post('/sign-in/code', { recoveryCode });
      expect(answer.statusCode).toBe(422);
      // The box stands open where the fault is.
      expect(answer.body).toContain('<details class="record" open>');
    }
    expect(await isIn(again)).toBe(false);
  });

  it('of somebody else’s recovery codes takes none', async () => {
    const { recovery } = await withCodes('K. O.');
    const { email } = await withCodes('R. T.');
    const browser = await atCode(email);
    expect((await browser.post('/sign-in/code', { recoveryCode: recovery[0]! })).statusCode).toBe(422);
  });

  it('has no second page without the password, in another browser, or after ten minutes', async () => {
    const { secret, email } = await withCodes('K. O.');
    const stranger = app().visitor();
    expect(String((await stranger.get('/sign-in/code')).headers.location)).toMatch(/^\/sign-in$/);
    const bare = await stranger.post('/sign-in/code', { code: codeNow(secret) });
    expect([bare.statusCode, bare.headers.location === '/sign-in']).toEqual([303, true]);
    expect(await isIn(stranger)).toBe(false);
    const browser = await atCode(email);
    seconds(600);
    const late = await browser.post('/sign-in/code', { code: codeNow(secret) });
    expect([late.statusCode, late.headers.location === '/sign-in']).toEqual([303, true]);
    expect((await browser.get('/sign-in')).body).toContain('Too much time has passed');
    expect(await isIn(browser)).toBe(false);
  });

  it('refuses a forged second page', async () => {
    const { secret, email } = await withCodes('K. O.');
    const browser = await atCode(email);
    const code = codeNow(secret);
    expect((await browser.postBare('/sign-in/code', { code })).statusCode).toBe(403);
    const token = /name="_csrf" value="([^"]+)"/.exec((await browser.get('/sign-in/code')).body)?.[1] ?? '';
    const from = { 'sec-fetch-site': 'cross-site' };
    expect((await browser.postBare('/sign-in/code', { code, _csrf: token }, from)).statusCode).toBe(403);
    expect(await isIn(browser)).toBe(false);
    expect((await browser.post('/sign-in/code', { code })).statusCode).toBe(303);
  });

  it('slows guessing at codes for the account, whatever the browser, and the right password takes nothing back', async () => {
    const { secret, recovery, email } = await withCodes('K. O.');
    for (let guess = 0; guess < 5; guess += 1) {
      const browser = await atCode(email);
      expect((await browser.post('/sign-in/code', { code: '000000' })).statusCode).toBe(422);
    }
    const browser = await atCode(email);
    const paused = await browser.post('/sign-in/code', { code: codeNow(secret) });
    expect([paused.statusCode, paused.headers['retry-after']]).toEqual([429, '30']);
    expect(paused.body).toContain('Too many codes were wrong. Wait 30 seconds');
    // Recovery codes are no way around it.
    expect((await browser.post('/sign-in/code', { recoveryCode: recovery[0]! })).statusCode).toBe(429);
    expect(await isIn(browser)).toBe(false);
    seconds(31);
    expect((await browser.post('/sign-in/code', { code: codeNow(secret) })).statusCode).toBe(303);
    // Who came in begins with a clean count.
    seconds(60);
    for (let guess = 0; guess < 3; guess += 1) {
      expect((await (await atCode(email)).post('/sign-in/code', { code: '000000' })).statusCode).toBe(422);
    }
  });

  it('tells whoever has the wrong password nothing of the codes', async () => {
    const { email } = await withCodes('K. O.');
    const without = await emailOf(app(), await app().person('R. T.'));
    const plain = (body: string) => body.replace(/value="[^"]*"/g, '');
    const answers = await Promise.all(
      [email, without, 'nobody@example.org'].map((address) =>
        app().visitor().post('/sign-in', { email: address, password: 'not that one at all' }),
      ),
    );
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([422, 422, 422]);
    expect(new Set(answers.map(({ body }) => plain(body))).size).toBe(1);
    expect(answers.flatMap(({ cookies }) => cookies.map(({ name }) => name))).not.toContain(
      'lintelbook-code',
    );
  });

  it('ends the session that was in the browser, once the code is right', async () => {
    const { person, secret, email } = await withCodes('K. O.');
    const before = /(?:^|; )lintelbook=([^;]+)/.exec(person.cookies())?.[1] ?? '';
    await person.post('/sign-in', { email, password: testPassword });
    expect(await isIn(person)).toBe(true);
    await person.get('/sign-in/code');
    expect((await person.post('/sign-in/code', { code: codeNow(secret) })).statusCode).toBe(303);
    const old = await app().app.inject({ url: '/account', headers: { cookie: `lintelbook=${before}` } });
    expect(old.statusCode).toBe(303);
    expect(await isIn(person)).toBe(true);
  });

  it('ends what was begun when the password changes, and a new password by mail leaves codes on', async () => {
    const { person, secret, email } = await withCodes('K. O.');
    const browser = await atCode(email);
    await person.get('/account');
    const password = 'seven plain words here';
    await person.post('/account/password', { current: testPassword, password });
    const late = await browser.post('/sign-in/code', { code: codeNow(secret) });
    expect(String(late.headers.location)).toMatch(/^\/sign-in$/);
    expect(await lettersTo(person)).toEqual(['codes-on', 'password-changed']);
    const { requestReset, tokenForLetter } = await import('../../../src/people/resets/service.ts');
    await requestReset(app().deps, email);
    const { id } = await app().deps.prisma.passwordReset.findFirstOrThrow({
      where: { personId: person.personId },
    });
    const link = `/new-password/${(await tokenForLetter(app().deps, id)) ?? ''}`;
    const visitor = app().visitor();
    await visitor.get(link);
    expect((await visitor.post(link, { password: testPassword })).statusCode).toBe(303);
    const after = await atCode(email);
    expect((await after.post('/sign-in/code', { code: codeNow(secret) })).statusCode).toBe(303);
  });

  it('is let in by recovery codes where the installation has another secret now', async () => {
    const { person, recovery, email } = await withCodes('K. O.');
    await app().deps.prisma.secondFactor.update({
      where: { personId: person.personId },
      data: { sealedSecret: Buffer.alloc(64).toString('base64url') },
    });
    const browser = await atCode(email);
    const answer = await browser.post('/sign-in/code', { code: '123456' });
    expect([answer.statusCode, answer.body.includes('another secret now')]).toEqual([422, true]);
    expect((await browser.post('/sign-in/code', { recoveryCode: recovery[1]! })).statusCode).toBe(303);
  });
});
