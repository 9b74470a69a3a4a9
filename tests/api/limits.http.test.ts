import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { problemSchema } from '../../src/api/problems/details.ts';
import { startTestApp, type TestApp } from '../support/app.ts';
import { programOf } from './support/programs.ts';

/** So many requests a minute for one token, whatever address they come from; fewer of what takes much computing. */
let test: TestApp;
beforeAll(async () => {
  test = await startTestApp({ RATE_LIMIT: '20' });
});
afterAll(() => test.close());

describe('the limit of requests', () => {
  it('refuses with problem details and the time to wait, one token and not the next', async () => {
    const person = await test.person('Busy');
    const [one, other] = [await programOf(test, person), await programOf(test, person)];
    const statuses: number[] = [];
    for (let i = 0; i < 21; i += 1) statuses.push((await one.get('/projects')).statusCode);
    expect(statuses.filter((status) => status === 200)).toHaveLength(20);
    const refused = await one.get('/projects');
    expect(refused.statusCode).toBe(429);
    expect(refused.headers['content-type']).toContain('application/problem+json');
    expect(problemSchema.parse(refused.json()).type).toMatch(/#too-many-requests$/);
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0);
    expect((await other.get('/projects')).statusCode).toBe(200);
  });

  it('is a fifth for calculations', async () => {
    const program = await programOf(test, await test.person('Reckoner'));
    const statuses: number[] = [];
    for (let i = 0; i < 5; i += 1) {
      statuses.push((await program.send('POST', '/calculations', { body: {} })).statusCode);
    }
    expect(statuses).toEqual([422, 422, 422, 422, 429]);
  });
});
