import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildHouse, type House } from '../attachments/support/house.ts';
import { testPdf, testPhoto } from '../support/test-files.ts';

/** Files that would run if a browser took them for a page, and names that would break a header. */
let house: House;
beforeAll(async () => {
  house = await buildHouse();
});
afterAll(() => house.test.close());

const script = '<script>alert(document.domain)</script>';
const svgs = [
  `<svg xmlns="http://www.w3.org/2000/svg">${script}</svg>`,
  `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg xmlns="http://www.w3.org/2000/svg"><text>&x;</text></svg>`,
  `\uFEFF\n<!-- --><svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`,
];

describe('a file that would run', () => {
  it('takes no SVG, whatever it calls itself', async () => {
    for (const svg of svgs) {
      for (const [name, mimeType] of [
        ['a.svg', 'image/svg+xml'],
        ['a.jpg', 'image/jpeg'],
        ['a.pdf', 'application/pdf'],
        ['a.png', 'image/png'],
      ] as const) {
        const before = await house.kept();
        const answer = await house.send({ name, mimeType, buffer: Buffer.from(svg) });
        expect(answer.statusCode).toBe(422);
        expect(answer.body).not.toContain('root:');
        expect(await house.kept()).toEqual(before);
      }
    }
  });

  it('a PDF with script comes back as a download in a sandbox', async () => {
    const plain = testPdf().buffer.toString('latin1');
    const active = Buffer.from(
      plain.replace(
        '/Type /Catalog',
        '/Type /Catalog /OpenAction << /S /JavaScript /JS (app.alert\\(1\\)) >>',
      ),
      'latin1',
    );
    const sent = await house.send({ name: 'plan.pdf', mimeType: 'application/pdf', buffer: active });
    expect([303, 422]).toContain(sent.statusCode);
    const kept = sent.statusCode === 303 ? sent : await house.send(testPdf());
    expect(kept.statusCode).toBe(303);
    const { id, projectId } = await house.test.deps.prisma.attachment.findFirstOrThrow({
      where: { mediaType: 'application/pdf' },
    });
    const answer = await house.contractor.get(`/projects/${projectId}/attachments/${id}`);
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['content-disposition']).toMatch(/^attachment; filename="[0-9a-f]{12}\.pdf"$/);
    expect(answer.headers['content-security-policy']).toMatch(/default-src 'none'.*sandbox$/);
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
    // What is looked at inside a page is a picture drawn from it.
    const preview = await house.contractor.get(`/projects/${projectId}/attachments/${id}/preview/1280`);
    expect(preview.headers['content-type']).toBe('image/webp');
  });

  it('no name of a file gets into a header', async () => {
    const names = [
      'a%0d%0aSet-Cookie: x=y.jpg',
      "x\"; filename*=UTF-8''evil.html",
      '../../../../etc/cron.d/x',
      '..\\..\\x.exe',
      'a\u202egpj.exe',
      '<img src=x onerror=alert(1)>.jpg',
      `${'n'.repeat(5000)}.jpg`,
      'CON',
      '.htaccess',
    ];
    for (const [number, name] of names.entries()) {
      const photo = await testPhoto(20 + number * 9);
      const sent = await house.send({
        name,
        mimeType: 'image/jpeg',
        buffer: photo.buffer,
      });
      expect(sent.headers['set-cookie']?.toString() ?? '').not.toContain('x=y');
      expect([303, 422]).toContain(sent.statusCode);
    }
    const rows = await house.test.deps.prisma.attachment.findMany({ where: { mediaType: 'image/jpeg' } });
    expect(rows.length).toBeGreaterThan(3);
    for (const { id, projectId, sha256 } of rows) {
      const answer = await house.contractor.get(`/projects/${projectId}/attachments/${id}`);
      expect(answer.headers['content-disposition']).toBe(`attachment; filename="${sha256.slice(0, 12)}.jpg"`);
      expect(JSON.stringify(answer.headers)).not.toMatch(/evil|cron|Set-Cookie: x|htaccess/);
    }
  });
});
