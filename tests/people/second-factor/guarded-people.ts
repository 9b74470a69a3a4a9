import { afterAll, beforeAll, beforeEach, expect } from 'vitest';
import { fromBase32 } from '../../../src/people/second-factor/base32.ts';
import { codeOf, stepAt } from '../../../src/people/second-factor/one-time-code.ts';
import { startTestApp, testPassword, type Client, type TestApp } from '../../support/app.ts';
import { emailOf } from '../kept-forms/session.ts';

export const unescaped = (html: string) => html.replaceAll('&amp;', '&').replaceAll('&#39;', "'");
export const shownCodes = (body: string) =>
  [...body.matchAll(/<code>([A-Z2-7-]{34})<\/code>/g)].map(([, code = '']) => code);
export const secretOn = (body: string) =>
  /<code id="code-secret">([A-Z2-7 ]+)</.exec(body)?.[1]?.replaceAll(' ', '') ?? '';

/** What can't be done as things stand: the page again, with the reason. */
export async function saysOnItsPage(
  client: Client,
  answer: { statusCode: number; headers: object },
  words: string,
) {
  expect([answer.statusCode, answer.headers]).toMatchObject([303, { location: '/account/codes' }]);
  expect((await client.get('/account/codes')).body).toContain(words);
}
export const isIn = async (client: Client) => (await client.get('/account')).statusCode === 200;

/** People with one-time codes through the pages, by a clock that stands until it is moved. For the top of a test file. */
export function guardedPeople() {
  let now = Date.parse('2026-11-26T08:00:10Z');
  const seconds = (count: number) => (now += count * 1000);
  const lines: string[] = [];
  let test: TestApp;
  beforeAll(async () => {
    test = await startTestApp(
      { LOG_LEVEL: 'debug' },
      { write: (line) => void lines.push(line) },
      () => new Date(now),
    );
  });
  beforeEach(() => {
    // A step of its own for each test, and nothing that is still counted.
    seconds(4000);
    lines.length = 0;
  });
  afterAll(() => test.close());

  const codeNow = (secret: string, off = 0) => codeOf(fromBase32(secret), stepAt(new Date(now)) + off);
  const lettersTo = async (client: Client) =>
    (
      await test.deps.prisma.letter.findMany({
        where: { personId: client.personId },
        orderBy: { createdAt: 'asc' },
      })
    ).map(({ kind }) => kind);
  const sessionsOf = (client: Client) =>
    test.deps.prisma.session.count({ where: { personId: client.personId } });

  /** Somebody whose account asks a code, by the pages alone. */
  async function withCodes(name: string) {
    const person = await test.person(name);
    const begun = await person.post('/account/codes', { current: testPassword });
    expect(begun.headers.location).toBe('/account/codes');
    const secret = secretOn((await person.get('/account/codes')).body);
    const confirmed = await person.post('/account/codes/confirmation', { code: codeNow(secret) });
    expect(confirmed.statusCode).toBe(200);
    seconds(30);
    return { person, secret, recovery: shownCodes(confirmed.body), email: await emailOf(test, person) };
  }

  /** The password was typed in another browser: the second page. */
  async function atCode(email: string, next = '/account') {
    const browser = test.visitor();
    const answer = await browser.post('/sign-in', { email, password: testPassword, next });
    expect(answer.statusCode).toBe(303);
    expect(answer.headers.location).toBe(`/sign-in/code?next=${encodeURIComponent(next)}`);
    expect((await browser.get(String(answer.headers.location))).statusCode).toBe(200);
    return browser;
  }

  const app = () => test;
  return { app, lines, seconds, now: () => new Date(now), codeNow, lettersTo, sessionsOf, withCodes, atCode };
}
