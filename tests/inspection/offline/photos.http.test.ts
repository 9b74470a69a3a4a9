import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { testPdf, testPhoto } from '../../support/test-files.ts';
import { buildSite, type Site } from '../support/site.ts';
import { answers, found, phone } from './phone.ts';

/** Photos that a phone kept: announced with their finding, missing until they are there whole. */
let site: Site;
let visit = '';
let checkId = '';
let mine: ReturnType<typeof phone>;
beforeAll(async () => {
  site = await buildSite({ UPLOAD_LIMIT_MB: '2' });
  await site.issue();
  visit = String(
    (await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' })).headers.location,
  );
  const check = await site.test.deps.prisma.check.findFirstOrThrow({ where: { visitKind: 'framing' } });
  checkId = check.id;
});
afterAll(() => site.test.close());
beforeEach(async () => {
  mine = phone(site.test, site.inspector, site.inProject);
  await mine.ask(visit);
});

const photo = await testPhoto(140);
const body = photo.buffer;
async function announce(bytes = body.length): Promise<{ photoId: string; findingId: string }> {
  const photoId = randomUUID();
  const photos = [{ id: photoId, name: '../north end.jpg', bytes }];
  const [answer] = answers(await mine.send(visit, [found(checkId, { photos })]));
  return { photoId, findingId: answer!.findingId! };
}
const linked = (findingId: string) =>
  site.test.deps.prisma.attachmentLink.findMany({
    where: { subject: 'finding', subjectId: findingId },
    include: { attachment: true },
  });
const page = async () => (await site.inspector.get(visit)).body;

it('scenario 9: a photo that stops at 60 % is missing, goes on from there, and is whole', async () => {
  const { photoId, findingId } = await announce();
  expect(await page()).toContain('1 announced by the phone, not here yet.');
  const cut = Math.floor(body.length * 0.6);
  expect((await mine.piece(photoId, 0, body.subarray(0, cut))).json()).toEqual({
    offset: cut,
    attachmentId: null,
  });
  expect(await linked(findingId)).toEqual([]);
  expect(await page()).toContain('photo missing');
  expect((await mine.state(photoId)).json()).toEqual({ offset: cut, attachmentId: null });
  // From the start again, as a phone does that has not asked: told how far it is, and nothing is added.
  expect((await mine.piece(photoId, 0, body)).statusCode).toBe(409);
  const done = await mine.piece(photoId, cut, body.subarray(cut));
  expect(done.statusCode).toBe(201);
  const [link] = await linked(findingId);
  expect(link!.attachment).toMatchObject({ bytes: BigInt(body.length), originalName: 'north end.jpg' });
  expect(await page()).not.toContain('photo missing');
});

it('sent twice, also at the same time, it is one', async () => {
  const { photoId, findingId } = await announce();
  const both = await Promise.all([mine.piece(photoId, 0, body), mine.piece(photoId, 0, body)]);
  expect(both.map((one) => one.statusCode).sort()).toContain(201);
  const again = await mine.piece(photoId, 0, body);
  expect(again.statusCode).toBe(200);
  const [link] = await linked(findingId);
  expect(again.json()).toEqual({ offset: body.length, attachmentId: link!.attachmentId });
  expect(await linked(findingId)).toHaveLength(1);
});

it('what is no photo, is damaged, or is more than was announced is refused with a sentence; the finding stands', async () => {
  const pdf = testPdf().buffer;
  const cases: [Buffer, number, string][] = [
    [pdf, pdf.length, 'A finding takes photos: JPEG, HEIC, PNG or WebP.'],
    [body.subarray(0, 900), 900, 'The picture is damaged'],
    [body, body.length - 10, 'More came than was announced.'],
  ];
  for (const [bytes, announced, sentence] of cases) {
    const { photoId, findingId } = await announce(announced);
    const response = await mine.piece(photoId, 0, bytes);
    expect(response.statusCode).toBe(422);
    expect(response.json<{ sentence: string }>().sentence).toContain(sentence);
    expect(await linked(findingId)).toEqual([]);
    expect((await mine.state(photoId)).json()).toEqual({ offset: 0, attachmentId: null });
    expect(await site.test.deps.prisma.finding.count({ where: { id: findingId } })).toBe(1);
  }
});

it('only who announced it sends it, and only what was announced', async () => {
  const { photoId } = await announce();
  const other = await site.test.person('Oth Er');
  await site.test.join(other, site.projectId, 'inspector');
  const theirs = phone(site.test, other, site.inProject);
  await theirs.ask(visit);
  expect((await theirs.piece(photoId, 0, body)).statusCode).toBe(404);
  expect((await theirs.state(photoId)).statusCode).toBe(404);
  expect((await mine.piece(randomUUID(), 0, body)).statusCode).toBe(404);
  const [taken] = answers(
    await mine.send(visit, [found(checkId, { photos: [{ id: photoId, name: 'a', bytes: 9 }] })]),
  );
  expect(taken).toMatchObject({ is: 'refused' });
});

it('a photo may come after the visit was closed', async () => {
  const { photoId, findingId } = await announce();
  await site.inspector.post(`${visit}/closing`, { signedName: 'I', outcome: 'no_access', summary: 'Dark.' });
  expect((await mine.piece(photoId, 0, body)).statusCode).toBe(201);
  expect(await linked(findingId)).toHaveLength(1);
});
