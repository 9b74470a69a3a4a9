import { readFile } from 'node:fs/promises';
import path from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { drawHeic, HeicUnreadable } from '../../src/attachments/heic/reader.ts';
import { buildHouse, type House } from './support/house.ts';

/**
 * support/photo.heic was made from a JPEG of 320 x 200 (red quarter top left, blue quarter bottom right, EXIF time
 * 2026:05:04 10:11:12, place 45°30' N 122°15' W) by heif-enc 1.15.1 (libheif, x265): another program than the decoder.
 */
let house: House;
let photo: Buffer;
beforeAll(async () => {
  house = await buildHouse();
  photo = await readFile(path.join(import.meta.dirname, 'support/photo.heic'));
});
afterAll(() => house.test.close());

const sent = (buffer: Buffer, name = 'IMG_0001.HEIC') => house.send({ name, mimeType: 'image/heic', buffer });
const own = async () => `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;

async function refused(buffer: Buffer, words: RegExp): Promise<void> {
  const before = await house.kept();
  const answer = await sent(buffer);
  expect(answer.statusCode).toBe(422);
  expect(answer.body).toMatch(words);
  expect(await house.kept()).toEqual(before);
}

/** Writes a size into the photo's ispe box (ISO/IEC 23008-12, 6.5.3: four bytes of version, width, height). */
function claiming(width: number, height: number): Buffer {
  const copy = Buffer.from(photo);
  for (let at = copy.indexOf('ispe'); at >= 0; at = copy.indexOf('ispe', at + 1)) {
    copy.writeUInt32BE(width, at + 8);
    copy.writeUInt32BE(height, at + 12);
  }
  return copy;
}

it('keeps a HEIC photo as it came, with its time, and draws previews without the camera’s words', async () => {
  expect((await sent(photo)).statusCode).toBe(303);
  const row = await house.test.deps.prisma.attachment.findFirstOrThrow({
    where: { projectId: house.projectId, mediaType: 'image/heic' },
  });
  expect([row.widthPx, row.heightPx]).toEqual([320, 200]);
  expect(row.capturedAt?.toISOString()).toBe('2026-05-04T10:11:12.000Z');
  // Not asked for, so not kept.
  expect(row.latitude).toBeNull();
  const original = await house.contractor.get(await own());
  expect(original.headers['content-type']).toBe('image/heic');
  expect(original.rawPayload.equals(photo)).toBe(true);

  const preview = await house.contractor.get(`${await own()}/preview/320`);
  expect(preview.headers['content-type']).toBe('image/webp');
  const { width, height, exif } = await sharp(preview.rawPayload).metadata();
  expect([width, height, exif]).toEqual([320, 200, undefined]);
  const { data, info } = await sharp(preview.rawPayload).raw().toBuffer({ resolveWithObject: true });
  const at = (x: number, y: number) => [...data.subarray((y * info.width + x) * info.channels)].slice(0, 3);
  const [red, , blueInRed] = at(60, 40);
  const [redInBlue, , blue] = at(260, 160);
  expect(red! > 150 && blueInRed! < 80).toBe(true);
  expect(blue! > 150 && redInBlue! < 80).toBe(true);
});

it('gives somebody who may not know the place a copy without it, the owner always', async () => {
  const url = await own();
  for (const who of [house.engineer, house.owner]) {
    if (who === house.owner) {
      await house.test.deps.prisma.attachment.updateMany({ data: { sharedWithOwner: true } });
    }
    const copy = await who.get(url);
    expect(copy.statusCode).toBe(200);
    expect(copy.headers['content-type']).toBe('image/webp');
    expect(copy.rawPayload.includes('Exif')).toBe(false);
  }
});

it('refuses a photo that is cut off, and one whose insides are noise', async () => {
  await refused(photo.subarray(0, photo.length - 300), /damaged or too large to show/);
  const noise = Buffer.from(photo);
  const from = noise.indexOf('mdat') + 8;
  for (let at = from; at < noise.length; at += 1) noise[at] = (at * 7919) % 256;
  await refused(noise, /damaged or too large to show/);
});

it('refuses a photo that claims a size no phone has, before it is decoded', async () => {
  await refused(claiming(60_000, 60_000), /damaged or too large to show/);
  // Within what libheif would take, beyond what we do.
  await refused(claiming(10_000, 9_000), /damaged or too large to show/);
});

it('refuses another kind of file under the same name', async () => {
  const avif = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#fff' } })
    .avif()
    .toBuffer();
  await refused(avif, /This is an AVIF photo.*Send it as JPEG/);
});

it('ends a decoder that takes more than it may, and the service goes on', async () => {
  await expect(drawHeic(photo, 320, { timeMs: 30_000, memoryBytes: 1 })).rejects.toThrow(HeicUnreadable);
  expect((await drawHeic(photo, 160)).heightPx).toBe(200);
});
