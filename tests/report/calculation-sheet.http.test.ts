import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openHouse, wordsOf, type House } from '../record/schedule/house.ts';

let house: House;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.test.close());

const opening = () => `/projects/${house.projectId}/openings/${house.openingId}`;

async function pagesOf(pdf: Buffer): Promise<string[]> {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  const pages: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const { items } = await (await document.getPage(number)).getTextContent();
    pages.push(items.map((item) => ('str' in item ? item.str : '')).join(' '));
  }
  await document.destroy();
  return pages;
}

describe('the calculation sheet', () => {
  it('is a PDF with text: criteria, loads, checks with their clauses, candidates, limits, page x of y', async () => {
    const answer = await house.engineer.get(`${opening()}/calculation.pdf`);
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['content-type']).toBe('application/pdf');
    if (process.env.SHEET_FILE) writeFileSync(process.env.SHEET_FILE, answer.rawPayload);
    expect(answer.rawPayload.length).toBeLessThan(1_000_000);
    const pages = await pagesOf(answer.rawPayload);
    expect(pages.length).toBeGreaterThan(3);
    pages.forEach((page, at) => {
      expect(page).toContain(`Page ${at + 1} of ${pages.length}`);
      expect(page).toContain('Record of review. Not a sealed document.');
    });
    const text = pages.join(' ').replace(/\s+/g, ' ');
    for (const words of [
      'Load take-off',
      'Load combinations',
      'NDS 2018',
      'ASCE 7-16',
      'Beams considered',
      'Limits',
      'Support: left',
      'Footing: right',
      'Working state',
      // Signs that a font could lack.
      'Fc⊥',
      'Fb′',
    ]) {
      expect(text).toContain(words);
    }
  });

  it('says the same on screen', async () => {
    const { body } = await house.contractor.get(`${opening()}/calculation`);
    const words = wordsOf(body);
    for (const one of ['Load take-off', 'Beams considered', 'Limits', 'members judged on every check'])
      expect(words).toContain(one);
    const ids = [...body.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('is not for owners as a working state, nor for strangers', async () => {
    expect((await house.owner.get(`${opening()}/calculation.pdf`)).statusCode).toBe(403);
    const stranger = await house.test.person('Somebody');
    expect((await stranger.get(`${opening()}/calculation`)).statusCode).toBe(404);
  });
});
