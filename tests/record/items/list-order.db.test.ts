import { afterAll, beforeAll, expect, test } from 'vitest';
import { listItems } from '../../../src/record/items/list.ts';
import { factsOfOpening } from '../../../src/record/items/store.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';
import { enter, openScene } from '../support/scene.ts';

let database: FreshDatabase;
beforeAll(async () => {
  database = await freshDatabase();
});
afterAll(() => database.close());

test('what is at the front is listed before what is at the rear, and numbers by their value', async () => {
  const scene = await openScene(database.prisma);
  for (const key of ['rear', 'N10', 'front', 'N9', 'wall-2', 'wall-11'])
    await enter(scene, 'drawing', key, { caption: key });
  const { openingId } = scene;
  const facts = await factsOfOpening(
    database.prisma,
    scene.deps.kinds,
    scene.contractor.projectId,
    openingId,
  );
  const own = (keys: readonly string[]) => keys.filter((key) => /front|rear/.test(key));
  const numbered = (keys: readonly string[], stem: string) => keys.filter((key) => key.startsWith(stem));
  const read = facts.map(({ key }) => key);
  expect(own(read)).toEqual(['front', 'rear']);
  expect(numbered(read, 'N')).toEqual(['N9', 'N10']);
  expect(numbered(read, 'wall')).toEqual(['wall-2', 'wall-11']);
  // Page by page it is the same order.
  const paged: string[] = [];
  for (let after: string | undefined, more = true; more;) {
    const page = await listItems(scene.deps, scene.contractor, {
      openingId,
      limit: 1,
      ...(after === undefined ? {} : { after }),
    });
    paged.push(...page.items.map((one) => one.facts.key));
    more = page.next !== null;
    after = page.next ?? undefined;
  }
  expect(paged).toEqual(read);
});
