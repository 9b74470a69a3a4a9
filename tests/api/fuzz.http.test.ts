import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Operation } from '../../src/api/operation.ts';
import { allOperations } from '../../src/api/operations/all.ts';
import { problemSchema } from '../../src/api/problems/details.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { badBody, type Json } from './support/bad-values.ts';
import { programOf, type Program } from './support/programs.ts';

/**
 * Every operation with bad input made from its own schema: never a 500, every refusal is problem details, every status
 * one that the description names, every answer of the form that the description gives it.
 */
let site: Site;
let other: Site;
let programs: Program[];
let described: { paths: Record<string, Record<string, DescribedOperation>>; components: Json };
const ids: Record<string, string[]> = {};
interface DescribedOperation {
  responses: Record<string, object>;
  requestBody?: { content: { 'application/json': { schema: Json } } };
}
let operations: readonly Operation[];

beforeAll(async () => {
  [site, other] = [await buildSite(), await buildSite()];
  await site.issue();
  await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
  operations = allOperations(site.test.deps);
  described = (await site.test.visitor().get('/api/v1/openapi.json')).json();
  const { prisma } = site.test.deps;
  const own = { where: { projectId: site.projectId }, select: { id: true } } as const;
  const foreign = {
    projectId: other.projectId,
    openingId: other.openingId,
    itemId: other.items.Beam ?? '',
  };
  ids.projectId = [site.projectId, foreign.projectId];
  ids.openingId = [site.openingId, foreign.openingId];
  ids.itemId = [...(await prisma.item.findMany(own)).map((row) => row.id), foreign.itemId];
  ids.setId = (await prisma.approvedSet.findMany(own)).map((row) => row.id);
  ids.visitId = (await prisma.visit.findMany(own)).map((row) => row.id);
  ids.number = ['1', '2', '0', '999999999', '1e3', '-1', 'NaN'];
  programs = [
    await programOf(site.test, site.contractor),
    await programOf(site.test, site.engineer),
    await programOf(site.test, site.inspector),
    await programOf(site.test, site.owner),
    await programOf(site.test, site.engineer, ['read']),
    await programOf(site.test, await site.test.person('Stranger')),
    { ...(await programOf(site.test, site.contractor)), token: 'none' },
  ];
});
afterAll(async () => {
  await site.test.close();
  await other.test.close();
});

const junk = fc.constantFrom(
  'x',
  '%00',
  '..',
  '00000000-0000-4000-8000-000000000000',
  'A'.repeat(190),
  'NaN',
  '%F0%9F%8F%A0',
);
const queryJunk = fc.dictionary(
  fc.constantFrom('limit', 'after', 'kind', 'other'),
  fc.constantFrom(
    'NaN',
    '-1',
    '0',
    '1e999',
    '5',
    '',
    'x'.repeat(600),
    'null',
    '\u0000',
    'WyJiZWFtIiwiXHUwMDAwIiwieCJd',
  ),
  { maxKeys: 2 },
);
const tags = fc.constantFrom(
  undefined,
  '*',
  'nonsense',
  '"1-',
  `"1-${'0'.repeat(64)}"`,
  `"999999999-${'a'.repeat(64)}"`,
);

function addressOf(operation: Operation) {
  const names = [...operation.path.matchAll(/\{(\w+)\}/g)].map(([, name = '']) => name);
  const parts = fc.tuple(
    ...names.map((name) =>
      fc.oneof(
        { weight: 6, arbitrary: fc.constantFrom(...(ids[name] ?? ['x'])) },
        { weight: 1, arbitrary: junk },
      ),
    ),
  );
  return parts.map((values) =>
    names.reduce((path, name, index) => path.replace(`{${name}}`, values[index] ?? ''), operation.path),
  );
}

describe('bad input', () => {
  it('never breaks an operation, and is refused as the description says', async () => {
    const met = new Map<string, number>();
    for (const operation of operations) {
      const { method, path } = operation;
      const about = described.paths[path]?.[method.toLowerCase()];
      if (about === undefined) throw new Error(`${method} ${path} is not described.`);
      const schema = about.requestBody?.content['application/json'].schema;
      const runs = schema === undefined ? 60 : 220;
      await fc.assert(
        fc.asyncProperty(
          addressOf(operation),
          queryJunk,
          schema === undefined ? fc.constant(undefined) : badBody(schema, described),
          tags,
          fc.nat({ max: programs.length - 1 }),
          async (address, query, text, tag, who) => {
            const asked = new URLSearchParams(query).toString();
            const program = programs[who]!;
            const answer = await site.test.app.inject({
              method,
              url: `/api/v1${address}${asked === '' ? '' : `?${asked}`}`,
              headers: {
                authorization: `Bearer ${program.token}`,
                ...(text === undefined ? {} : { 'content-type': 'application/json' }),
                ...(tag === undefined ? {} : { 'if-match': tag }),
              },
              ...(text === undefined ? {} : { payload: text }),
            });
            const { statusCode } = answer;
            const key = `${operation.id} ${statusCode}`;
            met.set(key, (met.get(key) ?? 0) + 1);
            const shown = `${method} ${address} answered ${statusCode}: ${answer.body.slice(0, 300)}`;
            expect(statusCode, shown).toBeLessThan(500);
            expect(Object.keys(about.responses), shown).toContain(String(statusCode));
            if (statusCode >= 400) {
              expect(answer.headers['content-type']).toContain('application/problem+json');
              expect(problemSchema.strict().parse(answer.json()).status).toBe(statusCode);
            } else if (statusCode !== 304) {
              operation.schemas.answer.parse(answer.json());
            }
          },
        ),
        { numRuns: runs, seed: 20261125 },
      );
    }
    // The walk got past the door: each way of refusing, and answers that succeed, were met.
    const statuses = new Set([...met.keys()].map((key) => key.split(' ')[1]));
    for (const status of ['200', '400', '401', '403', '404', '412', '422', '428']) {
      expect([...statuses], [...met].join('\n')).toContain(status);
    }
    const { prisma } = site.test.deps;
    expect(await verifyProject(prisma, site.projectId)).toMatchObject({ broken: null });
    expect(await verifyProject(other.test.deps.prisma, other.projectId)).toMatchObject({ broken: null });
  }, 600_000);

  it('of another sort than JSON is refused', async () => {
    const [program] = programs;
    for (const type of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x',
    ]) {
      const answer = await program!.send('POST', '/calculations', {
        text: 'a=b',
        headers: { 'content-type': type },
      });
      expect(answer.statusCode).toBe(415);
      expect(answer.headers['content-type']).toContain('application/problem+json');
    }
    const huge = await program!.send('POST', '/calculations', { text: `"${'x'.repeat(1_100_000)}"` });
    expect(huge.statusCode).toBe(413);
    expect(problemSchema.parse(huge.json()).status).toBe(413);
  });
});

describe('ids of another project', () => {
  it('look like ids of nothing, whoever asks by them', async () => {
    const foreign: Record<string, string> = {
      openingId: other.openingId,
      itemId: other.items.Beam!,
      number: '1',
    };
    // Both houses in one database: a member of one asks through the other.
    const { prisma } = site.test.deps;
    const { createProject } = await import('../../src/record/projects/service.ts');
    const { createOpening } = await import('../../src/record/openings/service.ts');
    const stranger = await site.test.person('Neigh Bor');
    const second = await createProject(site.test.deps, stranger, {
      name: 'Next door',
      address: '',
      jurisdiction: '',
      permitNumber: '',
    });
    const actor = {
      personId: stranger.personId,
      name: stranger.name,
      role: 'contractor' as const,
      ...second,
    };
    await createOpening(site.test.deps, actor, { name: 'Theirs' });
    const neighbour = await programOf(site.test, stranger);
    foreign.projectId = second.projectId;
    foreign.openingId = site.openingId;
    foreign.itemId = site.items.Beam!;
    foreign.setId = (await prisma.approvedSet.findFirstOrThrow()).id;
    foreign.visitId = (await prisma.visit.findFirstOrThrow()).id;
    const below = operations.filter(
      ({ path, method }) => method === 'GET' && /\{(opening|item|set|visit)Id\}/.test(path),
    );
    expect(below.length).toBeGreaterThan(8);
    for (const { path } of below) {
      const answer = await neighbour.get(
        path.replace(/\{(\w+)\}/g, (_, name: string) => foreign[name] ?? ''),
      );
      expect(`${path} ${answer.statusCode}`).toBe(`${path} 404`);
    }
  });
});
