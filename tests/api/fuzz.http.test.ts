import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Operation } from '../../src/api/operation.ts';
import { allOperations } from '../../src/api/operations/all.ts';
import { versionTag } from '../../src/api/operations/version-tag.ts';
import { problemSchema } from '../../src/api/problems/details.ts';
import { createOpening } from '../../src/record/openings/service.ts';
import { createProject } from '../../src/record/projects/service.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { badBody, bent, type Json } from './support/bad-values.ts';
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
const examples = readdirSync('scripts/examples').filter((name) => name.endsWith('.json'));
let newestTags: readonly string[] = [];
interface DescribedOperation {
  responses: Record<string, object>;
  requestBody?: { content: { 'application/json': { schema: Json } } };
}
let operations: readonly Operation[];
let fits: Record<string, readonly unknown[]>;

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
  const often = <One>(one: One): One[] => [one, one, one, one];
  ids.projectId = [...often(site.projectId), foreign.projectId];
  ids.openingId = [...often(site.openingId), foreign.openingId];
  ids.itemId = [...(await prisma.item.findMany(own)).map((row) => row.id), foreign.itemId];
  ids.setId = (await prisma.approvedSet.findMany(own)).map((row) => row.id);
  ids.visitId = (await prisma.visit.findMany(own)).map((row) => row.id);
  const contents = await prisma.version.findMany({ where: { projectId: site.projectId } });
  const framing = await prisma.check.findFirstOrThrow({ where: { visitKind: 'framing' } });
  fits = {
    calculate: examples.map(
      (name) => JSON.parse(readFileSync(`scripts/examples/${name}`, 'utf8')) as unknown,
    ),
    saveVersion: contents.map(({ content }) => ({ content: JSON.parse(content) as unknown, reason: 'x' })),
    markVersion: contents
      .slice(0, 3)
      .map(({ hash }) => ({ word: 'returned', hash, expectedMarkNumber: 1, reason: 'x' })),
    placeFinding: [
      { checkId: framing.id, clientKey: 'fuzz-key-1', result: 'pass', reason: '', location: 'left' },
    ],
  };
  newestTags = contents.map((version) => versionTag(version));
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
const someQuery = fc.dictionary(
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
const queryJunk = fc.oneof(
  { weight: 3, arbitrary: fc.constant<Record<string, string>>({}) },
  { weight: 1, arbitrary: someQuery },
);
const badTags = fc.constantFrom(
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

/** Holds an answer to the description: its status, and its form. */
function asDescribed(operation: Operation, about: DescribedOperation, answer: LightMyRequestResponse): void {
  const { statusCode } = answer;
  const shown = `${operation.id} answered ${statusCode}: ${answer.body.slice(0, 300)}`;
  expect(statusCode, shown).toBeLessThan(500);
  expect(Object.keys(about.responses), shown).toContain(String(statusCode));
  if (statusCode >= 400) {
    expect(answer.headers['content-type']).toContain('application/problem+json');
    expect(problemSchema.strict().parse(answer.json()).status).toBe(statusCode);
  } else if (statusCode !== 304) {
    operation.schemas.answer.parse(answer.json());
  }
}

/** Bodies from the schema alone seldom fit a whole house: those that do, bent a little, go deeper. */
function bodyOf({ id }: Operation, schema: Json | undefined): fc.Arbitrary<string | undefined> {
  if (schema === undefined) return fc.constant(undefined);
  const fitting = fits[id] ?? [];
  if (fitting.length === 0) return badBody(schema, described);
  return fc.oneof(badBody(schema, described), ...fitting.map(bent));
}

describe('bad input', () => {
  it('never breaks an operation, and is refused as the description says', async () => {
    const met = new Map<string, number>();
    for (const operation of operations) {
      const { method, path } = operation;
      const about = described.paths[path]?.[method.toLowerCase()];
      if (about === undefined) throw new Error(`${method} ${path} is not described.`);
      const schema = about.requestBody?.content['application/json'].schema;
      const runs = schema === undefined ? 60 : 500;
      await fc.assert(
        fc.asyncProperty(
          addressOf(operation),
          queryJunk,
          bodyOf(operation, schema),
          fc.oneof(badTags, fc.constantFrom(undefined, ...newestTags)),
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
            const key = `${operation.id} ${answer.statusCode}`;
            met.set(key, (met.get(key) ?? 0) + 1);
            asDescribed(operation, about, answer);
          },
        ),
        { numRuns: runs, seed: 20261125 },
      );
    }
    // The walk got past the door: each way of refusing, and answers that succeed, were met.
    const statuses = new Set([...met.keys()].map((key) => key.split(' ')[1]));
    for (const status of ['200', '400', '401', '403', '404', '412', '422', '428']) {
      expect([...statuses]).toContain(status);
    }
    const { prisma } = site.test.deps;
    expect(await verifyProject(prisma, site.projectId)).toMatchObject({ broken: null });
    expect(await verifyProject(other.test.deps.prisma, other.projectId)).toMatchObject({ broken: null });
  }, 600_000);

  it('that nearly fits an item is saved or refused, and nothing else', async () => {
    const operation = operations.find(({ id }) => id === 'saveVersion')!;
    const about = described.paths[operation.path]!.put!;
    const [program] = programs;
    const met = new Set<number>();
    for (const itemId of Object.values(site.items)) {
      const address = `/projects/${site.projectId}/items/${itemId}/newest`;
      const { content } = (await program!.get(address)).json<{ content: unknown }>();
      await fc.assert(
        fc.asyncProperty(bent({ content }), async (text) => {
          const tag = String((await program!.get(address)).headers.etag);
          const answer = await program!.send('PUT', address, { text, headers: { 'if-match': tag } });
          met.add(answer.statusCode);
          asDescribed(operation, about, answer);
        }),
        { numRuns: 40, seed: 20261125 },
      );
    }
    expect(met).toContain(201);
    expect(met).toContain(422);
    expect(await verifyProject(site.test.deps.prisma, site.projectId)).toMatchObject({ broken: null });
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
