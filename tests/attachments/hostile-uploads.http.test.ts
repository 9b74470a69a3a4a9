import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { buildHouse, type House } from './support/house.ts';
import { pngBomb, sha256Of, zipBomb } from './support/hostile-files.ts';
import { testPdf, testPhoto } from '../support/test-files.ts';

/** Whatever is sent: a clear answer, and nothing left behind. */
let house: House;
let rowsBefore = 0;
beforeAll(async () => {
  house = await buildHouse({ UPLOAD_LIMIT_MB: '2' });
});
afterAll(() => house.test.close());
afterEach(async () => {
  expect((await house.kept()).incoming).toEqual([]);
});

const file = (name: string, buffer: Buffer, mimeType = 'image/jpeg') => ({ name, mimeType, buffer });

async function refused(buffer: Buffer, words: RegExp, name = 'photo.jpg', mimeType = 'image/jpeg') {
  const before = await house.kept();
  const answer = await house.send(file(name, buffer, mimeType));
  expect(answer.statusCode).toBe(422);
  expect(answer.body).toMatch(words);
  expect(await house.kept()).toEqual(before);
}

describe('what is not a photo or drawing', () => {
  it.each([
    ['a program', Buffer.from('7f454c4602010100000000000000000002003e00', 'hex')],
    ['a page', Buffer.from('<!doctype html><script>alert(1)</script>')],
    ['an SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>')],
    ['a page that has a PDF in it', Buffer.concat([Buffer.from('<html>'), testPdf().buffer])],
    ['a zip bomb', zipBomb()],
    ['a GIF', Buffer.from('R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7', 'base64')],
    ['text', Buffer.from('just words')],
    ['zeros', Buffer.alloc(5000)],
  ])('is refused by its content, whatever it is called: %s', async (_what, buffer) => {
    await refused(buffer, /can&#39;t be kept here. Send a photo/);
  });

  // ISO/IEC 23008-12, 10.2 and B.4: the brands of single photos and of bursts; nothing but a name inside.
  it.each([
    ['heic', /damaged or too large to show/],
    ['heix', /damaged or too large to show/],
    ['mif1', /damaged or too large to show/],
    ['hevc', /This is a moving HEIC photo.*Send it as JPEG: set the phone’s camera/],
    ['msf1', /This is a moving HEIC photo.*Send it as JPEG: set the phone’s camera/],
  ])('says what is wrong with a HEIC file of one name only (%s)', async (brand, words) => {
    const heic = Buffer.concat([
      Buffer.from([0, 0, 0, 24]),
      Buffer.from(`ftyp${brand}\0\0\0\0mif1heic`, 'latin1'),
      Buffer.alloc(200),
    ]);
    // Phones name them .jpg, too, and say so.
    await refused(heic, words, 'IMG_0001.jpg');
  });

  it('is refused when it is empty', () => refused(Buffer.alloc(0), /The file is empty/));
});

describe('pictures that are not what they say', () => {
  it('refuses a picture of 900 megapixels in some kilobytes', async () => {
    const bomb = pngBomb(30_000);
    expect(bomb.length).toBeLessThan(300_000);
    await refused(bomb, /damaged or too large to show/, 'bomb.png', 'image/png');
  });

  it('refuses a picture cut off in the middle', async () => {
    const { buffer } = await testPhoto(7);
    await refused(buffer.subarray(0, buffer.length / 2), /damaged or too large/);
  });

  it('refuses a head without a picture', async () => {
    await refused(Buffer.from('ffd8ffe000104a46494600010100000100010000', 'hex'), /damaged or too large/);
  });

  it('refuses a PDF without its end', async () => {
    const { buffer } = testPdf();
    await refused(buffer.subarray(0, buffer.length - 10), /cut off or damaged/, 'a.pdf', 'application/pdf');
  });

  it('refuses what is larger than the limit, and says the limit', async () => {
    const { buffer } = testPdf();
    const large = Buffer.concat([buffer, Buffer.alloc(2 * 1024 * 1024), Buffer.from('%%EOF')]);
    await refused(large, /larger than 2 MB/, 'a.pdf', 'application/pdf');
  });

  it('serves a photo with a page behind it as what it was taken for: a download, never sniffed', async () => {
    const { buffer } = await testPhoto(9);
    const both = Buffer.concat([buffer, Buffer.from('<script>alert(1)</script>'), testPdf().buffer]);
    expect((await house.send(file('both.html', both, 'text/html'))).statusCode).toBe(303);
    const url = `/projects/${house.projectId}/attachments/${await house.attachmentId()}`;
    const served = await house.contractor.get(url);
    expect(served.headers['content-type']).toBe('image/jpeg');
    expect(served.headers['x-content-type-options']).toBe('nosniff');
    expect(served.headers['content-disposition']).toBe(
      `attachment; filename="${sha256Of(both).slice(0, 12)}.jpg"`,
    );
    expect(served.headers['content-security-policy']).toContain("default-src 'none'");
    const preview = await house.contractor.get(`${url}/preview/320`);
    expect(preview.headers['content-type']).toBe('image/webp');
    expect(preview.rawPayload.includes('script')).toBe(false);
  });
});

describe('names', () => {
  it.each([
    ['../../../etc/passwd', 'passwd'],
    ['..\\..\\windows\\system.ini', 'system.ini'],
    ['/absolute/plan.jpg', 'plan.jpg'],
    ['null\0byte.jpg', 'nullbyte.jpg'],
    ['turned\u202egpj.exe', 'turnedgpj.exe'],
    ['  ', 'unnamed'],
    ['x'.repeat(3000), 'x'.repeat(200)],
  ])('%j is only ever shown', async (name, shown) => {
    const { buffer } = await testPhoto(20);
    expect((await house.send(file(name, buffer))).statusCode).toBe(303);
    const row = await house.test.deps.prisma.attachment.findFirstOrThrow({ orderBy: { uploadedAt: 'desc' } });
    expect(row.originalName).toBe(shown);
    expect((await house.kept()).blobs.every((blob) => /^[0-9a-f]{64}$/.test(blob))).toBe(true);
  });

  it('shows a name with markup in it as words', async () => {
    const { buffer } = await testPhoto(21);
    await house.send(file('<img src=x onerror=alert(1)>.jpg', buffer));
    const page = await house.contractor.get(`/projects/${house.projectId}/openings/${house.openingId}`);
    expect(page.statusCode).toBe(200);
    expect(page.body).not.toContain('<img src=x');
  });

  it('takes no null byte in a caption and no foreign way back', async () => {
    const { buffer } = await testPhoto(22);
    for (const back of ['//example.org/', `/projects/${house.projectId}/\r\nSet-Cookie: a=b`, '\0']) {
      const answer = await house.contractor.upload(
        `/projects/${house.projectId}/attachments`,
        { subject: 'opening', subjectId: house.openingId, caption: 'a\0b', back },
        [{ field: 'file', ...file('p.jpg', buffer) }],
      );
      expect(answer.statusCode).toBe(303);
      expect(answer.headers.location).toBe(`/projects/${house.projectId}`);
      expect(answer.headers['set-cookie']).not.toContain('a=b');
    }
  });

  it('gives 404 for ids that are paths', async () => {
    for (const id of ['..%2f..%2fetc%2fpasswd', '%00', 'a'.repeat(64), '../secret']) {
      const answer = await house.contractor.get(`/projects/${house.projectId}/attachments/${id}`);
      expect(answer.statusCode).toBe(404);
    }
  });
});

describe('forms', () => {
  it('refuses a file without a token before it reads it', async () => {
    const { buffer } = await testPhoto(30);
    rowsBefore = (await house.kept()).rows;
    const body = Buffer.concat([
      Buffer.from('--b\r\nContent-Disposition: form-data; name="file"; filename="a.jpg"\r\n\r\n'),
      buffer,
      Buffer.from('\r\n--b--\r\n'),
    ]);
    const answer = await house.test.app.inject({
      method: 'POST',
      url: `/projects/${house.projectId}/attachments`,
      headers: { 'content-type': 'multipart/form-data; boundary=b', cookie: house.contractor.cookies() },
      payload: body,
    });
    expect(answer.statusCode).toBe(403);
    expect((await house.kept()).rows).toBe(rowsBefore);
  });

  it('refuses a file for something of another project', async () => {
    const { buffer } = await testPhoto(31);
    const before = (await house.kept()).rows;
    const answer = await house.contractor.upload(
      `/projects/${house.projectId}/attachments`,
      { subject: 'opening', subjectId: '00000000-0000-4000-8000-000000000000', caption: '', back: '' },
      [{ field: 'file', ...file('p.jpg', buffer) }],
    );
    expect(answer.statusCode).toBe(404);
    expect((await house.kept()).rows).toBe(before);
  });

  it('keeps all files of a form or none', async () => {
    const good = await testPhoto(32);
    const before = await house.kept();
    const answer = await house.send(good, file('bad.jpg', Buffer.from('no photo')));
    expect(answer.statusCode).toBe(422);
    expect(await house.kept()).toEqual(before);
  });

  it('stores the same file once and names it twice', async () => {
    const photo = await testPhoto(33);
    const before = await house.kept();
    expect((await house.send(photo, photo)).statusCode).toBe(303);
    const after = await house.kept();
    expect(after.rows - before.rows).toBe(2);
    expect(after.blobs.length - before.blobs.length).toBe(1);
  });

  it('refuses more than twenty files at once', async () => {
    const photo = await testPhoto(34);
    const before = await house.kept();
    const answer = await house.send(...Array.from({ length: 21 }, () => photo));
    expect(answer.statusCode).toBe(413);
    expect(await house.kept()).toEqual(before);
  });
});
