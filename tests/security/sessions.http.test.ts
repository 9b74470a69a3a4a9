import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startTestApp, testPassword, type Client, type TestApp } from '../support/app.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

const idIn = (cookies: string) => /(?:^|; )lintelbook=([^;]+)/.exec(cookies)?.[1] ?? '';
const emailOf = async ({ personId }: Client) =>
  (await test.deps.prisma.person.findUniqueOrThrow({ where: { id: personId } })).email ?? '';
const asCookie = (cookie: string) =>
  test.app.inject({ url: '/account', headers: { cookie } }).then(({ statusCode }) => statusCode);

describe('a session', () => {
  it('an id that was planted before the sign-in is worth nothing after it', async () => {
    const victim = await test.person('Victim');
    const planted = 'a'.repeat(40);
    const page = await test.app.inject({ url: '/sign-in' });
    const form = page.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join('; ');
    const token = /name="_csrf" value="([^"]+)"/.exec(page.body)?.[1] ?? '';
    const answer = await test.app.inject({
      method: 'POST',
      url: '/sign-in',
      headers: {
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
        cookie: `${form}; lintelbook=${planted}`,
      },
      payload: new URLSearchParams({
        _csrf: token,
        email: await emailOf(victim),
        password: testPassword,
      }).toString(),
    });
    expect(answer.statusCode).toBe(303);
    const given = answer.cookies.find(({ name }) => name === 'lintelbook')?.value ?? '';
    expect(given).not.toBe('');
    expect(given).not.toBe(planted);
    expect(await asCookie(`lintelbook=${planted}`)).toBe(303);
    expect(await asCookie(`lintelbook=${given}`)).toBe(200);
  });

  it('a second sign-in ends the session that was in the browser', async () => {
    const one = await test.person('One');
    const before = idIn(one.cookies());
    expect(
      (await one.post('/sign-in', { email: await emailOf(one), password: testPassword })).statusCode,
    ).toBe(303);
    expect(idIn(one.cookies())).not.toBe(before);
    expect(await asCookie(`lintelbook=${before}`)).toBe(303);
  });

  it('a new password gives a fresh id, and the one before is worth nothing', async () => {
    const one = await test.person('One');
    const before = idIn(one.cookies());
    const answer = await one.post('/account/password', {
      current: testPassword,
      password: 'seven plain words here',
    });
    expect(answer.statusCode).toBe(303);
    expect(idIn(one.cookies())).not.toBe(before);
    expect(await asCookie(`lintelbook=${before}`)).toBe(303);
    expect((await one.get('/account')).statusCode).toBe(200);
  });

  it('signing out ends it for whoever kept the cookie', async () => {
    const one = await test.person('One');
    const kept = one.cookies();
    expect(await asCookie(kept)).toBe(200);
    await one.post('/sign-out');
    expect(await asCookie(kept)).toBe(303);
  });

  it('signing out asks the browser to forget its cache', async () => {
    for (const way of ['/sign-out', '/sign-out-everywhere']) {
      const answer = await (await test.person('One')).post(way);
      expect(answer.statusCode).toBe(303);
      // The store of kept visits is not the cache: what waits on a phone stays (tests/inspection/offline).
      expect(answer.headers['clear-site-data']).toBe('"cache"');
    }
  });

  it('a closed account is out at the next request', async () => {
    const one = await test.person('One');
    expect((await one.get('/account')).statusCode).toBe(200);
    await test.deps.prisma.person.update({ where: { id: one.personId }, data: { closedAt: new Date() } });
    expect((await one.get('/account')).statusCode).toBe(303);
    const again = await test
      .visitor()
      .post('/sign-in', { email: await emailOf(one), password: testPassword });
    expect(again.statusCode).toBe(422);
  });

  it('ends after seven days without use', async () => {
    const one = await test.person('One');
    const { expiresAt } = await test.deps.prisma.session.findFirstOrThrow({
      where: { personId: one.personId },
    });
    expect(Math.round((expiresAt.getTime() - Date.now()) / 86_400_000)).toBe(7);
    await test.deps.prisma.session.updateMany({
      where: { personId: one.personId },
      data: { expiresAt: new Date(Date.now() - 1000) },
    });
    expect((await one.get('/account')).statusCode).toBe(303);
  });

  it('is looked up in the database on each request', async () => {
    const one = await test.person('One');
    expect((await one.get('/account')).statusCode).toBe(200);
    await test.deps.prisma.session.deleteMany({ where: { personId: one.personId } });
    expect((await one.get('/account')).statusCode).toBe(303);
  });

  it('has an id of 200 bits from the random source', async () => {
    const ids = new Set<string>();
    for (let n = 0; n < 5; n += 1) ids.add(idIn((await test.person('One')).cookies()));
    expect(ids.size).toBe(5);
    // 25 bytes in base32, five bits a sign.
    for (const id of ids) expect(id).toMatch(/^[a-z2-7]{40}$/);
    const kept = await test.deps.prisma.session.findMany({ select: { id: true } });
    const [first = ''] = ids;
    expect(kept.map(({ id }) => id)).toContain(createHash('sha256').update(first).digest('hex'));
  });

  it('begins by a form sent with its token alone', async () => {
    const one = await test.person('One');
    const email = await emailOf(one);
    const before = await test.deps.prisma.session.count();
    const asQuery = await test.app.inject({
      url: `/sign-in?email=${encodeURIComponent(email)}&password=${encodeURIComponent(testPassword)}`,
    });
    expect(asQuery.statusCode).toBe(200);
    const bare = await test.visitor().postBare('/sign-in', { email, password: testPassword });
    expect(bare.statusCode).toBe(403);
    expect(await test.deps.prisma.session.count()).toBe(before);
  });
});
