import { afterAll, beforeAll, expect, it } from 'vitest';
import { demoSurvey } from '../../src/demo/cinder-ferry.ts';
import { createItem } from '../../src/record/items/create.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { saveVersion } from '../../src/record/versions/service.ts';
import { testPhoto } from '../support/test-files.ts';
import { buildHouse, type House } from './support/house.ts';

let house: House;
let itemId: string;
let page: string;
beforeAll(async () => {
  house = await buildHouse();
  const { projectId, openingId, contractor, test } = house;
  const actor = { ...contractor, role: 'contractor' as const, projectId };
  const { item } = await createItem(test.deps, actor, {
    openingId,
    kind: 'survey',
    key: 'survey',
    title: 'Survey',
    content: demoSurvey,
  });
  itemId = item.itemId;
  page = `/projects/${projectId}/items/${itemId}`;
});
afterAll(() => house.test.close());

async function send(belongsTo: string, caption: string) {
  const { buffer } = await testPhoto(3);
  return house.contractor.upload(
    `/projects/${house.projectId}/attachments`,
    { subject: 'item', subjectId: itemId, belongsTo, caption, back: page },
    [{ field: 'file', name: 'a.jpg', mimeType: 'image/jpeg', buffer }],
  );
}

it('offers every observation of the survey, by its own name, for a file to belong to', async () => {
  const { body } = await house.contractor.get(page);
  for (const { id, label } of [...demoSurvey.strips, ...demoSurvey.wallsAbove, ...demoSurvey.braces]) {
    expect(body).toContain(`<option value="item ${itemId} ${id}"`);
    expect(body).toContain(label);
  }
});

it('shows a file with the observation it belongs to, to the engineer too, over versions', async () => {
  expect((await send(`item ${itemId} brace-f2`, 'Foot of the second brace')).statusCode).toBe(303);
  const under = /<h3>Front brace 2<\/h3>[^]*?Foot of the second brace/;
  expect((await house.engineer.get(page)).body).toMatch(under);

  const actor = { ...house.contractor, role: 'contractor' as const, projectId: house.projectId };
  await saveVersion(house.test.deps, actor, {
    itemId,
    expectedNumber: 1,
    content: { ...demoSurvey, wallLengthIn: 171 },
    reason: 'Measured again.',
  });
  expect((await house.engineer.get(page)).body).toMatch(under);

  await saveVersion(house.test.deps, actor, {
    itemId,
    expectedNumber: 2,
    content: { ...demoSurvey, braces: demoSurvey.braces.filter(({ id }) => id !== 'brace-f2') },
    reason: 'That brace ends on the purlin.',
  });
  expect((await house.engineer.get(page)).body).toMatch(
    /<h3>brace-f2 <span class="quiet">no longer in the survey<\/span><\/h3>[^]*?Foot of the second brace/,
  );
});

it('takes no file for an observation that is not there, nor for one of a thing without observations', async () => {
  const before = await house.kept();
  expect((await send(`item ${itemId} brace-f99`, '')).statusCode).toBe(404);
  expect((await send(`opening ${house.openingId} brace-f1`, '')).statusCode).toBe(404);
  expect((await send(`item ${itemId} <b>`, '')).statusCode).toBe(404);
  expect((await house.kept()).rows).toBe(before.rows);
});

it('says in the log what a file belongs to, and finds out where a row says otherwise', async () => {
  const { prisma } = house.test.deps;
  expect((await verifyProject(prisma, house.projectId)).broken).toBeNull();
  await prisma.$executeRaw`ALTER TABLE attachment_link DISABLE TRIGGER USER`;
  await prisma.$executeRaw`UPDATE attachment_link SET part = 'brace-f1' WHERE part = 'brace-f2'`;
  expect((await verifyProject(prisma, house.projectId)).broken?.sentence).toMatch(
    /Its part is not what event/,
  );
});
