import { readFile, rm, writeFile } from 'node:fs/promises';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createProject } from '../../src/record/projects/service.ts';
import { testPdf, testPhoto } from '../support/test-files.ts';
import { buildHouse, type House } from './support/house.ts';
import { sha256Of } from './support/hostile-files.ts';

let house: House;
let photo: Buffer;
let url = '';
beforeAll(async () => {
  house = await buildHouse();
  const sent = await testPhoto(90);
  photo = sent.buffer;
  await house.send(sent);
  url = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
});
afterAll(() => house.test.close());

function get(path: string, headers: Record<string, string>) {
  return house.test.app.inject({ url: path, headers: { cookie: house.contractor.cookies(), ...headers } });
}

describe('bytes', () => {
  it('come back as they were sent, by hash', async () => {
    const answer = await get(url, {});
    expect(answer.statusCode).toBe(200);
    expect(answer.rawPayload.equals(photo)).toBe(true);
    expect(answer.headers.etag).toBe(`"${sha256Of(photo)}"`);
    expect(answer.headers['accept-ranges']).toBe('bytes');
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
    expect(answer.headers['content-length']).toBe(String(photo.length));
  });

  it.each([
    ['bytes=0-9', 0, 9],
    ['bytes=100-', 100, -1],
    ['bytes=-7', -7, -1],
    ['bytes=5-99999999', 5, -1],
  ])('come in part for %s', async (range, from, to) => {
    const answer = await get(url, { range });
    const start = from < 0 ? photo.length + from : from;
    const end = to < 0 ? photo.length - 1 : to;
    expect(answer.statusCode).toBe(206);
    expect(answer.headers['content-range']).toBe(`bytes ${start}-${end}/${photo.length}`);
    expect(answer.rawPayload.equals(photo.subarray(start, end + 1))).toBe(true);
  });

  it.each(['bytes=99999999-', 'bytes=9-3', 'bytes=-0'])('do not come for %s', async (range) => {
    const answer = await get(url, { range });
    expect(answer.statusCode).toBe(416);
    expect(answer.headers['content-range']).toBe(`bytes */${photo.length}`);
  });

  it('come whole for several ranges, and where the file is another one than the range was of', async () => {
    expect((await get(url, { range: 'bytes=0-1,3-4' })).statusCode).toBe(200);
    expect((await get(url, { range: 'bytes=0-1', 'if-range': '"other"' })).statusCode).toBe(200);
    expect((await get(url, { range: 'bytes=0-1', 'if-range': `"${sha256Of(photo)}"` })).statusCode).toBe(206);
  });

  it('are not sent again to whom has them', async () => {
    const answer = await get(url, { 'if-none-match': `"${sha256Of(photo)}"` });
    expect(answer.statusCode).toBe(304);
    expect(answer.rawPayload.length).toBe(0);
  });
});

describe('who', () => {
  it('is asked on each request: strangers and other projects find nothing', async () => {
    expect((await house.stranger.get(url)).statusCode).toBe(404);
    const { projectId } = await createProject(house.test.deps, house.stranger, {
      name: 'Other',
      address: '2 Row',
      jurisdiction: 'Town',
      permitNumber: '',
    });
    const through = url.replace(house.projectId, projectId);
    for (const path of [through, `${through}/preview/320`]) {
      expect((await house.stranger.get(path)).statusCode).toBe(404);
    }
    expect((await house.test.visitor().get(url)).statusCode).toBe(303);
  });

  it('lets the owner see what is shared, and takes it back', async () => {
    expect((await house.owner.get(url)).statusCode).toBe(404);
    await house.contractor.post(`${url}/share`, { shared: 'yes', back: '' });
    expect((await house.owner.get(`${url}/preview/320`)).statusCode).toBe(200);
    expect((await house.owner.get(url)).statusCode).toBe(200);
    await house.contractor.post(`${url}/share`, { shared: '', back: '' });
    expect((await house.owner.get(url)).statusCode).toBe(404);
    expect((await house.owner.get(`${url}/preview/1280`)).statusCode).toBe(404);
  });
});

describe('the camera’s own words', () => {
  let sent: Buffer;
  let own = '';
  beforeAll(async () => {
    // Left half red, right half blue, then said to be turned by a quarter: upright, red is on top.
    const red = await sharp({ create: { width: 60, height: 80, channels: 3, background: '#ff0000' } })
      .png()
      .toBuffer();
    sent = await sharp({ create: { width: 120, height: 80, channels: 3, background: '#0000ff' } })
      .composite([{ input: red, left: 0, top: 0 }])
      .withMetadata({ orientation: 6 })
      .withExifMerge({
        IFD0: { Model: 'Secret camera', DateTime: '2026:11:24 10:00:00' },
        IFD2: { DateTimeOriginal: '2026:11:23 09:30:00' },
        IFD3: {
          GPSLatitudeRef: 'N',
          GPSLatitude: '44/1 30/1 0/1',
          GPSLongitudeRef: 'W',
          GPSLongitude: '70/1 15/1 0/1',
        },
      })
      .jpeg()
      .toBuffer();
    await house.send({ name: 'gps.jpg', mimeType: 'image/jpeg', buffer: sent });
    own = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
  });

  it('are in the test’s own photo', async () => {
    const metadata = await sharp(sent).metadata();
    expect(metadata.exif?.includes('Secret camera')).toBe(true);
    expect(metadata.orientation).toBe(6);
  });

  it('turn the preview upright and are not in it', async () => {
    const { rawPayload } = await house.contractor.get(`${own}/preview/320`);
    const { width, height, exif, xmp, icc, orientation } = await sharp(rawPayload).metadata();
    expect([width, height, exif, xmp, orientation]).toEqual([80, 120, undefined, undefined, undefined]);
    expect(icc).toBeUndefined();
    const { data, info } = await sharp(rawPayload).raw().toBuffer({ resolveWithObject: true });
    const at = (x: number, y: number) => [
      ...data.subarray((y * info.width + x) * info.channels).subarray(0, 3),
    ];
    const [top, bottom] = [at(40, 10), at(40, 110)];
    expect(top[0]! > 200 && top[2]! < 60).toBe(true);
    expect(bottom[2]! > 200 && bottom[0]! < 60).toBe(true);
  });

  it('are kept in the record: size as shown and the time it was taken', async () => {
    const row = await house.test.deps.prisma.attachment.findFirstOrThrow({
      where: { sha256: sha256Of(sent) },
    });
    expect([row.widthPx, row.heightPx]).toEqual([80, 120]);
    expect(row.capturedAt?.toISOString()).toBe('2026-11-23T09:30:00.000Z');
  });

  it('never reach the owner, not by the download either', async () => {
    await house.contractor.post(`${own}/share`, { shared: 'yes', back: '' });
    const answer = await house.owner.get(own);
    expect(answer.headers['content-type']).toBe('image/webp');
    expect((await sharp(answer.rawPayload).metadata()).exif).toBeUndefined();
    expect(answer.rawPayload.includes('Secret camera')).toBe(false);
    expect((await house.owner.get(`${own}/sheet`)).body).not.toContain('camera’s clock');
    expect((await house.engineer.get(`${own}/sheet`)).body).toContain(
      'taken Nov 23, 2026, 9:30 AM by the camera’s clock',
    );
  });

  it('do not tell the others where it was taken either, unless its sender said so', async () => {
    // Whoever sent it has it anyway.
    expect((await house.contractor.get(own)).rawPayload.equals(sent)).toBe(true);
    const copy = await house.engineer.get(own);
    expect(copy.headers['content-type']).toBe('image/webp');
    expect((await sharp(copy.rawPayload).metadata()).exif).toBeUndefined();

    const fields = { subject: 'opening', subjectId: house.openingId, caption: '', back: '' };
    const upload = (more: Record<string, string>) =>
      house.contractor.upload(`/projects/${house.projectId}/attachments`, { ...fields, ...more }, [
        { field: 'file', name: 'gps.jpg', mimeType: 'image/jpeg', buffer: sent },
      ]);
    await upload({ keepPosition: 'yes' });
    const kept = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
    expect((await house.engineer.get(kept)).rawPayload.equals(sent)).toBe(true);
    expect((await house.engineer.get(`${kept}/sheet`)).body).toContain('44.50000, -70.25000');
    const partner = await house.test.person('Second contractor');
    await house.test.join(partner, house.projectId, 'contractor');
    expect((await partner.get(kept)).headers['content-type']).toBe('image/webp');
    const page = (await partner.get(`${kept}/sheet`)).body;
    expect(page).not.toContain('44.50000');
    expect(page).not.toContain('camera’s clock');
  });
});

describe('a stored file that is damaged', () => {
  it('shows a hash failure and none of its bytes; sending it again mends it', async () => {
    const file = await testPhoto(91);
    await house.send(file);
    const own = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
    const place = house.blobPath(sha256Of(file.buffer));
    const bytes = await readFile(place);
    bytes[bytes.length - 30]! ^= 1;
    await writeFile(place, bytes);

    const whole = await house.contractor.get(own);
    expect(whole.statusCode).toBe(500);
    expect(whole.body).toContain('Hash failure');
    expect(whole.headers.etag).toBeUndefined();
    expect((await get(own, { range: 'bytes=0-9' })).statusCode).toBe(500);
    const preview = await house.contractor.get(`${own}/preview/320`);
    expect(preview.statusCode).toBe(500);
    expect(preview.headers['content-type']).toContain('image/svg+xml');
    expect(preview.body).toContain('Hash failure');

    await house.send(file);
    expect((await house.contractor.get(own)).rawPayload.equals(file.buffer)).toBe(true);
  });

  it('says so where it is gone', async () => {
    const file = testPdf();
    await house.send(file);
    const own = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
    await rm(house.blobPath(sha256Of(file.buffer)));
    const answer = await house.contractor.get(own);
    expect(answer.statusCode).toBe(500);
    expect(answer.body).toContain('The stored file is missing');
  });
});
