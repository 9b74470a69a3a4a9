import { afterAll, beforeAll, expect, it } from 'vitest';
import { demoBeam } from '../../../src/demo/cinder-ferry.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';

/** What the page of an opening says of versions before they are handed to the engineer. */
let site: Site;

beforeAll(async () => {
  site = await buildSite();
});
afterAll(() => site.test.close());

const handingOver = async () => {
  const { body } = await site.contractor.get(site.inOpening);
  return /<section aria-labelledby="submit">[^]*?<\/section>/.exec(body)?.[0] ?? '';
};

it('says how many checks of each version are not met, and leads to it; the engineer is not told there', async () => {
  await site.change('Beam', { ...demoBeam, member: { ...demoBeam.member, depthIn: 5.5 } });
  const { prisma } = site.test.deps;
  const versions = await prisma.version.findMany({
    where: { item: { kind: { in: ['beam', 'support', 'fastening'] } } },
    distinct: ['itemId'],
    orderBy: { number: 'desc' },
    select: { itemId: true, number: true, calculation: true, item: { select: { title: true } } },
  });
  const shown = await handingOver();
  const told = versions.map(({ itemId, number, calculation, item }) => {
    const { checks } = JSON.parse(calculation) as { checks: { passes: boolean }[] };
    const failing = checks.filter(({ passes }) => !passes).length;
    const words = failing === 1 ? '1 check not met' : `${failing} checks not met`;
    const link = failing === 0 ? '' : `: <a href="${site.inProject}/items/${itemId}">${words}</a>`;
    expect(shown).toContain(`${item.title}, version ${number}${link}<input`);
    return failing;
  });
  expect(Math.min(...told)).toBe(0);
  expect(Math.max(...told)).toBeGreaterThan(1);
  expect(shown).toContain('say in the note why you submit it so');
  expect((await site.engineer.get(site.inOpening)).body).not.toContain('not met</a>');
});
