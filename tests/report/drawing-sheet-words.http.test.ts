import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings, demoRows, demoSurvey } from '../../src/demo/cinder-ferry.ts';
import { editProject } from '../../src/record/projects/service.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { readPdf, type PlacedText, type ReadPdf } from './support/read-pdf.ts';

/** How the sheets hold the longest words that the forms take: where each stands, as an independent reader finds it. */

/** As long as the forms take them, in the scripts that people of a project may write in. */
const CYRILLIC = 'Перепланировка кухни и столовой: стена между ними, второй этаж, вход со двора №12'.slice(
  0,
  80,
);
const GREEK = 'Άνοιγμα ανάμεσα στην κουζίνα και στο καθιστικό, δίπλα στη σκάλα του ισογείου, β'.slice(0, 80);
const HEBREW = 'מהנדס הבניין של העיר החדשה';
const ONE_WORD = 'Perpendicularwallfacebehindthestaircaseandthechimney'.repeat(3).slice(0, 120);
const NOTE = 'Every hole filled, none split, and what is drawn is driven again beside it. '
  .repeat(5)
  .slice(0, 300);

let site: Site;
let pdf: ReadPdf;
beforeAll(async () => {
  site = await buildSite();
  const { deps } = site.test;
  await editProject(deps, site.actor(site.contractor, 'contractor'), {
    name: ONE_WORD.slice(0, 80),
    address: CYRILLIC,
    jurisdiction: GREEK,
    permitNumber: ONE_WORD.slice(0, 60),
  });
  // An opening's name is given once, with the first page of its record; here it is made as long as it may be.
  await deps.prisma.opening.update({ where: { id: site.openingId }, data: { name: GREEK } });
  await deps.prisma.person.update({ where: { id: site.engineer.personId }, data: { name: HEBREW } });
  await site.change('Survey', { ...demoSurvey, datum: ONE_WORD });
  for (const { title, content } of demoRows) {
    const members = content.members.map((member) => ({ ...member, name: ONE_WORD.slice(0, 60) }));
    await site.change(title, { ...content, members, where: CYRILLIC, note: NOTE });
  }
  for (const content of demoFootings)
    await site.add('footing', content.end, `${CYRILLIC} ${content.end}`, content);
  await site.issue();
  const set = await deps.prisma.approvedSet.findFirstOrThrow();
  const answer = await site.owner.get(`${site.inProject}/sets/${set.id}/drawings.pdf`);
  expect(answer.statusCode).toBe(200);
  pdf = await readPdf(answer.rawPayload);
});
afterAll(() => site.test.close());

/** The border of a sheet, and the line over its title block, points (src/report/pdf/title-block.ts). */
const EDGE = 26;
const BLOCK_TOP = EDGE + 66;
/** Letters may touch, not cover each other. */
const TOUCH = 1;

const written = (page: readonly PlacedText[]) => page.filter(({ text }) => text.trim() !== '');
const apart = (one: PlacedText, other: PlacedText) =>
  one.box.right <= other.box.left + TOUCH ||
  other.box.right <= one.box.left + TOUCH ||
  one.box.top <= other.box.bottom + TOUCH ||
  other.box.top <= one.box.bottom + TOUCH;

describe('long words on the drawing sheets of a set', () => {
  it('stay within the border of the sheet, and out of the line over its title block', () => {
    const [width, height] = pdf.size;
    const outside = pdf.placed.flatMap((page, at) =>
      written(page)
        .filter(
          ({ box }) =>
            box.left < EDGE - TOUCH ||
            box.right > width - EDGE + TOUCH ||
            box.bottom < EDGE - TOUCH ||
            box.top > height - EDGE + TOUCH ||
            (box.bottom < BLOCK_TOP - TOUCH && box.top > BLOCK_TOP + TOUCH),
        )
        .map(({ text, box }) => ({ page: at + 1, text, box })),
    );
    expect(outside).toEqual([]);
  });

  it('cover no other words', () => {
    const covered = pdf.placed.flatMap((page, at) => {
      const words = written(page);
      return words.flatMap((one, index) =>
        words
          .slice(index + 1)
          .filter((other) => !apart(one, other))
          .map((other) => ({ page: at + 1, one: one.text, other: other.text })),
      );
    });
    expect(covered).toEqual([]);
  });

  it('are all there, in every script, and each letter has its glyph', () => {
    const squeezed = pdf.text.replace(/[\s\u200b-]/g, '');
    for (const words of [CYRILLIC, GREEK, ONE_WORD]) {
      expect(squeezed).toContain(words.replace(/[\s\u200b-]/g, ''));
    }
    expect(pdf.missingFonts).toEqual([]);
    expect(pdf.text).not.toContain('\u0000');
  });

  it('written from right to left read as they were typed', () => {
    const typed = pdf.placed.flat().flatMap(({ text }) => text.split(/\s+/));
    for (const word of HEBREW.split(' ')) expect(typed).toContain(word);
  });
});
