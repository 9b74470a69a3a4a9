import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createToken } from '../../../src/api/tokens/service.ts';
import { fromBase32 } from '../../../src/people/second-factor/base32.ts';
import { codeOf, stepAt } from '../../../src/people/second-factor/one-time-code.ts';
import { permissions } from '../../../src/people/permissions.ts';
import { createProject } from '../../../src/record/projects/service.ts';
import { BadEnvironment, readConfig } from '../../../src/web/config.ts';
import { startTestApp, testPassword, type Client, type TestApp } from '../../support/app.ts';

/** An installation that asks codes of everybody. */
let test: TestApp;
let person: Client;
let projectId = '';
/** Stands still: a code is good for 30 seconds. */
const now = new Date();
beforeAll(async () => {
  test = await startTestApp({ ONE_TIME_CODES: 'required' }, undefined, () => now);
  person = await test.person('K. O.');
  const house = { name: 'House', address: '1 Row', jurisdiction: 'Town', permitNumber: '' };
  ({ projectId } = await createProject(test.deps, person, house));
});
afterAll(() => test.close());

const address = (url: string) =>
  url
    .replace(':projectId', projectId)
    .replace('/*', '/tokens.css')
    .replace(/:[A-Za-z]+/g, projectId);

describe('codes that everybody must have', () => {
  it('open nothing but the own account and what is anyone’s, on every route, before they are set up', async () => {
    const letIn: string[] = [];
    for (const { method, url, access } of test.app.routeTable()) {
      if (method === 'HEAD' || url.startsWith('/api/v1/') || url.startsWith('/sign-out')) continue;
      const answer = method === 'GET' ? await person.get(address(url)) : await person.post(address(url));
      if (answer.headers.location !== '/account/codes') letIn.push(access);
    }
    const anyones = Object.entries(permissions).flatMap(([action, { who }]) =>
      who === 'anyone' ? [action] : [],
    );
    const own = ['account.manage'];
    expect([...new Set(letIn)].filter((action) => ![...anyones, ...own].includes(action))).toEqual([]);
    expect(letIn).not.toContain('home.read');
    expect(letIn).toContain('account.manage');
    const { body } = await person.get('/account/codes');
    expect(body).toContain('This installation asks codes of everybody');
  });

  it('do not stand in the way of a program’s token', async () => {
    const { token } = await createToken(test.deps, person.personId, { name: 'T', scopes: ['read'], days: 1 });
    const headers = { authorization: `Bearer ${token}` };
    expect((await test.app.inject({ url: `/api/v1/projects/${projectId}`, headers })).statusCode).toBe(200);
  });

  it('open everything once they are set up', async () => {
    const { personId } = person;
    await test.deps.prisma.secondFactor.deleteMany({ where: { personId } });
    await person.get('/account/codes');
    await person.post('/account/codes', { current: testPassword });
    const { body } = await person.get('/account/codes');
    const secret = /<code id="code-secret">([A-Z2-7 ]+)</.exec(body)?.[1]?.replaceAll(' ', '') ?? '';
    const code = codeOf(fromBase32(secret), stepAt(now));
    expect((await person.get(`/projects/${projectId}`)).headers.location).toBe('/account/codes');
    expect((await person.post('/account/codes/confirmation', { code })).body).toContain(
      'Your recovery codes',
    );
    expect((await person.get('/')).statusCode).toBe(200);
    expect((await person.get(`/projects/${projectId}`)).statusCode).toBe(200);
  });

  it('lead a new account to set them up', async () => {
    const visitor = test.visitor();
    await visitor.get('/');
    const fields = { name: 'R. T.', email: 'new@example.org', password: testPassword };
    expect((await visitor.post('/sign-up', fields)).headers.location).toBe('/');
    expect((await visitor.get('/')).headers.location).toBe('/account/codes');
  });

  it('are no setting for a demo', () => {
    expect(() => readConfig({ ONE_TIME_CODES: 'required', DEMO: 'true' })).toThrow(BadEnvironment);
    expect(readConfig({ ONE_TIME_CODES: 'required', DEMO: 'false' }).codesRequired).toBe(true);
    expect(readConfig({ DEMO: 'false' }).codesRequired).toBe(false);
  });
});
