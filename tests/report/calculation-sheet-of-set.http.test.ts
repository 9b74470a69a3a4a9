import { afterAll, beforeAll, expect, it } from 'vitest';
import { demoCriteria } from '../../src/demo/cinder-ferry.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';

let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
});
afterAll(() => site.test.close());

/** The drawing of the survey on the sheet of a set. */
async function surveyDrawing(url: string): Promise<string> {
  const { body, statusCode } = await site.inspector.get(url);
  expect(statusCode).toBe(200);
  const drawing = /<svg[^>]*aria-labelledby="survey-[^"]*".*?<\/svg>/s.exec(body)?.[0];
  expect(drawing).toBeDefined();
  return drawing!;
}

it('the sheet of a set stays as it was issued, whatever becomes of the criteria', async () => {
  const { prisma } = site.test.deps;
  const set = await prisma.approvedSet.findFirstOrThrow({});
  const url = `${site.inProject}/sets/${set.id}/calculation`;
  expect((await site.inspector.get(`${site.inProject}/sets/${set.id}`)).body).toContain(`href="${url}"`);
  const before = await surveyDrawing(url);
  await site.change('Criteria', { ...demoCriteria, groundSnowPsf: demoCriteria.groundSnowPsf + 30 });
  expect(await surveyDrawing(url)).toBe(before);
  expect((await site.owner.get(url)).statusCode).toBe(403);
});
