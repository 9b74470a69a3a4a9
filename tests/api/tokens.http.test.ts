import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { removeMember } from '../../src/people/memberships/service.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { programOf } from './support/programs.ts';

/** Personal access tokens: made once, shown once, kept as a hash, and good for no more than they say. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
});
afterAll(() => site.test.close());

const tokenIn = (html: string) => /value="(lintelbook_[\w-]{43})"/.exec(html)?.[1];
const bearer = (token: string) => ({ authorization: `Bearer ${token}` });
const read = (token: string, url = '/api/v1/projects') =>
  site.test.app.inject({ method: 'GET', url, headers: bearer(token) });

async function make(fields: Record<string, string> = {}) {
  const response = await site.contractor.post('/account/tokens', {
    name: 'takeoff sheet',
    scope: 'read',
    days: '7',
    ...fields,
  });
  return { response, token: tokenIn(response.body) ?? '' };
}

describe('a token', () => {
  it('is shown once, kept as its SHA-256, and lets its person in until it is revoked', async () => {
    const { response, token } = await make();
    expect(response.statusCode).toBe(200);
    expect(token).not.toBe('');
    const page = await site.contractor.get('/account/tokens');
    expect(page.body).toContain('takeoff sheet');
    expect(page.body).not.toContain(token);

    const tokenHash = createHash('sha256').update(token).digest('hex');
    const row = await site.test.deps.prisma.accessToken.findUniqueOrThrow({ where: { tokenHash } });
    expect(JSON.stringify(row)).not.toContain(token.slice(11));
    expect(row.lastUsedAt).toBeNull();

    const answer = await read(token);
    expect(answer.statusCode).toBe(200);
    expect(answer.json<{ items: unknown[] }>().items).toHaveLength(1);
    expect(answer.headers['set-cookie']).toBeUndefined();
    const used = await site.test.deps.prisma.accessToken.findUniqueOrThrow({ where: { tokenHash } });
    expect(used.lastUsedAt).not.toBeNull();

    await site.contractor.post(`/account/tokens/${row.id}/revocation`);
    const refused = await read(token);
    expect(refused.statusCode).toBe(401);
    expect(refused.headers['www-authenticate']).toBe('Bearer');
    expect(refused.headers['content-type']).toContain('application/problem+json');
    expect((await site.contractor.get('/account/tokens')).body).toContain('revoked');
  });

  it('is refused once it has expired', async () => {
    const { token } = await make({ name: 'soon over' });
    expect((await read(token)).statusCode).toBe(200);
    const tokenHash = createHash('sha256').update(token).digest('hex');
    const past = new Date(Date.now() - 1000);
    await site.test.deps.prisma.accessToken.update({ where: { tokenHash }, data: { expiresAt: past } });
    expect((await read(token)).statusCode).toBe(401);
  });

  it('is revoked by nobody but its person', async () => {
    const { tokenId, token } = await programOf(site.test, site.contractor);
    const other = await site.engineer.post(`/account/tokens/${tokenId}/revocation`);
    expect(other.statusCode).toBe(404);
    expect((await read(token)).statusCode).toBe(200);
  });

  it('is asked for a name, a scope and a time, and says so at the boxes', async () => {
    const response = await site.contractor.post('/account/tokens', { name: ' ', days: '1000' });
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('Name the program that will use it');
    expect(response.body).toContain('Choose what it may be used for.');
    expect(response.body).toContain('Choose how long it is good for.');
  });

  it('stops in a project the moment its person is taken out, and everywhere when the account is closed', async () => {
    const guest = await site.test.person('Gu Est');
    await site.test.join(guest, site.projectId, 'inspector');
    const program = await programOf(site.test, guest);
    const path = `/projects/${site.projectId}`;
    expect((await program.get(path)).statusCode).toBe(200);
    const { prisma } = site.test.deps;
    const membership = await prisma.membership.findFirstOrThrow({ where: { personId: guest.personId } });
    await removeMember(site.test.deps, site.actor(site.contractor, 'contractor'), {
      membershipId: membership.id,
    });
    expect((await program.get(path)).statusCode).toBe(404);
    expect((await program.get('/projects')).json()).toEqual({ items: [], next: null });
    await prisma.person.update({ where: { id: guest.personId }, data: { closedAt: new Date() } });
    expect((await program.get('/projects')).statusCode).toBe(401);
  });
});

describe('who a program is', () => {
  it('says the token alone: a cookie is not looked at, and a token opens no page', async () => {
    const byCookie = await site.contractor.get('/api/v1/projects');
    expect(byCookie.statusCode).toBe(401);
    const { token } = await programOf(site.test, site.contractor);
    const page = await site.test.app.inject({ method: 'GET', url: '/account', headers: bearer(token) });
    expect(page.statusCode).toBe(303);
  });

  it.each(['', 'Bearer', 'Bearer nonsense', 'Basic abc', `Bearer lintelbook_${'A'.repeat(43)}`])(
    'is nobody by “%s”',
    async (authorization) => {
      const answer = await site.test.app.inject({
        method: 'GET',
        url: '/api/v1/projects',
        headers: { authorization },
      });
      expect(answer.statusCode).toBe(401);
      expect(answer.json<{ type: string }>().type).toMatch(/\/api#token-needed$/);
    },
  );
});

describe('scopes', () => {
  const nowhere = '00000000-0000-4000-8000-000000000000';
  const asked = () => {
    const project = `/projects/${site.projectId}`;
    return [
      ['read', 'GET', project, site.contractor],
      ['propose', 'PUT', `${project}/items/${nowhere}/newest`, site.contractor],
      ['mark', 'POST', `${project}/items/${nowhere}/versions/1/marks`, site.engineer],
      ['inspect', 'POST', `${project}/visits/${nowhere}/findings`, site.inspector],
    ] as const;
  };

  it('let each act by its own scope and by no other', async () => {
    for (const [needed, method, path, person] of asked()) {
      for (const held of ['read', 'propose', 'mark', 'inspect'] as const) {
        const program = await programOf(site.test, person, [held]);
        const { statusCode, body } = await program.send(method, path, method === 'GET' ? {} : { body: {} });
        const lacking = statusCode === 403 && body.includes('/api#scope-lacking');
        expect(`${method} ${path} by ${held}: ${lacking}`).toBe(
          `${method} ${path} by ${held}: ${held !== needed}`,
        );
      }
    }
  });

  it('never exceed the role', async () => {
    const [, propose, mark, inspect] = asked();
    for (const [[, method, path], person] of [
      [propose, site.inspector],
      [mark, site.contractor],
      [inspect, site.engineer],
    ] as const) {
      const answer = await (await programOf(site.test, person)).send(method, path, { body: {} });
      expect(answer.statusCode).toBe(403);
      expect(answer.json<{ type: string }>().type).toMatch(/\/api#not-your-role$/);
    }
  });

  it('want “mark” for the engineer’s own version, which is a mark', async () => {
    const path = `/projects/${site.projectId}/items/${site.items.Beam}/newest`;
    const program = await programOf(site.test, site.engineer, ['read', 'propose']);
    const newest = await program.get(path);
    const { content } = newest.json<{ content: unknown }>();
    const headers = { 'if-match': String(newest.headers.etag) };
    const refused = await program.send('PUT', path, { body: { content }, headers });
    expect(refused.statusCode).toBe(403);
    expect(refused.body).toContain('/api#scope-lacking');
  });
});
