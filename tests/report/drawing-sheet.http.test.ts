import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings, demoSurvey } from '../../src/demo/cinder-ferry.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { readPdf } from './support/read-pdf.ts';

const LONG = `left cross wall <b>room</b> & face ${'of a very long wall '.repeat(4)}`.slice(0, 120);
let site: Site;
const urls: string[] = [];
beforeAll(async () => {
  site = await buildSite();
  for (const content of demoFootings)
    await site.add('footing', content.end, `Footing ${content.end}`, content);
  await site.issue();
  await site.change('Survey', { ...demoSurvey, datum: LONG });
  // What rests on the survey is out of date now, and is not of the next set.
  await site.change('Footing left', { ...demoFootings[0], foundThicknessIn: 10 });
  await site.issue();
  const sets = await site.test.deps.prisma.approvedSet.findMany({ orderBy: { number: 'asc' } });
  urls.push(...sets.map(({ id }) => `${site.inProject}/sets/${id}/drawings.pdf`));
});
afterAll(() => site.test.close());

async function sheets(url: string, query = '') {
  const answer = await site.owner.get(`${url}${query}`);
  expect(answer.statusCode).toBe(200);
  return { answer, pdf: await readPdf(answer.rawPayload) };
}

describe('the drawing sheets of a set', () => {
  it('are lying pages with set, hash, page x of y and that they are no seal on every one', async () => {
    const { answer, pdf } = await sheets(urls[0]!);
    expect(answer.headers['content-type']).toBe('application/pdf');
    expect(answer.headers['content-disposition']).toBe('inline; filename="drawings-opening-1-set-1.pdf"');
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
    expect(answer.rawPayload.length).toBeLessThan(1_000_000);
    expect(pdf.size).toEqual([792, 612]);
    const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow({ where: { number: 1 } });
    pdf.pages.forEach((page, at) => {
      expect(page).toContain(`Page ${at + 1} of ${pdf.pages.length}`);
      expect(page).toContain('Approved set 1');
      expect(page).toContain(`Hash ${set.hash.slice(0, 16)}`);
      expect(page).toContain('Record of review. Not a sealed document.');
    });
    expect(pdf.fonts.length).toBeGreaterThan(0);
    expect(pdf.missingFonts).toEqual([]);
  });

  it('hold elevation, sections, marks, patterns, notes and revisions', async () => {
    const { pdf } = await sheets(urls[0]!);
    for (const words of [
      'Elevation of the opening',
      'Marks to lay out',
      'Section at the left support',
      'Section at the right support',
      'Nailing and fastening patterns',
      'Notes',
      'Revisions',
      'First set',
      `10'-10" clear`,
    ])
      expect(pdf.text).toContain(words);
  });

  it('are to scale: the bar measures on paper what it says', async () => {
    for (const [query, size] of [
      ['', [792, 612]],
      ['?paper=tabloid', [1224, 792]],
      ['?paper=a4', [841.89, 595.28]],
    ] as const) {
      const { pdf } = await sheets(urls[0]!, query);
      expect(pdf.size[0]).toBeCloseTo(size[0], 1);
      expect(pdf.size[1]).toBeCloseTo(size[1], 1);
      const [first = []] = pdf.placed;
      const scale = first.find(({ text }) => text.startsWith('Scale '))?.text ?? '';
      const [, whole = '0', , up = '0', down = '1'] =
        /^Scale (\d+)?( ?(\d+)\/(\d+))?" = 1'-0"$/.exec(scale) ?? [];
      const inchesPerFoot = Number(whole) + Number(up) / Number(down);
      expect(inchesPerFoot).toBeGreaterThan(0);
      const middle = (one: { x: number; width: number }) => one.x + one.width / 2;
      const zero = first.find(({ text }) => text === '0')!;
      const end = first.filter(({ text, y }) => /^\d+'$/.test(text) && Math.abs(y - zero.y) < 0.5).at(-1)!;
      const paperIn = (middle(end) - middle(zero)) / 72;
      expect(paperIn).toBeCloseTo(Number.parseInt(end.text, 10) * inchesPerFoot, 2);
    }
  });

  it('flag a superseded set on every sheet, and tell revisions only up to their own', async () => {
    const { pdf } = await sheets(urls[0]!);
    for (const page of pdf.pages) expect(page).toContain('Superseded: set 2 is in force.');
    expect(pdf.text).not.toContain('version 1 to 2');
    const { pdf: second } = await sheets(urls[1]!);
    expect(second.text).not.toContain('Superseded');
    expect(second.text).toContain('First set');
  });

  it('write words of people as words, and keep long ones on the sheet', async () => {
    const { pdf } = await sheets(urls[1]!);
    expect(pdf.text).toContain('<b>room</b> & face');
    const [width] = pdf.size;
    for (const page of pdf.placed)
      for (const { text, x, width: long } of page)
        if (text.trim() !== '') expect(x + long, text).toBeLessThan(width);
  });

  it('are nobody else’s', async () => {
    const stranger = await site.test.person('Somebody');
    expect((await stranger.get(urls[0]!)).statusCode).toBe(404);
    expect((await site.test.visitor().get(urls[0]!)).statusCode).toBe(303);
  });
});
