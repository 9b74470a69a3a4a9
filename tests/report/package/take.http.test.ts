import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { verifyPackage } from '../../../src/report/package/verify.ts';
import { openPackage } from '../../../src/report/package/unpack.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { testPhoto } from '../../support/test-files.ts';

let site: Site;
let folder: string;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
  folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-take-'));
});
afterAll(async () => {
  await site.test.close();
  await rm(folder, { recursive: true, force: true });
});

it('gives the whole record to contractor and engineer as a ZIP that verifies', async () => {
  for (const person of [site.contractor, site.engineer]) {
    const link = `${site.inProject}/record.zip`;
    expect((await person.get(site.inProject)).body).toContain(`href="${link}"`);
    const { statusCode, headers, rawPayload } = await person.get(link);
    expect(statusCode).toBe(200);
    expect(headers['content-type']).toBe('application/zip');
    expect(headers['content-disposition']).toMatch(/^attachment; filename="record-\d{4}-\d\d-\d\d\.zip"$/);
    expect(headers['x-content-type-options']).toBe('nosniff');
    const file = path.join(folder, `${person.name}.zip`);
    await writeFile(file, rawPayload);
    await verifyPackage(file);
    const opened = await openPackage(file);
    try {
      expect(opened.manifest.projectId).toBe(site.projectId);
      expect([...opened.names]).toEqual(
        expect.arrayContaining([
          'papers/opening-1-calculation-of-set-1.pdf',
          'papers/opening-1-drawings-of-set-1.pdf',
          'papers/opening-1-fastener-schedule-of-set-1.pdf',
          'papers/opening-1-checklist-of-set-1.pdf',
          'papers/opening-1-owner-summary.pdf',
        ]),
      );
    } finally {
      opened.close();
    }
  }
});

it('is not there for anybody else', async () => {
  const link = `${site.inProject}/record.zip`;
  for (const person of [site.inspector, site.owner]) {
    expect((await person.get(site.inProject)).body).not.toContain('record.zip');
    expect((await person.get(link)).statusCode).toBe(403);
  }
  const stranger = await site.test.person('Somebody');
  expect((await stranger.get(link)).statusCode).toBe(404);
  expect((await site.test.visitor().get(link)).statusCode).toBe(303);
});

it('is never a whole one where a file of the record is damaged', async () => {
  const { prisma } = site.test.deps;
  const { buffer } = await testPhoto(3);
  const sent = await site.contractor.upload(
    `${site.inProject}/attachments`,
    { subject: 'project', subjectId: site.projectId, caption: '', back: site.inProject },
    [{ field: 'file', name: 'a.jpg', mimeType: 'image/jpeg', buffer }],
  );
  expect(sent.statusCode).toBe(303);
  const row = await prisma.attachment.findFirst({ select: { sha256: true } });
  expect(row).not.toBeNull();
  const blob = path.join(
    site.test.deps.config.dataFolder,
    'files',
    'blobs',
    row!.sha256.slice(0, 2),
    row!.sha256,
  );
  await writeFile(blob, 'other bytes');
  const file = path.join(folder, 'broken.zip');
  const answer = await site.engineer.get(`${site.inProject}/record.zip`).catch(() => null);
  if (answer === null) return;
  await writeFile(file, answer.rawPayload);
  await expect(verifyPackage(file)).rejects.toThrow();
});
