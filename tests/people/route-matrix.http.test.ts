import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { permissions, roleMay, type Rule } from '../../src/people/permissions.ts';
import { roles, type Role } from '../../src/people/roles.ts';
import { scopes } from '../../src/api/tokens/scopes.ts';
import { createToken } from '../../src/api/tokens/service.ts';
import { createItem } from '../../src/record/items/create.ts';
import { createOpening } from '../../src/record/openings/service.ts';
import { createProject } from '../../src/record/projects/service.ts';
import { startTestApp, type Client, type TestApp } from '../support/app.ts';
import { demoCriteria } from '../../src/demo/cinder-ferry.ts';

/**
 * Every route × every role × stranger × signed out. What a request would do once it is let in is other tests'
 * business: here only who is let in. Ids other than the project's lead nowhere, so that nothing is changed.
 */
let test: TestApp;
const people = new Map<Role | 'stranger' | 'signed out', Client>();
let projectId = '';
const tokens = new Map<string, string>();
const nowhere = '00000000-0000-4000-8000-000000000000';

beforeAll(async () => {
  test = await startTestApp();
  const contractor = await test.person('Contractor');
  ({ projectId } = await createProject(test.deps, contractor, {
    name: 'Matrix',
    address: '1 Row',
    jurisdiction: 'Town',
    permitNumber: '',
  }));
  people.set('contractor', contractor);
  const actor = { ...contractor, role: 'contractor' as const, projectId };
  await createOpening(test.deps, actor, { name: 'One' });
  await createItem(test.deps, actor, {
    openingId: null,
    kind: 'criteria',
    key: 'criteria',
    title: 'Criteria',
    content: demoCriteria,
  });
  for (const role of roles) {
    if (role === 'contractor') continue;
    const person = await test.person(role);
    await test.join(person, projectId, role);
    people.set(role, person);
  }
  people.set('stranger', await test.person('Stranger'));
  for (const [who, { personId }] of people) {
    const { token } = await createToken(test.deps, personId, { name: 'Matrix', scopes, days: 1 });
    tokens.set(who, token);
  }
  people.set('signed out', test.visitor());
});
afterAll(() => test.close());

function address(url: string): string {
  return url
    .replace(':projectId', projectId)
    .replace('/*', '/tokens.css')
    .replace(':width', '320')
    .replace(':number', '1')
    .replace(/:[A-Za-z]+/g, nowhere);
}

/** Was the request let in by the permission table? What came after may be a page, a 404, a 422. */
function turnedAway(
  status: number,
  location: unknown,
): 'to sign-in' | 'not there' | 'not part of the role' | 'let in' {
  if (status === 401) return 'to sign-in';
  if (status === 303 && String(location).startsWith('/sign-in?')) return 'to sign-in';
  if (status === 404) return 'not there';
  if (status === 403) return 'not part of the role';
  return 'let in';
}

describe('the permission table', () => {
  it('has a line for every route, and a route for every line', () => {
    const table = test.app.routeTable();
    expect(table.length).toBeGreaterThan(40);
    const used = new Set(table.map((route) => route.access));
    expect(
      Object.keys(permissions).filter((action) => !used.has(action as keyof typeof permissions)),
    ).toEqual([]);
  });

  it('refuses to start with a route that names no line of it', async () => {
    const { buildApp } = await import('../../src/web/app.ts');
    const app = await buildApp(test.deps, 'a secret of the tests, long enough');
    app.get('/unlisted', async () => 'no');
    await expect(app.ready()).rejects.toThrow('GET /unlisted has no line in the permission table.');
  });

  it('refuses to start with a member route outside a project', async () => {
    const { buildApp } = await import('../../src/web/app.ts');
    const app = await buildApp(test.deps, 'a secret of the tests, long enough');
    app.get('/stray', { config: { access: 'item.read' } }, async () => 'no');
    await expect(app.ready()).rejects.toThrow('names no project');
  });

  it('lets in whom it names and nobody else, on every route', async () => {
    const surprises: string[] = [];
    for (const route of test.app.routeTable()) {
      if (route.method === 'HEAD') continue;
      const rule: Rule = permissions[route.access];
      for (const [who, client] of people) {
        // Ending one's own session would end the walk.
        if (route.url.startsWith('/sign-out') && who !== 'signed out') continue;
        const url = address(route.url);
        const response = route.url.startsWith('/api/v1/')
          ? await byToken(route.method, url, tokens.get(who))
          : route.method === 'GET'
            ? await client.get(url)
            : await client.post(url);
        const found = turnedAway(response.statusCode, response.headers.location);
        const problem = expected(rule, who, route.access, found, response.statusCode);
        if (problem !== null) surprises.push(`${route.method} ${route.url} as ${who}: ${problem}`);
      }
    }
    expect(surprises).toEqual([]);
  }, 120_000);
});

/** A route for programs, with every scope that a token can have: what is left is the person's role. */
function byToken(method: string, url: string, token: string | undefined) {
  return test.app.inject({
    method: method as 'GET',
    url,
    headers: token === undefined ? {} : { authorization: `Bearer ${token}` },
    ...(method === 'GET' ? {} : { payload: {} }),
  });
}

function expected(
  rule: Rule,
  who: Role | 'stranger' | 'signed out',
  action: keyof typeof permissions,
  found: ReturnType<typeof turnedAway>,
  status: number,
): string | null {
  if (status >= 500) return `answered ${status}`;
  if (rule.who === 'anyone') return found === 'to sign-in' || found === 'not part of the role' ? found : null;
  if (who === 'signed out') return found === 'to sign-in' ? null : found;
  if (rule.who === 'signed in') return found === 'let in' || found === 'not there' ? null : found;
  // A stranger gets the answer that a project gives which does not exist.
  if (who === 'stranger') return found === 'not there' ? null : found;
  if (roleMay(who, action)) return found === 'not part of the role' || found === 'to sign-in' ? found : null;
  return found === 'not part of the role' ? null : found;
}
