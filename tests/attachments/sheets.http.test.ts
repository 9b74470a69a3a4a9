import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createItem } from '../../src/record/items/create.ts';
import { saveVersion } from '../../src/record/versions/service.ts';
import { drawingPdf } from './support/drawings.ts';
import { buildHouse, type House } from './support/house.ts';
import { sha256Of } from './support/hostile-files.ts';
import { testPhoto } from '../support/test-files.ts';

let house: House;
let url = '';
const first = drawingPdf(['Header schedule', 'Footing details']);
beforeAll(async () => {
  house = await buildHouse();
  await house.send({ name: 'A-101.pdf', mimeType: 'application/pdf', buffer: first });
  url = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
});
afterAll(() => house.test.close());

/** The share of pixels that are the red of notes and stamps, and the picture's own red band left out. */
async function redBelowTheBand(picture: Buffer): Promise<number> {
  const { data, info } = await sharp(picture).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  let red = 0;
  const from = Math.ceil(info.height * 0.15) * info.width;
  for (let pixel = from; pixel < info.width * info.height; pixel += 1) {
    const [r = 0, g = 0, b = 0] = data.subarray(pixel * 3, pixel * 3 + 3);
    if (r > 130 && g < 80 && b < 80) red += 1;
  }
  return red / (info.width * info.height - from);
}

describe('a drawing', () => {
  it('has its pages counted and its words kept', async () => {
    const row = await house.test.deps.prisma.attachment.findFirstOrThrow({
      include: { pages: { orderBy: { page: 'asc' } } },
    });
    expect(row.pageCount).toBe(2);
    expect(row.pages.map(({ page, text }) => [page, text.trim()])).toEqual([
      [1, 'Header schedule'],
      [2, 'Footing details'],
    ]);
  });

  it('is shown page by page, and no page further', async () => {
    for (const page of [1, 2]) {
      const preview = await house.engineer.get(`${url}/preview/1280?page=${page}`);
      expect(preview.headers['content-type']).toBe('image/webp');
      expect((await sharp(preview.rawPayload).metadata()).width).toBe(1280);
    }
    expect((await house.engineer.get(`${url}/preview/1280?page=3`)).statusCode).toBe(404);
    const page = await house.engineer.get(`${url}/sheet?page=99`);
    expect(page.body).toContain('Page 2 of 2');
  });

  it('is refused locked or damaged', async () => {
    const damaged = Buffer.from('%PDF-1.4\nnothing\n%%EOF\n');
    const answer = await house.send({ name: 'd.pdf', mimeType: 'application/pdf', buffer: damaged });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain('The PDF is damaged');
    expect((await house.kept()).incoming).toEqual([]);
  });

  it('says across its preview that a newer revision stands in its place', async () => {
    const actor = { ...house.contractor, role: 'contractor' as const, projectId: house.projectId };
    const content = {
      name: 'Header schedule',
      revision: 'A',
      drawnOn: '2026-11-20',
      issuedBy: 'The engineer',
      sha256: sha256Of(first),
    };
    const { item } = await createItem(house.test.deps, actor, {
      openingId: house.openingId,
      kind: 'drawing',
      key: 'A-101',
      title: 'Drawing A-101',
      content,
    });
    const before = await house.engineer.get(`${url}/preview/320`);
    expect(await redBelowTheBand(before.rawPayload)).toBe(0);

    const second = drawingPdf(['Header schedule, moved']);
    await house.send({ name: 'A-101-B.pdf', mimeType: 'application/pdf', buffer: second });
    const newer = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
    await saveVersion(house.test.deps, actor, {
      itemId: item.itemId,
      expectedNumber: 1,
      content: { ...content, revision: 'B', sha256: sha256Of(second) },
      reason: 'Moved',
    });
    const after = await house.engineer.get(`${url}/preview/320`);
    expect(after.headers.etag).not.toBe(before.headers.etag);
    expect(await redBelowTheBand(after.rawPayload)).toBeGreaterThan(0.02);
    expect((await house.engineer.get(`${url}/sheet`)).body).toContain('Revision B of');
    expect(await redBelowTheBand((await house.engineer.get(`${newer}/preview/320`)).rawPayload)).toBe(0);
    // The file itself is what it was.
    expect((await house.engineer.get(url)).rawPayload.equals(first)).toBe(true);
  });
});

describe('notes on a photo', () => {
  let photo = '';
  let bytes: Buffer;
  const note = {
    page: '1',
    shape: 'pin',
    leftPercent: '50',
    topPercent: '50',
    words: 'Crack <here>',
    itemId: '',
  };
  const noteOf = async () =>
    house.test.deps.prisma.sheetNote.findFirstOrThrow({ orderBy: [{ at: 'desc' }, { number: 'desc' }] });
  beforeAll(async () => {
    const file = await testPhoto(60);
    bytes = file.buffer;
    await house.send(file);
    photo = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
  });

  it('are kept over the untouched file and drawn on the preview', async () => {
    expect((await house.engineer.get(`${photo}/sheet?grid=yes`)).body).toContain('Add a note');
    expect((await house.engineer.post(`${photo}/notes`, { ...note, onNumber: '0' })).statusCode).toBe(303);
    const page = await house.engineer.get(`${photo}/sheet`);
    expect(page.body).toContain('Crack &lt;here&gt;');
    const plain = await house.engineer.get(`${photo}/preview/1280`);
    const noted = await house.engineer.get(`${photo}/preview/1280?notes=yes`);
    expect(await redBelowTheBand(plain.rawPayload)).toBe(0);
    expect(await redBelowTheBand(noted.rawPayload)).toBeGreaterThan(0.0005);
    expect((await house.engineer.get(photo)).rawPayload.equals(bytes)).toBe(true);
  });

  it('point to an item of the project, and to none of another', async () => {
    const item = await house.test.deps.prisma.item.findFirstOrThrow({
      where: { projectId: house.projectId },
    });
    const { noteId } = await noteOf();
    const next = { ...note, noteId, onNumber: '1', shape: 'box', toLeftPercent: '80', toTopPercent: '90' };
    expect((await house.engineer.post(`${photo}/notes`, { ...next, itemId: item.id })).statusCode).toBe(303);
    expect((await house.engineer.get(`${photo}/sheet`)).body).toContain(`/items/${item.id}`);
    const foreign = '00000000-0000-4000-8000-000000000000';
    const answer = await house.engineer.post(`${photo}/notes`, { ...next, onNumber: '2', itemId: foreign });
    expect(answer.statusCode).toBe(422);
  });

  it('are versioned: who looked at an older state is told, and earlier states stay', async () => {
    const { noteId } = await noteOf();
    const late = await house.contractor.post(`${photo}/notes`, { ...note, noteId, onNumber: '1' });
    expect(late.statusCode).toBe(409);
    expect(late.body).toContain('Somebody else changed this note');
    const off = await house.engineer.post(`${photo}/notes`, { ...note, noteId, onNumber: '2', do: 'remove' });
    expect(off.statusCode).toBe(303);
    const page = await house.engineer.get(`${photo}/sheet`);
    expect(page.body).toContain('taken off');
    expect(await house.test.deps.prisma.sheetNote.count({ where: { noteId } })).toBe(3);
    await expect(house.test.deps.prisma.sheetNote.deleteMany({ where: { noteId } })).rejects.toThrow();
    await expect(
      house.test.deps.prisma.sheetNote.updateMany({ where: { noteId }, data: { content: '{}' } }),
    ).rejects.toThrow();
  });

  it.each([
    [{ leftPercent: '101' }, 'Write a number from 0 to 100'],
    [{ leftPercent: '' }, 'Write a number'],
    [{ leftPercent: 'NaN' }, 'Write a number'],
    [{ words: ' ' }, 'Write what is to be seen there'],
    [{ shape: 'spiral' }, 'Choose a shape'],
    [{ shape: 'line' }, 'Write a number'],
    [{ page: '2' }, ''],
  ])('are refused with %j', async (wrong, words) => {
    const before = await house.test.deps.prisma.sheetNote.count();
    const answer = await house.engineer.post(`${photo}/notes`, { ...note, onNumber: '0', ...wrong });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain(words);
    expect(await house.test.deps.prisma.sheetNote.count()).toBe(before);
  });

  it('are not the owner’s to see or to write', async () => {
    await house.engineer.post(`${photo}/notes`, { ...note, words: 'Among ourselves', onNumber: '0' });
    await house.contractor.post(`${photo}/share`, { shared: 'yes', back: '' });
    const page = await house.owner.get(`${photo}/sheet`);
    expect(page.statusCode).toBe(200);
    expect(page.body).not.toContain('Among ourselves');
    const noted = await house.owner.get(`${photo}/preview/1280?notes=yes`);
    expect(await redBelowTheBand(noted.rawPayload)).toBe(0);
    expect((await house.owner.post(`${photo}/notes`, { ...note, onNumber: '0' })).statusCode).toBe(403);
  });
});
