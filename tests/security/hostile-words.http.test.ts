import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lettersOf } from '../../src/notify/mail/letters.ts';
import { guardCell, writeRecords } from '../../src/engineering/fasteners/schedule/csv-text.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { readPdf } from '../report/support/read-pdf.ts';
import { linksOf, patternOf } from '../support/crawl/page-source.ts';
import { testAppSecret, type Client } from '../support/app.ts';
import { testPdf } from '../support/test-files.ts';

/** Words that a template, a page or a spreadsheet would run, wherever people may write. */
const hostile = 'zq{{7*7}}{%x%}<script>alert(1)</script><img src=x onerror=alert(1)>"qz';
let site: Site;
let people: readonly Client[];

beforeAll(async () => {
  // As in production: templates are compiled once.
  site = await buildSite({ NODE_ENV: 'production' });
  const { prisma } = site.test.deps;
  people = [site.contractor, site.engineer, site.inspector, site.owner];
  // By their forms, as people do: what a form refuses of it does not get in.
  const { contractor, inProject, inOpening } = site;
  const edited = await contractor.post(`${inProject}/edit`, {
    name: hostile,
    address: hostile,
    jurisdiction: hostile,
    permitNumber: hostile.slice(0, 40),
  });
  expect(edited.statusCode).toBe(303);
  await contractor.upload(
    `${inProject}/attachments`,
    { subject: 'opening', subjectId: site.openingId, caption: hostile, back: inOpening },
    [{ field: 'file', ...testPdf(), name: `${hostile.replaceAll('"', '')}.pdf` }],
  );
  await contractor.post(`${inOpening}/owner-words`, {
    word: 'question',
    about: 'other',
    text: hostile,
    key: 'w1',
  });
  await contractor.post(`${inOpening}/salvage`, { what: hostile, key: 's1' });
  await prisma.person.updateMany({ data: { name: hostile } });
  await prisma.opening.updateMany({ data: { name: hostile } });
  await site.issue();
  await contractor.post(`${inProject}/items/${site.items.Beam ?? ''}/questions`, {
    text: hostile,
    key: 'q1',
  });
  await site.inspector.post(`${inOpening}/visits`, { kind: 'framing' });
});
afterAll(() => site.test.close());

describe('hostile words', () => {
  it('are words on every page that shows them', async () => {
    const wrong: string[] = [];
    let shown = 0;
    for (const [index, one] of people.entries()) {
      const queue = ['/', '/account', '/account/tokens'];
      const known = new Set(queue);
      const patterns = new Map<string, number>();
      for (let url = queue.shift(); url !== undefined; url = queue.shift()) {
        const pattern = patternOf(url);
        const met = patterns.get(pattern) ?? 0;
        if (met >= 2) continue;
        patterns.set(pattern, met + 1);
        const answer = await one.get(url);
        if (!String(answer.headers['content-type']).startsWith('text/html')) continue;
        const { body } = answer;
        if (body.includes('zq{{7*7}}')) shown += 1;
        if (/zq49|\$\{49\}|<script>alert|<img src=x|onerror=alert\(1\)>"/.test(body))
          wrong.push(`${index} ${url}`);
        for (const link of linksOf(body)) {
          const target = new URL(link, `http://here${url}`);
          const path = target.pathname + target.search;
          if (target.host !== 'here' || known.has(path) || path.includes('sign-out')) continue;
          known.add(path);
          queue.push(path);
        }
      }
    }
    expect(wrong).toEqual([]);
    expect(shown).toBeGreaterThan(60);
  }, 120_000);

  it('are words on paper', async () => {
    const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow();
    const papers = [
      `${site.inOpening}/progress.pdf`,
      `${site.inProject}/sets/${set.id}/checklist.pdf`,
      `${site.inProject}/sets/${set.id}/schedule.pdf`,
    ];
    for (const url of papers) {
      const answer = await site.contractor.get(url);
      expect(answer.statusCode, url).toBe(200);
      const raw = answer.rawPayload;
      const { text } = await readPdf(raw);
      expect(text.replace(/\s+/g, ''), url).toContain('zq{{7*7}}{%x%}');
      // Nothing that a reader would run.
      expect(raw.toString('latin1')).not.toMatch(/\/JavaScript|\/JS |\/OpenAction|\/Launch|\/EmbeddedFile/);
    }
  });

  it('are words in drawings', async () => {
    const answer = await site.contractor.get(`${site.inOpening}/drawings`);
    expect(answer.body).not.toMatch(/zq49|<script>alert|<img src=x/);
  });

  it('are words in letters', async () => {
    const { prisma } = site.test.deps;
    await site.contractor.post(`${site.inProject}/invitations`, {
      role: 'owner',
      label: hostile.slice(0, 80),
      email: 'new@example.org',
    });
    const letter = await prisma.letter.findFirstOrThrow({ where: { kind: 'invitation' } });
    const words = await lettersOf({ ...site.test.deps, secret: testAppSecret })(letter);
    expect(words).not.toBeNull();
    const { text, html, subject } = words!;
    expect(text).toContain('zq{{7*7}}');
    expect(html).toContain('zq{{7*7}}');
    expect(`${text}${html}${subject}`).not.toMatch(/zq49|\$\{49\}/);
    expect(html).not.toMatch(/<script>alert|<img src=x/);
    expect(subject).not.toMatch(/[\r\n]/);
  });

  it('are text in every cell of a spreadsheet', async () => {
    for (const start of ['=', '+', '-', '@', '\t', '\r', '\n']) {
      expect(guardCell(`${start}cmd|' /C calc'!A0`)).toBe(`'${start}cmd|' /C calc'!A0`);
    }
    expect(guardCell('-12.5')).toBe('-12.5');
    expect(writeRecords([['=1+1', 'a"b', 'c\r\nd']])).toBe(`'=1+1,"a""b","c\r\nd"\r\n`);
    for (const url of [
      `${site.inOpening}/schedule.csv`,
      `${site.inOpening}/materials.csv`,
      `${site.inProject}/materials.csv`,
    ]) {
      const answer = await site.contractor.get(url);
      expect(answer.statusCode, url).toBe(200);
      expect(answer.headers['content-type']).toMatch(/^text\/csv; ?charset=utf-8/);
      expect(answer.headers['content-disposition']).toMatch(/^attachment; filename="[\w.-]+\.csv"$/);
      // No cell begins as a formula does; a figure may be negative.
      expect(answer.body).not.toMatch(/(?:^|[,\n])"?[=@\t+]/m);
    }
  });
});
