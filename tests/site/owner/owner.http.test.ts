import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createItem } from '../../../src/record/items/create.ts';
import { drawingPdf } from '../../attachments/support/drawings.ts';
import { sha256Of } from '../../attachments/support/hostile-files.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { testPhoto } from '../../support/test-files.ts';
import type { Client } from '../../support/app.ts';
import { jargonIn } from './jargon.ts';
import { readPdf } from '../../report/support/read-pdf.ts';

let site: Site;
let page = '';
let drawing = '';
let drawn: Buffer;

async function send(
  file: { name: string; mimeType: string; buffer: Buffer },
  caption: string,
): Promise<string> {
  const { contractor, inProject, openingId } = site;
  const fields = { subject: 'opening', subjectId: openingId, caption, back: '' };
  const answer = await contractor.upload(`${inProject}/attachments`, fields, [{ field: 'file', ...file }]);
  expect(answer.statusCode).toBe(303);
  const row = await site.test.deps.prisma.attachment.findFirstOrThrow({ orderBy: { uploadedAt: 'desc' } });
  return row.id;
}

const mainOf = (html: string) => {
  const main = /<main[\s\S]*<\/main>/.exec(html)?.[0] ?? '';
  return main.replace(/<nav[\s\S]*?<\/nav>/g, '').replace(/<[^>]+>/g, ' ');
};
const seen = async (client: Client) => (await client.get(page)).body;
const say = (client: Client, fields: Record<string, string>) =>
  client.post(`${site.inOpening}/owner-words`, fields);

beforeAll(async () => {
  site = await buildSite();
  page = `${site.inOpening}/progress`;
  drawn = drawingPdf(['Plan of the room']);
  drawing = await send({ name: 'p.pdf', mimeType: 'application/pdf', buffer: drawn }, 'Unshared');
  await createItem(site.test.deps, site.actor(site.contractor, 'contractor'), {
    openingId: site.openingId,
    kind: 'drawing',
    key: 'A-101',
    title: 'Drawing A-101',
    content: {
      name: 'Plan of the room',
      revision: 'A',
      drawnOn: '2026-11-20',
      issuedBy: 'The engineer',
      sha256: sha256Of(drawn),
    },
  });
});
afterAll(() => site.test.close());

describe('before a plan is approved', () => {
  it('shows no draft and no drawing, and says that nothing may come out', async () => {
    const html = await seen(site.owner);
    expect(html).toContain('nothing is to be taken out of it');
    expect(html).not.toContain('Plan of the room');
    expect((await site.owner.get(`${site.inProject}/attachments/${drawing}`)).statusCode).toBe(404);
  });
});

describe('once the plan is approved', () => {
  beforeAll(async () => {
    await site.issue();
    const { inspector, inOpening } = site;
    const begun = await inspector.post(`${inOpening}/visits`, { kind: 'framing' });
    const closed = await inspector.post(`${String(begun.headers.location)}/closing`, {
      outcome: 'not_ready',
      summary: 'Private words on jack studs',
      signedName: 'In Spector',
    });
    expect(closed.statusCode).toBe(303);
  });

  it('tells how far it is in plain words', async () => {
    const html = await seen(site.owner);
    expect(html).toContain('Plan number 1 is in force');
    expect(html).toContain('The work was not ready to be looked at yet.');
    expect(html).toContain('It waits on the inspector.');
    expect(jargonIn(mainOf(html))).toEqual([]);
  });

  it('shows the approved drawings, and lets the owner open them', async () => {
    expect(await seen(site.owner)).toContain(`/attachments/${drawing}/sheet">Plan of the room</a>, issue A`);
    const file = await site.owner.get(`${site.inProject}/attachments/${drawing}`);
    expect(file.rawPayload.equals(drawn)).toBe(true);
  });

  it('shows no notes, reasons, hashes or names of the trades', async () => {
    const html = mainOf(await seen(site.owner));
    for (const word of ['Private words', 'In Spector', 'Con Tractor', 'Unshared', 'psf', '$']) {
      expect(html).not.toContain(word);
    }
    expect(html).not.toMatch(/[0-9a-f]{12}/);
  });
});

describe('questions and decisions', () => {
  it('go between owner and contractor and to nobody else', async () => {
    expect((await say(site.owner, { text: 'When may we <b>wallpaper</b>?' })).statusCode).toBe(303);
    expect((await say(site.owner, { text: 'When may we <b>wallpaper</b>?' })).statusCode).toBe(303);
    expect((await say(site.contractor, { text: 'White or grey posts?' })).statusCode).toBe(303);
    const { prisma } = site.test.deps;
    // A double tap is one question.
    expect(await prisma.ownerWord.count()).toBe(2);
    const html = await seen(site.owner);
    expect(html).toContain('When may we &lt;b&gt;wallpaper&lt;/b&gt;?');
    expect(html).toMatch(/What needs your decision[\s\S]*White or grey posts\?[\s\S]*It waits on you/);
    expect(await seen(site.contractor)).toMatch(/The owner’s questions[\s\S]*It waits on you/);
    // Whoever is awaited has it on the first page, and nobody else.
    expect((await site.owner.get('/')).body).toMatch(
      /What needs your decision: 1[\s\S]*White or grey posts\?/,
    );
    expect((await site.contractor.get('/')).body).toMatch(/The owner asks: 1[\s\S]*When may we/);
    for (const other of [site.engineer, site.inspector]) {
      const theirs = await seen(other);
      expect(theirs).toContain('How far it is');
      expect(theirs).not.toContain('posts?');
      expect(theirs).not.toContain('wallpaper');
      expect((await other.get('/')).body).not.toMatch(/posts\?|wallpaper/);
      expect((await say(other, { text: 'I, too' })).statusCode).toBe(403);
      expect((await other.get(`${site.inProject}/log`)).body).not.toContain('posts?');
    }
    // What is to be decided is on the paper of the two, and on nobody else's.
    const paper = async (client: Client) =>
      (await readPdf((await client.get(`${site.inOpening}/progress.pdf`)).rawPayload)).text;
    expect((await paper(site.owner)).replace(/\s+/g, ' ')).toMatch(
      /What the owner decides .*White or grey posts\? It waits on the owner\..*Is it safe\?/,
    );
    expect(await paper(site.engineer)).not.toMatch(/posts\?|owner decides/);
    const question = await prisma.ownerWord.findFirstOrThrow({ where: { byRole: 'owner' } });
    expect((await say(site.contractor, { threadId: question.id, text: 'In two weeks.' })).statusCode).toBe(
      303,
    );
    expect(await seen(site.owner)).toContain('In two weeks.');
    expect(await seen(site.contractor)).not.toMatch(/The owner’s questions[\s\S]*It waits on you/);
    expect((await site.contractor.get('/')).body).not.toContain('The owner asks');
    const asked = await prisma.ownerWord.findFirstOrThrow({
      where: { byRole: 'contractor', threadId: null },
    });
    expect((await say(site.owner, { threadId: asked.id, text: 'Grey.' })).statusCode).toBe(303);
    expect(await seen(site.owner)).toMatch(
      /What needs your decision<[\s\S]*Nothing now\.[\s\S]*What you decided<[\s\S]*Grey\.[\s\S]*Is it safe\?/,
    );
    expect(await seen(site.contractor)).toMatch(/What the owner decided<[\s\S]*Grey\./);
    expect((await paper(site.owner)).replace(/\s+/g, ' ')).toMatch(/What the owner decides .*Grey\./);
  });

  it('come back with what is missing, and find no thread of elsewhere', async () => {
    const empty = await say(site.owner, { text: '  ' });
    expect(empty.statusCode).toBe(422);
    expect(empty.body).toContain('Write something first.');
    const long = await say(site.owner, { text: 'x'.repeat(4001) });
    expect([long.statusCode, long.body.includes('x'.repeat(4001))]).toEqual([422, true]);
    const nowhere = '00000000-0000-4000-8000-000000000000';
    expect((await say(site.owner, { threadId: nowhere, text: 'a' })).statusCode).toBe(404);
  });

  it('are never changed', async () => {
    const { prisma } = site.test.deps;
    await expect(prisma.ownerWord.updateMany({ data: { text: 'other' } })).rejects.toThrow();
    await expect(prisma.ownerWord.deleteMany()).rejects.toThrow();
  });
});

describe('a link for the family', () => {
  let link = '';
  let shared = '';
  let held = '';
  const make = async (label: string) => {
    const answer = await site.owner.post(`${site.inOpening}/family-links`, { label });
    return /value="[^"]*(\/shared\/[A-Za-z0-9_-]{32})"/.exec(answer.body)?.[1] ?? '';
  };
  const open = (url: string) => site.test.visitor().get(url);
  beforeAll(async () => {
    const gps = { GPSLatitudeRef: 'N', GPSLatitude: '44/1 30/1 0/1' };
    const photo = await sharp({ create: { width: 60, height: 40, channels: 3, background: '#225577' } })
      .withExif({ IFD0: { Model: 'Secret camera' }, IFD3: gps })
      .jpeg()
      .toBuffer();
    shared = await send({ name: 'a.jpg', mimeType: 'image/jpeg', buffer: photo }, 'The room today');
    held = await send(await testPhoto(5), 'Not for you');
    await site.contractor.post(`${site.inProject}/attachments/${shared}/share`, { shared: 'yes', back: '' });
    link = await make('Aunt');
    expect(link).not.toBe('');
  });

  it('is the owner’s to make, and kept only as a hash', async () => {
    const rows = await site.test.deps.prisma.familyLink.findMany();
    expect(JSON.stringify(rows)).not.toContain(link.split('/').at(-1));
    for (const other of [site.contractor, site.engineer, site.inspector]) {
      expect((await other.post(`${site.inOpening}/family-links`, { label: 'x' })).statusCode).toBe(403);
    }
    expect((await site.owner.post(`${site.inOpening}/family-links`, { label: '' })).statusCode).toBe(422);
    // Shown once.
    expect(await seen(site.owner)).not.toContain(link);
  });

  it('shows how far it is and the shared photos, and nothing of people, places, words and files', async () => {
    const answer = await open(link);
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['x-robots-tag']).toContain('noindex');
    expect(answer.headers['referrer-policy']).toBe('no-referrer');
    expect(answer.headers['cache-control']).toContain('no-store');
    expect(answer.body).toContain('<meta name="robots" content="noindex');
    expect(answer.body).toContain('Plan number 1 is in force');
    expect(answer.body).toContain('The room today');
    for (const word of [
      'Slipway',
      'Den to box',
      'Con Tractor',
      'wallpaper',
      'posts?',
      'Not for you',
      '/projects/',
      'Aunt',
    ]) {
      expect(answer.body).not.toContain(word);
    }
    expect(jargonIn(mainOf(answer.body))).toEqual([]);
  });

  it('shows the photos drawn anew, and none that is not shared', async () => {
    const photo = await open(`${link}/photos/${shared}`);
    expect(photo.headers['content-type']).toBe('image/webp');
    expect((await sharp(photo.rawPayload).metadata()).exif).toBeUndefined();
    for (const id of [held, drawing, 'x', '..%2f']) {
      expect((await open(`${link}/photos/${id}`)).statusCode).toBe(404);
    }
  });

  it('shows a damaged photo as damaged', async () => {
    const { prisma, config } = site.test.deps;
    const { sha256 } = await prisma.attachment.findUniqueOrThrow({ where: { id: shared } });
    const place = path.resolve(config.dataFolder, 'files/blobs', sha256.slice(0, 2), sha256);
    const bytes = await readFile(place);
    await writeFile(place, Buffer.concat([bytes.subarray(0, -1), Buffer.from([bytes.at(-1)! ^ 1])]));
    const answer = await open(`${link}/photos/${shared}`);
    expect([answer.statusCode, answer.body.includes('Hash failure')]).toEqual([500, true]);
    await writeFile(place, bytes);
  });

  it('leads nowhere once it is taken back, expired, guessed, or its owner has left', async () => {
    const { prisma } = site.test.deps;
    expect((await open('/shared/' + 'A'.repeat(32))).statusCode).toBe(404);
    const row = await prisma.familyLink.findFirstOrThrow();
    const back = `${site.inOpening}/family-links/${row.id}/revocation`;
    expect((await site.contractor.post(back)).statusCode).toBe(403);
    expect((await site.owner.post(back)).statusCode).toBe(303);
    expect((await open(link)).statusCode).toBe(404);
    expect((await open(`${link}/photos/${shared}`)).statusCode).toBe(404);
    expect((await site.owner.post(back)).statusCode).toBe(404);

    const second = await make('Uncle');
    expect((await open(second)).statusCode).toBe(200);
    await prisma.familyLink.updateMany({ where: { revokedAt: null }, data: { expiresAt: new Date() } });
    expect((await open(second)).statusCode).toBe(404);

    const third = await make('Cousin');
    expect((await open(third)).statusCode).toBe(200);
    await prisma.membership.updateMany({
      where: { personId: site.owner.personId },
      data: { revokedAt: new Date() },
    });
    expect((await open(third)).statusCode).toBe(404);
  });
});
