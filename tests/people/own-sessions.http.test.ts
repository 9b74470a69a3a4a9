import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { browserWords } from '../../src/people/sessions/browser-words.ts';
import { startTestApp, testPassword, type Client, type TestApp } from '../support/app.ts';
import { emailOf } from './kept-forms/session.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

const isIn = async (client: Client) => (await client.get('/account')).statusCode === 200;
const endings = (body: string) =>
  [...body.matchAll(/name="end" value="([0-9a-f]{16})"/g)].map(([, name = '']) => name);
const end = (client: Client, fields: Readonly<Record<string, string>>) =>
  client.post('/account/sessions/end', { currentForSessions: testPassword, ...fields });

/** The same person in a further browser. */
async function furtherBrowser(person: Client): Promise<Client> {
  const browser = test.visitor();
  await browser.post('/sign-in', { email: await emailOf(test, person), password: testPassword });
  await browser.get('/account');
  return browser;
}

describe('one’s own sessions', () => {
  it('are listed with when they began, when they were last seen and in what, this one marked', async () => {
    const person = await test.person('K. O.');
    await furtherBrowser(person);
    const { personId } = person;
    const [oldest] = await test.deps.prisma.session.findMany({
      where: { personId },
      orderBy: { createdAt: 'desc' },
    });
    await test.deps.prisma.session.update({
      where: { id: oldest!.id },
      data: {
        createdAt: new Date('2026-11-20T08:00:00Z'),
        lastSeenAt: new Date('2026-11-22T09:30:00Z'),
        browser: 'a computer or tablet',
      },
    });
    const { body } = await person.get('/account');
    const list = body.slice(body.indexOf('<h2>Sessions</h2>'));
    expect(list).toMatch(/This one: A program, since <time datetime="[^"]+"[^>]*>\w{3} \d+, \d{4}/);
    const words = list.replaceAll(/<\/?time[^>]*>/g, '');
    expect(words).toMatch(/A computer or tablet, since Nov 20, 2026[^<]*, last seen Nov 22, 2026/);
    expect(list).toContain('last seen <time datetime="2026-11-22T09:30:00.000Z"');
    // Each but this one has a box, and no name in the page signs anybody in.
    expect(endings(list)).toHaveLength(1);
    for (const { id } of await test.deps.prisma.session.findMany()) expect(body).not.toContain(id);
  });

  it.each(['theirs=%E0%A4%A', 'theirs=%', 'x=%AA'])(
    'are found beside a cookie of another program that can’t be decoded: %s',
    async (theirs) => {
      const person = await test.person('K. O.');
      for (const cookie of [`${theirs}; ${person.cookies()}`, `${person.cookies()}; ${theirs}`]) {
        const answer = await test.app.inject({ method: 'GET', url: '/account', headers: { cookie } });
        expect(answer.statusCode).toBe(200);
        expect(answer.body).toContain('K. O.');
      }
    },
  );

  it('of a cookie that is broken itself are none', async () => {
    const person = await test.person('K. O.');
    const broken = person.cookies().replace(/(?<=^|; )lintelbook=/, 'lintelbook=%');
    expect(broken).not.toBe(person.cookies());
    const answer = await test.app.inject({ method: 'GET', url: '/account', headers: { cookie: broken } });
    expect(answer.statusCode).toBe(303);
    expect(answer.headers.location).toContain('/sign-in');
  });

  it('end one by one, and all but this one', async () => {
    const person = await test.person('K. O.');
    expect((await person.get('/account')).body).toContain('You are signed in nowhere else.');
    const phone = await furtherBrowser(person);
    const tablet = await furtherBrowser(person);
    const names = endings((await person.get('/account')).body);
    expect(names).toHaveLength(2);
    const first = { end: names[0] ?? '' };
    expect((await end(person, first)).headers.location).toBe('/account');
    const left = endings((await person.get('/account')).body);
    expect(left).toEqual(names.slice(1));
    expect((await Promise.all([phone, tablet].map(isIn))).filter((there) => there)).toHaveLength(1);
    // One that ended meanwhile is no error: it has ended.
    expect((await end(person, first)).statusCode).toBe(303);
    await furtherBrowser(person);
    expect((await end(person, { all: 'yes' })).statusCode).toBe(303);
    expect(await Promise.all([phone, tablet, person].map(isIn))).toEqual([false, false, true]);
    expect(endings((await person.get('/account')).body)).toEqual([]);
  });

  it('end only for the present password, and for a choice', async () => {
    const person = await test.person('K. O.');
    const other = await furtherBrowser(person);
    const [name = ''] = endings((await person.get('/account')).body);
    for (const [fields, words] of [
      [{ end: name, currentForSessions: 'not it' }, 'That is not your present password.'],
      [{ end: name, currentForSessions: '' }, 'Enter your present password.'],
      [{}, 'Choose which sessions to end.'],
      [{ all: 'yes', currentForSessions: 'not it' }, 'That is not your present password.'],
    ] as const) {
      const answer = await end(person, fields);
      expect([answer.statusCode, answer.body.includes(words)]).toEqual([422, true]);
    }
    // What was ticked stays so.
    const again = await end(person, { end: name, currentForSessions: 'not it' });
    expect(again.body).toContain(`value="${name}" checked`);
    expect(await isIn(other)).toBe(true);
  });

  it('are nobody else’s to end', async () => {
    const person = await test.person('K. O.');
    const phone = await furtherBrowser(person);
    const [name = ''] = endings((await person.get('/account')).body);
    const stranger = await test.person('R. T.');
    const rows = await test.deps.prisma.session.findMany({ where: { personId: person.personId } });
    for (const wrong of [name, rows[0]!.id, '%', '', 'x'.repeat(16)]) await end(stranger, { end: wrong });
    await end(stranger, { all: 'yes' });
    expect(await Promise.all([person, phone, stranger].map(isIn))).toEqual([true, true, true]);
    const forged = { end: name, currentForSessions: testPassword };
    expect((await person.postBare('/account/sessions/end', forged)).statusCode).toBe(403);
    expect((await test.visitor().post('/account/sessions/end', forged)).headers.location).toMatch(
      /^\/sign-in/,
    );
    expect(await isIn(phone)).toBe(true);
  });

  it('say when they were last seen, to ten minutes', async () => {
    const person = await test.person('K. O.');
    const seen = async () =>
      (await test.deps.prisma.session.findFirstOrThrow({ where: { personId: person.personId } })).lastSeenAt;
    const set = (minutes: number) =>
      test.deps.prisma.session.updateMany({
        where: { personId: person.personId },
        data: { lastSeenAt: new Date(Date.now() - minutes * 60_000) },
      });
    await set(5);
    const before = await seen();
    await person.get('/');
    expect(await seen()).toEqual(before);
    await set(11);
    await person.get('/');
    expect(Date.now() - (await seen()).getTime()).toBeLessThan(5 * 60_000);
  });

  it('keep of the browser a few plain words', async () => {
    const person = await test.person('K. O.');
    const page = await test.app.inject({ url: '/sign-in' });
    const cookie = page.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join('; ');
    const answer = await test.app.inject({
      method: 'POST',
      url: '/sign-in',
      headers: {
        cookie,
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
        'user-agent': 'Mozilla/5.0 (Example OS 10; rv:140.0) Example/140.0 <b>secret-detail</b>',
      },
      payload: new URLSearchParams({
        _csrf: /name="_csrf" value="([^"]+)"/.exec(page.body)?.[1] ?? '',
        email: await emailOf(test, person),
        password: testPassword,
      }).toString(),
    });
    expect(answer.statusCode).toBe(303);
    const rows = await test.deps.prisma.session.findMany({ where: { personId: person.personId } });
    expect(rows.map(({ browser }) => browser)).toContain('a computer or tablet');
    expect(JSON.stringify(rows)).not.toContain('secret-detail');
  });
});

describe('what a browser says of itself, in plain words', () => {
  // The forms that browsers send it in; from memory, versions made up.
  it.each([
    [
      'Mozilla/5.0 (Example OS 18; like others) Example/605.1.15 (like others) Version/18.0 Mobile/15E148',
      'a phone',
    ],
    ['Mozilla/5.0 (Example OS 10; K) Example/140.0.0.0 (like others) Mobile', 'a phone'],
    ['Mozilla/5.0 (Example OS 10; K) Example/140.0.0.0 (like others)', 'a computer or tablet'],
    ['Example/8.0', 'a program'],
    ['', ''],
    [undefined, ''],
  ])('%s', (said, words) => {
    expect(browserWords(said)).toBe(words);
  });
});
