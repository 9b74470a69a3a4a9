import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createItem } from '../../src/record/items/create.ts';
import { searchItems } from '../../src/record/items/list.ts';
import { drawingPdf } from './support/drawings.ts';
import { buildHouse, type House } from './support/house.ts';
import { sha256Of } from './support/hostile-files.ts';
import { testPhoto } from '../support/test-files.ts';

/** Words on drawings are found in the project's search, with the page they stand on. */
let house: House;
let drawingItem = '';
let looseFile = '';
let attachedTo = '';
const actor = () => ({ ...house.contractor, role: 'contractor' as const, projectId: house.projectId });
const pdf = (name: string, buffer: Buffer) => ({ name, mimeType: 'application/pdf', buffer });

async function attach(fields: Record<string, string>, buffer: Buffer): Promise<string> {
  const answer = await house.contractor.upload(
    `/projects/${house.projectId}/attachments`,
    { caption: '', back: '', ...fields },
    [{ field: 'file', ...pdf('sheet.pdf', buffer) }],
  );
  expect(answer.statusCode).toBe(303);
  return house.attachmentId();
}

beforeAll(async () => {
  house = await buildHouse();
  const sheets = drawingPdf(['Header schedule', 'Footing details F2', 'Ledger bolts footing']);
  await house.send(pdf('A-101.pdf', sheets));
  const { item } = await createItem(house.test.deps, actor(), {
    openingId: house.openingId,
    kind: 'drawing',
    key: 'A-101',
    title: 'Drawing of the opening',
    content: {
      name: 'Opening',
      revision: 'A',
      drawnOn: '2026-11-20',
      issuedBy: 'The engineer',
      sha256: sha256Of(sheets),
    },
  });
  drawingItem = item.itemId;
  await house.send(pdf('survey notes.pdf', drawingPdf(['Attic framing 2x6 @ 16in'])));
  looseFile = await house.attachmentId();
  const other = await createItem(house.test.deps, actor(), {
    openingId: house.openingId,
    kind: 'beam',
    key: 'B1',
    title: 'The beam',
  });
  attachedTo = other.item.itemId;
  await attach({ subject: 'item', subjectId: attachedTo }, drawingPdf(['Cut sheet', "Camber d'un pouce"]));
});
afterAll(() => house.test.close());

const search = (words: string) => searchItems(house.test.deps, actor(), { words });
const pagesFor = async (words: string, itemId: string) =>
  (await search(words)).pages.get(itemId)?.map(({ page }) => page);

describe('an item', () => {
  it('is found by a word on its drawing, with the page', async () => {
    const found = await search('details');
    expect(found.items.map((one) => one.facts.itemId)).toEqual([drawingItem]);
    expect(found.pages.get(drawingItem)).toEqual([
      { attachmentId: expect.any(String) as string, page: 2, around: 'Footing details F2' },
    ]);
  });

  it('is found by the beginning of a word, in any case, on every page that has it', async () => {
    expect(await pagesFor('FOOT', drawingItem)).toEqual([2, 3]);
    expect(await pagesFor('footing bolts', drawingItem)).toEqual([3]);
  });

  it('is found by words of which one is its title’s and one a page’s', async () => {
    expect(await pagesFor('opening ledger', drawingItem)).toEqual([3]);
  });

  it('is found by a file attached to it', async () => {
    expect(await pagesFor('camber', attachedTo)).toEqual([2]);
    // The drawing's font turns the typed mark into a typographic one.
    for (const mark of ["d'un", 'd’un']) expect(await pagesFor(mark, attachedTo)).toEqual([2]);
  });

  it('is found by the word inside of what looks like an operator', async () => {
    expect(await pagesFor('!details', drawingItem)).toEqual([2]);
    expect(await pagesFor('details|plumbing', drawingItem)).toBeUndefined();
  });

  it('is not found by words that are nowhere, or by what is no word', async () => {
    for (const words of ['plumbing', 'details plumbing', '%', '&', ':*', '\\', "'", '\0', '<->']) {
      const found = await search(words);
      expect([words, found.items, found.files.files]).toEqual([words, [], []]);
    }
  });
});

describe('files', () => {
  it('are found by their words, their name and their caption, items’ or not', async () => {
    const byWord = (await search('attic 2x6')).files.files;
    expect(byWord.map((one) => one.attachmentId)).toEqual([looseFile]);
    expect(byWord[0]?.pages.map(({ page, around }) => [page, around])).toEqual([
      [1, 'Attic framing 2x6 @ 16in'],
    ]);
    expect((await search('survey notes')).files.files.map((one) => one.attachmentId)).toEqual([looseFile]);
    await house.contractor.upload(
      `/projects/${house.projectId}/attachments`,
      { subject: 'opening', subjectId: house.openingId, caption: 'Cracked lintel, 50%', back: '' },
      [{ field: 'file', ...(await testPhoto(3)) }],
    );
    const photo = await house.attachmentId();
    expect((await search('lintel 50%')).files.files.map((one) => one.attachmentId)).toEqual([photo]);
  });

  it('are listed on the page, with a link to the very page of the drawing', async () => {
    const page = await house.engineer.get(`/projects/${house.projectId}/search?q=ledger`);
    expect(page.body).toMatch(/attachments\/[0-9a-f-]{36}\/sheet\?page=3">Page 3/);
    expect(page.body).toContain('Ledger bolts footing');
  });

  it('of another project are not found', async () => {
    const other = await buildHouse();
    try {
      const found = await searchItems(
        other.test.deps,
        { ...other.contractor, role: 'contractor', projectId: other.projectId },
        { words: 'details' },
      );
      expect([found.items, found.files.files]).toEqual([[], []]);
    } finally {
      await other.test.close();
    }
    // The same database, another member's project.
    expect((await house.stranger.get(`/projects/${house.projectId}/search?q=ledger`)).statusCode).toBe(404);
  });
});

it('a page with more words than an index takes is kept and found', async () => {
  const { deps } = house.test;
  const many = Array.from({ length: 9000 }, (_, index) => `ü${index.toString(36)}-é${index}`).join(' ');
  await deps.prisma.drawingPage.create({
    data: { attachmentId: looseFile, projectId: house.projectId, page: 9, text: many },
  });
  expect((await search('é77')).files.files[0]?.pages.map(({ page }) => page)).toEqual([9]);
});

it('the index answers for the words, not the pages one by one', async () => {
  const plan = await house.test.deps.prisma.$transaction(async (tx) => {
    await tx.$executeRaw`SET LOCAL enable_seqscan = off`;
    return tx.$queryRaw<{ 'QUERY PLAN': string }[]>`
      EXPLAIN SELECT page FROM drawing_page p
      WHERE to_tsvector('simple'::regconfig, left(p.text, 60000)) @@ to_tsquery('simple'::regconfig, ${"'details':*"})`;
  });
  expect(plan.map((line) => line['QUERY PLAN']).join('\n')).toContain('drawing_page_words');
});

it('the words of a page are never changed', async () => {
  const { prisma } = house.test.deps;
  await expect(prisma.drawingPage.updateMany({ data: { text: 'other' } })).rejects.toThrow();
  await expect(prisma.drawingPage.deleteMany()).rejects.toThrow();
});
