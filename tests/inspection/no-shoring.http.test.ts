import { afterAll, beforeAll, expect, it } from 'vitest';
import { demoServices } from '../../src/demo/cinder-ferry-services.ts';
import { buildSite, type Site } from './support/site.ts';

let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await site.add('service', 'S1', 'Circuit 2', demoServices[0]);
  await site.issue();
});
afterAll(() => site.test.close());

it('a set without any shoring plan keeps the wall in, whatever became of the circuits', async () => {
  const page = (await site.contractor.get(`${site.inOpening}/checklist`)).body;
  const line = page
    .split('<li class="line">')
    .find((part) => part.startsWith('<strong>Take the wall out</strong>'));
  expect(line).toContain('held');
  expect(line).toContain('This set holds no shoring plan');
});
