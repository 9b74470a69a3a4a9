import { readdir } from 'node:fs/promises';
import { request } from 'node:http';
import path from 'node:path';
import { Readable } from 'node:stream';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { receiveFile } from '../../src/attachments/receive.ts';
import { keepUpload } from '../../src/attachments/resumable/keep.ts';
import { sweep } from '../../src/attachments/sweep.ts';
import { testPhoto } from '../support/test-files.ts';
import { buildHouse, type House } from './support/house.ts';
import { sha256Of } from './support/hostile-files.ts';
import { formToken, listen } from './support/raw-upload.ts';

let house: House;
let token = '';
let port = 0;
beforeAll(async () => {
  house = await buildHouse({ UPLOAD_LIMIT_MB: '2' });
  port = await listen(house);
  token = await formToken(house);
});
afterAll(() => house.test.close());

const base = () => `/projects/${house.projectId}/uploads`;
const headers = () => ({
  cookie: house.contractor.cookies(),
  'sec-fetch-site': 'same-origin',
  'x-csrf-token': token,
});

async function begin(bytes: number, more: Record<string, string> = {}) {
  const fields = { name: '../a.jpg', bytes: String(bytes), subject: 'opening', subjectId: house.openingId };
  return house.test.app.inject({
    method: 'POST',
    url: base(),
    headers: { ...headers(), 'content-type': 'application/x-www-form-urlencoded' },
    payload: new URLSearchParams({ ...fields, caption: '', ...more }).toString(),
  });
}
const begun = async (bytes: number, more: Record<string, string> = {}) =>
  (await begin(bytes, more)).json<{ uploadId: string }>().uploadId;

const add = (uploadId: string, offset: number, payload: Buffer, more: Record<string, string> = {}) =>
  house.test.app.inject({
    method: 'POST',
    url: `${base()}/${uploadId}/pieces`,
    headers: {
      ...headers(),
      'content-type': 'application/octet-stream',
      'upload-offset': String(offset),
      ...more,
    },
    payload,
  });
const state = async (uploadId: string) =>
  (await house.contractor.get(`${base()}/${uploadId}`)).json<{
    offset: number;
    attachmentId: string | null;
  }>();
const partials = () =>
  readdir(path.resolve(house.test.deps.config.dataFolder, 'uploads')).catch((): string[] => []);

describe('an upload in pieces', () => {
  it('is kept once it is whole, and the last piece sent twice is one file', async () => {
    const { buffer } = await testPhoto(1);
    const before = (await house.kept()).rows;
    const id = await begun(buffer.length);
    const half = Math.floor(buffer.length / 2);
    const first = await add(id, 0, buffer.subarray(0, half));
    expect([first.statusCode, first.json()]).toEqual([200, { offset: half, attachmentId: null }]);
    expect((await house.kept()).rows).toBe(before);
    const last = await add(id, half, buffer.subarray(half));
    expect(last.statusCode).toBe(201);
    const { attachmentId } = last.json<{ attachmentId: string }>();
    const again = await add(id, half, buffer.subarray(half));
    expect(again.json<{ attachmentId: string }>().attachmentId).toBe(attachmentId);
    expect((await house.kept()).rows).toBe(before + 1);
    const served = await house.contractor.get(`/projects/${house.projectId}/attachments/${attachmentId}`);
    expect(served.headers.etag).toBe(`"${sha256Of(buffer)}"`);
    expect(await partials()).toEqual([]);
  });

  it('is one file where two processes finish it at the same time', async () => {
    const photo = await testPhoto(2);
    const uploadId = await begun(photo.buffer.length);
    const { deps } = house.test;
    const upload = await deps.prisma.upload.findUniqueOrThrow({ where: { id: uploadId } });
    const member = await deps.prisma.membership.findFirstOrThrow({
      where: { personId: house.contractor.personId, projectId: house.projectId },
    });
    const { personId, projectId, role } = member;
    const received = await receiveFile(deps.blobs, Readable.from([photo.buffer]), {
      limitBytes: 2_000_000,
      wasCutShort: () => false,
    });
    await received.received.commit();
    const keep = () =>
      keepUpload(deps, { personId, projectId, role, name: 'one of two' }, upload, {
        ...received,
        originalName: photo.name,
      });
    const before = (await house.kept()).rows;
    const [one, other] = await Promise.all([keep(), keep()]);
    expect(one).toBe(other);
    expect((await house.kept()).rows).toBe(before + 1);
  });

  it('goes on where the connection dropped', async () => {
    const noise = await sharp({
      create: {
        width: 500,
        height: 500,
        channels: 3,
        background: '#fff',
        noise: { type: 'gaussian', mean: 128, sigma: 60 },
      },
    })
      .png()
      .toBuffer();
    const id = await begun(noise.length);
    const sending = request({
      port,
      host: '127.0.0.1',
      method: 'POST',
      path: `${base()}/${id}/pieces`,
      headers: {
        ...headers(),
        'content-type': 'application/octet-stream',
        'upload-offset': '0',
        'content-length': noise.length,
      },
    });
    sending.on('error', () => undefined);
    sending.write(noise.subarray(0, 100_000));
    while ((await state(id)).offset < 100_000) await new Promise((resolve) => setTimeout(resolve, 20));
    sending.destroy();
    let { offset } = await state(id);
    expect(offset).toBe(100_000);
    let answer = await add(id, offset, noise.subarray(offset));
    // The server may not have seen the break yet; the script asks again, too.
    while (answer.statusCode === 409) {
      ({ offset } = await state(id));
      answer = await add(id, offset, noise.subarray(offset));
    }
    expect(answer.statusCode).toBe(201);
    expect((await house.kept()).blobs).toContain(sha256Of(noise));
  });

  it('refuses a piece that does not fit, and says how far it is', async () => {
    const { buffer } = await testPhoto(2);
    const id = await begun(buffer.length);
    await add(id, 0, buffer.subarray(0, 100));
    for (const wrong of [0, 50, 101, -1, NaN]) {
      const answer = await add(id, wrong, buffer.subarray(0, 10));
      expect([answer.statusCode, answer.json()]).toEqual([409, { offset: 100, attachmentId: null }]);
    }
  });

  it('refuses more than was announced, and what is no photo, and leaves nothing behind', async () => {
    const before = await house.kept();
    const held = (await partials()).length;
    const { buffer } = await testPhoto(3);
    const more = await begun(100);
    expect((await add(more, 0, buffer)).statusCode).toBe(422);
    const page = Buffer.from('<script>alert(1)</script>');
    const wrong = await begun(page.length);
    const answer = await add(wrong, 0, page);
    expect([answer.statusCode, answer.json<{ sentence: string }>().sentence]).toEqual([
      422,
      expect.stringContaining('Send a photo as JPEG'),
    ]);
    expect(await house.kept()).toEqual(before);
    expect((await partials()).length).toBe(held);
    expect((await house.contractor.get(`${base()}/${wrong}`)).statusCode).toBe(404);
  });

  it('refuses what is too large before a byte is sent', async () => {
    const answer = await begin(3 * 1024 * 1024);
    expect([answer.statusCode, answer.json()]).toEqual([
      422,
      { sentence: 'The file is larger than 2 MB, the most that is kept here.' },
    ]);
    expect((await begin(0)).statusCode).toBe(422);
  });

  it('is its sender’s alone, and needs the form’s token', async () => {
    const { buffer } = await testPhoto(4);
    const id = await begun(buffer.length);
    expect((await house.engineer.get(`${base()}/${id}`)).statusCode).toBe(404);
    expect((await house.stranger.get(`${base()}/${id}`)).statusCode).toBe(404);
    expect((await add(id, 0, buffer, { 'x-csrf-token': 'forged' })).statusCode).toBe(403);
    expect((await state(id)).offset).toBe(0);
  });

  it('keeps where a photo was taken only where its sender says so', async () => {
    const photo = await sharp({ create: { width: 50, height: 40, channels: 3, background: '#123456' } })
      .withExif({
        IFD3: {
          GPSLatitudeRef: 'N',
          GPSLatitude: '44/1 30/1 0/1',
          GPSLongitudeRef: 'W',
          GPSLongitude: '70/1 15/1 0/1',
        },
      })
      .jpeg()
      .toBuffer();
    for (const [keepPosition, expected] of [
      ['', [null, null]],
      ['yes', [44.5, -70.25]],
    ] as const) {
      const id = await begun(photo.length, { keepPosition });
      const { attachmentId } = (await add(id, 0, photo)).json<{ attachmentId: string }>();
      const row = await house.test.deps.prisma.attachment.findUniqueOrThrow({ where: { id: attachmentId } });
      expect([row.latitude, row.longitude]).toEqual(expected);
      const sheet = `/projects/${house.projectId}/attachments/${attachmentId}/sheet`;
      expect((await house.engineer.get(sheet)).body.includes('44.50000, -70.25000')).toBe(
        keepPosition === 'yes',
      );
      await house.contractor.post(sheet.replace('/sheet', '/share'), { shared: 'yes', back: '' });
      expect((await house.owner.get(sheet)).body).not.toContain('44.5');
    }
  });

  it('is forgotten after a day', async () => {
    const { buffer } = await testPhoto(5);
    const id = await begun(buffer.length);
    await add(id, 0, buffer.subarray(0, 50));
    const later = new Date(Date.now() + 25 * 3_600_000);
    await sweep({ ...house.test.deps, clock: () => later });
    expect((await house.contractor.get(`${base()}/${id}`)).statusCode).toBe(404);
    expect(await partials()).toEqual([]);
  });
});
