import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { allOperations } from '../../src/api/operations/all.ts';
import { startTestApp, type TestApp } from '../support/app.ts';

/** The description of the interface, judged by a validator of the standard that is not ours. */
let test: TestApp;
beforeAll(async () => {
  test = await startTestApp();
});
afterAll(() => test.close());

interface Described {
  openapi: string;
  paths: Record<string, Record<string, { operationId: string; responses: object }>>;
  components: { schemas: Record<string, object> };
}
const read = async () => {
  const answer = await test.visitor().get('/api/v1/openapi.json');
  expect(answer.statusCode).toBe(200);
  return answer.json<Described>();
};

describe('the description', () => {
  it('is valid OpenAPI 3.1', async () => {
    const validator = new Validator();
    const { valid, errors } = await validator.validate({ ...(await read()) });
    expect(errors).toBeUndefined();
    expect(valid).toBe(true);
    expect(validator.version).toBe('3.1');
    // And the validator does say no.
    const wrong = { ...(await read()), paths: { '/x': { get: { responses: 7 } } } };
    expect((await new Validator().validate(wrong)).valid).toBe(false);
  });

  it('leaves no reference that leads nowhere', async () => {
    const described = await read();
    const references = [...JSON.stringify(described).matchAll(/"\$ref":"([^"]+)"/g)].map(([, to]) => to);
    expect(references.length).toBeGreaterThan(50);
    for (const reference of new Set(references)) {
      const name = reference?.replace('#/components/schemas/', '') ?? '';
      expect(Object.keys(described.components.schemas)).toContain(name);
    }
  });

  it('names every route of the interface, and no other', async () => {
    const { paths } = await read();
    const described = Object.entries(paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
    );
    const routes = test.app
      .routeTable()
      .filter(({ method, url }) => method !== 'HEAD' && url.startsWith('/api/v1/') && !url.endsWith('.json'))
      .map(({ method, url }) => `${method} ${url.replace('/api/v1', '').replace(/:(\w+)/g, '{$1}')}`);
    expect(described.sort()).toEqual(routes.sort());
  });

  it('is shown as a page, with each operation', async () => {
    const page = await test.visitor().get('/api');
    expect(page.statusCode).toBe(200);
    for (const { id, path } of allOperations(test.deps)) {
      expect(page.body).toContain(`id="${id}"`);
      expect(page.body).toContain(path);
    }
    for (const kind of ['not-found', 'precondition-failed', 'refused']) {
      expect(page.body).toContain(`id="${kind}"`);
    }
  });
});

describe('an address of the interface that leads nowhere', () => {
  it.each(['GET', 'POST', 'PUT', 'DELETE'] as const)('answers %s with problem details', async (method) => {
    const answer = await test.app.inject({ method, url: '/api/v1/nothing/here' });
    expect(answer.statusCode).toBe(404);
    expect(answer.headers['content-type']).toContain('application/problem+json');
    expect(answer.json()).toMatchObject({ status: 404, title: 'Not found' });
  });
});
