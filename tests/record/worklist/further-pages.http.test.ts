import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { growItems, growOther } from './grow.ts';

/** The links to further pages of the project's lists: each thing once, and no cursor but the program's own. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await growItems(site, 1, 120);
  await growOther(site, 1, 70);
});
afterAll(() => site.test.close());

/** What `each` finds on the page and on all further ones that the link with this parameter leads to. */
async function walk(url: string, parameter: string, each: RegExp): Promise<string[]> {
  const found: string[] = [];
  const link = new RegExp(`href="(${url}\\?${parameter}=[^"#]+)`);
  for (let next: string | undefined = url; next !== undefined;) {
    const response = await site.contractor.get(next);
    expect(response.statusCode, next).toBe(200);
    const words = [...response.body.matchAll(each)].map((match) => match[1] ?? '');
    expect(words.length, next).toBeLessThanOrEqual(50);
    found.push(...words);
    next = link.exec(response.body)?.[1];
  }
  return found;
}

const numbered = (words: string, count: number) =>
  Array.from({ length: count }, (_, place) => `${words}${place + 1}`);

test('lead through all rows of an opening in the order of the trade', async () => {
  const rows = await walk(`${site.inOpening}/items/fastening`, 'after', />Row (R\d+)</g);
  expect(rows).toEqual(numbered('R', 120));
});

test('lead through openings, questions and photos, each once', async () => {
  const item = `${site.inProject}/items/${site.items.Beam}`;
  expect(await walk(site.inProject, 'after', />\s*\d+\. (Opening \d+)\s*</g)).toEqual(
    numbered('Opening ', 70),
  );
  expect(await walk(item, 'questions', /class="said">(Question \d+)</g)).toEqual(numbered('Question ', 70));
  for (const [url, subject] of [
    [site.inProject, 'project'],
    [site.inOpening, 'opening'],
    [item, 'item'],
  ] as const) {
    const photos = await walk(url, 'files', new RegExp(`alt="(${subject} \\d+)"`, 'g'));
    expect(photos).toEqual(numbered(`${subject} `, 70));
  }
});

test.each(['x', '!.!', '%00', 'zzzzzzzzzz.1', '1.2.3', '-1'])(
  'know nothing of the cursor %s',
  async (cursor) => {
    const item = `${site.inProject}/items/${site.items.Beam}`;
    for (const url of [
      `${site.inOpening}/items/fastening?after=${cursor}`,
      `${site.inProject}?after=${cursor}`,
      `${site.inOpening}?before=${cursor}`,
      `${site.inOpening}?files=${cursor}`,
      `${site.inOpening}/progress?files=${cursor}`,
      `${item}?questions=${cursor}`,
      `/?projects=${cursor}`,
    ]) {
      expect((await site.contractor.get(url)).statusCode, url).toBe(404);
    }
    expect((await site.contractor.get(`${site.inOpening}/items/nothing`)).statusCode).toBe(404);
  },
);
