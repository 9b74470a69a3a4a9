import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { scopes } from '../../src/api/tokens/scopes.ts';
import { createToken } from '../../src/api/tokens/service.ts';
import { loadDemo } from '../../src/demo/load.ts';
import { permissions, roleMay, type Rule } from '../../src/people/permissions.ts';
import { roles, type Role } from '../../src/people/roles.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import type { Client } from '../support/app.ts';

/**
 * Two projects in one database: a small one of one's own, and the whole demo, in which one is nobody. Every id of the
 * demo's rows goes into every place of every route of the own project. The answer has to be, to the letter, the one that
 * an id gets which nobody ever made.
 */
let site: Site;
const clients = new Map<Role, Client>();
const tokens = new Map<Role, string>();
/** Of each table a few of the demo's ids, by table. */
const foreign = new Map<string, string[]>();
let own: Record<string, string>;
const unmade = '5b1e0f64-93d2-4c1a-8d1f-2f6a7c9e0b3d';

beforeAll(async () => {
  // As in production: templates are compiled once.
  site = await buildSite({ NODE_ENV: 'production' });
  await site.issue();
  await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
  const { deps } = site.test;
  await loadDemo(deps, 'whole');
  for (const role of roles) {
    const client = {
      contractor: site.contractor,
      engineer: site.engineer,
      inspector: site.inspector,
      owner: site.owner,
    }[role];
    clients.set(role, client);
    tokens.set(role, (await createToken(deps, client.personId, { name: 'T', scopes, days: 1 })).token);
  }
  for (const [table, columns] of await columnsOfTables()) {
    if (!columns.includes('id') || !columns.includes('project_id')) continue;
    const rows = await deps.prisma.$queryRawUnsafe<{ id: unknown }[]>(
      `SELECT id FROM "${table}" WHERE project_id <> '${site.projectId}' ORDER BY id LIMIT 2`,
    );
    const ids = rows.map(({ id }) => String(id)).filter((id) => /^[0-9a-f-]{36}$/.test(id));
    if (ids.length > 0) foreign.set(table, ids);
  }
  const { prisma } = deps;
  const mine = { where: { projectId: site.projectId }, select: { id: true } } as const;
  own = {
    projectId: site.projectId,
    openingId: site.openingId,
    itemId: site.items.Beam ?? '',
    setId: (await prisma.approvedSet.findFirstOrThrow(mine)).id,
    visitId: (await prisma.visit.findFirstOrThrow(mine)).id,
    number: '1',
    width: '320',
    kind: 'fastening',
    file: 'elevation.svg',
    stepKey: 'shoring',
    visitKey: 'framing',
  };
}, 300_000);
afterAll(() => site.test.close());

const plainParameters = new Set([
  'projectId',
  'number',
  'width',
  'kind',
  'file',
  'stepKey',
  'visitKey',
  'token',
]);
const namesIn = (url: string) => [...url.matchAll(/:(\w+)/g)].map(([, name = '']) => name);
const idsIn = (url: string) => namesIn(url).filter((name) => !plainParameters.has(name));

async function columnsOfTables(): Promise<Map<string, string[]>> {
  const rows = await site.test.deps.prisma.$queryRaw<{ table_name: string; column_name: string }[]>`
    SELECT c.table_name, c.column_name FROM information_schema.columns c
    JOIN information_schema.tables t USING (table_schema, table_name)
    WHERE c.table_schema = 'public' AND t.table_type = 'BASE TABLE' ORDER BY 1, c.ordinal_position`;
  const tables = new Map<string, string[]>();
  for (const row of rows)
    tables.set(row.table_name, [...(tables.get(row.table_name) ?? []), row.column_name]);
  return tables;
}

/** One figure for the rows of each table: of every project, or of those in which one is nobody. */
async function standing(which: 'all' | 'foreign'): Promise<Record<string, string>> {
  const sums: Record<string, string> = {};
  for (const [table, columns] of await columnsOfTables()) {
    // Being here at all is noted in the first two; the third says when a token was last used.
    if (['session', 'sign_in_attempt', 'access_token', '_prisma_migrations'].includes(table)) continue;
    if (which === 'foreign' && !columns.includes('project_id')) continue;
    const where = which === 'foreign' ? `WHERE project_id <> '${site.projectId}'` : '';
    const [row] = await site.test.deps.prisma.$queryRawUnsafe<{ sum: string | null }[]>(
      `SELECT md5(string_agg(md5(r::text), '' ORDER BY md5(r::text))) AS sum FROM "${table}" r ${where}`,
    );
    sums[table] = row?.sum ?? 'empty';
  }
  return sums;
}

async function ask(
  role: Role,
  method: string,
  url: string,
  fields: Record<string, string> = {},
): Promise<LightMyRequestResponse> {
  if (url.startsWith('/api/v1/')) {
    return site.test.app.inject({
      method: method as 'GET',
      url,
      headers: { authorization: `Bearer ${tokens.get(role) ?? ''}`, 'if-match': '*' },
      ...(method === 'GET' ? {} : { payload: fields }),
    });
  }
  const client = clients.get(role)!;
  return method === 'GET' ? client.get(url) : client.post(url, fields);
}

/** An answer without what differs between two that say the same: ids, tokens, times. */
function plain({ statusCode, body, headers }: LightMyRequestResponse): string {
  const without = (text: string) =>
    text
      .replace(/[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g, 'ID')
      .replace(/(name="(?:_csrf|_owner|key|clientKey)" value=")[^"]*/g, '$1')
      .replace(/\d{4}-\d\d-\d\dT[\d:.]+Z/g, 'TIME')
      .replace(/data-changes-after="\d+"/g, '');
  return `${statusCode} ${without(headers.location ?? '')}\n${without(body)}`;
}

const filled = (url: string, values: Readonly<Record<string, string>>) =>
  url.replace(/:(\w+)/g, (_, name: string) => values[name] ?? unmade);

describe('an id of another project', () => {
  it('is not there: nothing shown, nothing written, for every route and role', async () => {
    expect(foreign.size).toBeGreaterThan(20);
    const routes = site.test.app.routeTable().filter(({ method, url, access }) => {
      const rule: Rule = permissions[access];
      return method !== 'HEAD' && rule.who === 'members' && idsIn(url).length > 0;
    });
    expect(routes.length).toBeGreaterThan(90);
    const each = [...foreign.values()].map(([first = '']) => first);
    const every = [...foreign.values()].flat();
    const few = (from: number) => [0, 1, 2].map((step) => every[(from + step * 11) % every.length]!);
    const before = await standing('all');
    const surprises: string[] = [];
    let asked = 0;
    for (const { method, url, access } of routes) {
      let whole = true;
      for (const role of roles) {
        if (!roleMay(role, access)) continue;
        const places = idsIn(url);
        // The parameter that is asked about holds the foreign id; the others one's own, so that they lead on.
        for (const place of places) {
          const usual = plain(await ask(role, method, filled(url, { ...own, [place]: unmade })));
          // Which role asks makes no difference to where an id belongs: the first goes through one row of each table, the
          // others through a few that change from route to route.
          for (const id of whole ? each : few(asked)) {
            const answer = await ask(role, method, filled(url, { ...own, [place]: id }));
            asked += 1;
            if (plain(answer) !== usual)
              surprises.push(`${method} ${url} as ${role}, ${place} = ${id}: ${plain(answer).slice(0, 80)}`);
          }
          if (!/^(404|400|401|403|406|409|412|415|422|428) /.test(usual))
            surprises.push(`${method} ${url} as ${role}: ${usual.slice(0, 60)}`);
        }
        whole = false;
      }
    }
    expect(surprises).toEqual([]);
    expect(asked).toBeGreaterThan(1500);
    expect(await standing('all')).toEqual(before);
  }, 300_000);

  it('under the address of its own project is a stranger’s', async () => {
    const surprises: string[] = [];
    const projects = foreign.get('opening')!;
    expect(projects.length).toBeGreaterThan(0);
    const [project] = await site.test.deps.prisma.project.findMany({
      where: { id: { not: site.projectId } },
      select: { id: true, name: true },
    });
    for (const { method, url, access } of site.test.app.routeTable()) {
      const rule: Rule = permissions[access];
      if (method === 'HEAD' || rule.who !== 'members') continue;
      const [role = 'owner'] = roles.filter((one) => roleMay(one, access));
      const values = Object.fromEntries(idsIn(url).map((name) => [name, [...foreign.values()][0]![0]!]));
      const answer = await ask(role, method, filled(url, { ...own, ...values, projectId: project!.id }));
      if (answer.statusCode !== 404 || answer.body.includes(project!.name))
        surprises.push(`${method} ${url}: ${answer.statusCode}`);
    }
    expect(surprises).toEqual([]);
  }, 120_000);

  it('named inside a form or a body is not there either', async () => {
    const fields = [
      'itemId',
      'openingId',
      'versionId',
      'setId',
      'subjectId',
      'checkId',
      'lineId',
      'deliveryId',
      'photoId',
      'attachmentId',
      'visitId',
      'findingId',
      'threadId',
      'orderId',
      'salvageLineId',
      'membershipId',
      'personId',
      'projectId',
      'replyTo',
      'id',
      'about',
      'subject',
      'items',
      'version',
    ];
    const before = await standing('foreign');
    const all = [...foreign.values()].flat();
    const { prisma } = site.test.deps;
    const hashOf = new Map(
      (await prisma.version.findMany({ where: { id: { in: foreign.get('version') ?? [] } } })).map(
        ({ id, hash }) => [id, hash],
      ),
    );
    expect(hashOf.size).toBeGreaterThan(0);
    const theirs = await prisma.project.findMany({ where: { id: { not: site.projectId } } });
    let sent = 0;
    const surprises: string[] = [];
    for (const { method, url, access } of site.test.app.routeTable()) {
      const rule: Rule = permissions[access];
      if (['GET', 'HEAD'].includes(method) || rule.who !== 'members') continue;
      // Leaving the project would end the walk.
      if (/removal|withdrawal$/.test(url) && !url.includes('lineId')) continue;
      const [role = 'owner'] = roles.filter((one) => roleMay(one, access));
      for (let turn = 0; turn < 3; turn += 1) {
        const body: Record<string, string> = {
          reason: 'x',
          word: 'approved',
          text: 'x',
          key: `k${turn}`,
          name: 'x',
          kind: 'beam',
          result: 'pass',
        };
        for (const [place, field] of fields.entries())
          body[field] = all[(place * 7 + turn * 13) % all.length]!;
        for (const [id, hash] of hashOf) {
          body[`shown.${id}`] = `${hash}|1`;
          body[`word.${id}`] = 'approved';
          body[`entry.${id}`] = 'yes';
        }
        const answer = await ask(role, method, filled(url, own), body);
        sent += 1;
        if (answer.statusCode >= 500) surprises.push(`${method} ${url}: ${answer.statusCode}`);
        if (theirs.some(({ name, address }) => answer.body.includes(name) || answer.body.includes(address)))
          surprises.push(`${method} ${url} shows the other project`);
      }
    }
    expect(surprises).toEqual([]);
    expect(sent).toBeGreaterThan(100);
    expect(await standing('foreign')).toEqual(before);
    // No row of one's own names a row of theirs.
    const named: string[] = [];
    const pattern = all.join('|');
    for (const [table, columns] of await columnsOfTables()) {
      // A draft keeps what was typed, as it was typed; it is judged when it is sent.
      if (!columns.includes('project_id') || table === 'draft') continue;
      const rows = await prisma.$queryRawUnsafe<{ row: string }[]>(
        `SELECT r::text AS row FROM "${table}" r WHERE project_id = '${site.projectId}' AND r::text ~ '${pattern}'`,
      );
      named.push(...rows.map(({ row }) => `${table}: ${row.slice(0, 200)}`));
    }
    expect(named).toEqual([]);
  }, 120_000);

  it('no page writes by being looked at', async () => {
    const before = await standing('all');
    let seen = 0;
    for (const { method, url, access } of site.test.app.routeTable()) {
      const rule: Rule = permissions[access];
      // A stream stays open; what may be drawn by it is the same data.
      if (method !== 'GET' || rule.who !== 'members' || url.endsWith('/live')) continue;
      for (const role of roles) {
        if (!roleMay(role, access)) continue;
        const answer = await ask(role, method, filled(url, own));
        expect(answer.statusCode, `${url} as ${role}`).toBeLessThan(500);
        if (answer.statusCode === 200) seen += 1;
      }
    }
    expect(seen).toBeGreaterThan(80);
    expect(await standing('all')).toEqual(before);
  }, 120_000);
});
