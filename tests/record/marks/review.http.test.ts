import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { demoRows } from '../../../src/demo/cinder-ferry.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { testPdf } from '../../support/test-files.ts';
import { openHouse, wordsOf, type House } from '../schedule/house.ts';

let house: House;
let url = '';
beforeAll(async () => {
  house = await openHouse();
  url = `/projects/${house.projectId}/openings/${house.openingId}/review`;
});
afterAll(() => house.test.close());

/** The hidden boxes that say which versions a page showed. */
function shownBoxes(body: string): Record<string, string> {
  return Object.fromEntries(
    [...body.matchAll(/name="(shown\.[0-9a-f-]{36})" value="([^"]+)"/g)].map(([, name = '', value = '']) => [
      name,
      value,
    ]),
  );
}

async function item(kind: string, key: string) {
  return house.test.deps.prisma.item.findFirstOrThrow({
    where: { openingId: house.openingId, kind: kind as 'beam', key },
    include: { versions: { orderBy: { number: 'asc' }, include: { marks: { orderBy: { number: 'asc' } } } } },
  });
}

let sheetNumber = 0;
/** A drawing of its own for each test, submitted. */
async function drawing(name: string): Promise<string> {
  const { test, openingId, contractorActor } = house;
  sheetNumber += 1;
  const { item: made } = await createItem(test.deps, contractorActor, {
    openingId,
    kind: 'drawing',
    key: `A-${sheetNumber}`,
    title: `Drawing ${name}`,
    content: { name, revision: 'A', drawnOn: '2026-11-01', issuedBy: 'R. T.', sha256: 'a'.repeat(64) },
  });
  await submitVersions(test.deps, contractorActor, { openingId });
  return made.itemId;
}

async function newVersion(itemId: string, expectedNumber: number, name: string, { submitted = true } = {}) {
  const { test, openingId, contractorActor } = house;
  const content = { name, revision: 'B', drawnOn: '2026-11-02', issuedBy: 'R. T.', sha256: 'b'.repeat(64) };
  await saveVersion(test.deps, contractorActor, { itemId, expectedNumber, content });
  if (submitted) await submitVersions(test.deps, contractorActor, { openingId });
}

const marksOf = async (itemId: string) =>
  house.test.deps.prisma.mark.findMany({
    where: { version: { itemId } },
    include: { version: true },
    orderBy: { at: 'asc' },
  });

describe('the engineer’s review of an opening', () => {
  it('is empty before anything is submitted, and the engineer’s alone', async () => {
    const page = await house.engineer.get(url);
    expect(page.statusCode).toBe(200);
    expect(wordsOf(page.body)).toContain('Nothing waits for your mark');
    for (const other of [house.contractor, house.inspector, house.owner]) {
      expect((await other.get(url)).statusCode).toBe(403);
      expect((await other.post(url)).statusCode).toBe(403);
    }
    expect((await house.engineer.get(url.replace(house.openingId, house.projectId))).statusCode).toBe(404);
  });

  it('shows each item that waits whole: content, checks down to their steps, drawings, questions', async () => {
    const { test, openingId, contractorActor, engineer } = house;
    await submitVersions(test.deps, contractorActor, { openingId });
    const beam = await item('beam', 'beam');
    await engineer.get(url);
    await engineer.post(`/projects/${house.projectId}/items/${beam.id}/questions`, {
      text: 'Is the crown up?',
    });
    const page = await engineer.get(url);
    const words = wordsOf(page.body);
    expect(words).toContain(`${await waitingCount()} items wait for your mark`);
    for (const { title } of demoRows) expect(words).toContain(title);
    expect(words).toContain('Is the crown up?');
    expect(words).toContain('Bending');
    expect(words).toContain('Values put in');
    expect(words).toContain('First time before you');
    expect(page.body).toContain('<svg');
    // The survey is a basis: versioned, never marked.
    expect(Object.keys(shownBoxes(page.body))).not.toContain(`shown.${(await item('survey', 'survey')).id}`);
    // Each id once, though every item has the same checks.
    const ids = [...page.body.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(ids.filter((id, place) => ids.indexOf(id) !== place)).toEqual([]);
    // Leaving it is what each form begins with.
    expect(page.body.match(/value="" checked/g)?.length).toBe(Object.keys(shownBoxes(page.body)).length);
    const opening = await engineer.get(url.replace('/review', ''));
    expect(opening.body).toContain('Review what waits: ');
  });

  async function waitingCount(): Promise<number> {
    const { prisma, kinds } = house.test.deps;
    const items = await prisma.item.findMany({ where: { openingId: house.openingId } });
    return items.filter((one) => kinds.get(one.kind).reviewable).length;
  }

  it('marks many at once, each with its own word, and leaves the others alone', async () => {
    const { engineer } = house;
    const shown = shownBoxes((await engineer.get(url)).body);
    const [n1, n2, n3] = await Promise.all(demoRows.slice(0, 3).map(({ key }) => house.itemId(key)));
    const boxes = {
      ...shown,
      [`word.${n1}`]: 'approved',
      [`reason.${n1}`]: 'Looked at by hand',
      [`word.${n2}`]: 'returned',
      [`reason.${n2}`]: 'Show the plate’s species.',
      [`word.${n3}`]: '',
    };
    const answer = await engineer.post(url, boxes);
    expect(answer.statusCode).toBe(303);
    expect(answer.headers.location).toBe(url);
    const next = await engineer.get(url);
    expect(wordsOf(next.body)).toContain(`Returned: ${demoRows[1]!.title}.`);
    expect((await marksOf(n1!)).map(({ word, reason }) => [word, reason])).toEqual([
      ['approved', 'Looked at by hand'],
    ]);
    expect((await marksOf(n2!)).map(({ word }) => word)).toEqual(['returned']);
    expect(await marksOf(n3!)).toEqual([]);
    // The same form twice is one mark each.
    expect((await engineer.post(url, boxes)).statusCode).toBe(303);
    expect(await marksOf(n1!)).toHaveLength(1);
    expect(await marksOf(n2!)).toHaveLength(1);
  });

  it('refuses alone what moved meanwhile, shows both sides, keeps the words, and marks the others', async () => {
    const { engineer } = house;
    const [moving, still] = [await drawing('moving'), await drawing('still')];
    const shown = shownBoxes((await engineer.get(url)).body);
    await newVersion(moving, 1, 'moved');
    const answer = await engineer.post(url, {
      ...shown,
      [`word.${moving}`]: 'approved',
      [`reason.${moving}`]: 'Well drawn <b>',
      [`word.${still}`]: 'approved',
    });
    expect(answer.statusCode).toBe(409);
    const words = wordsOf(answer.body);
    expect(words).toContain('On record. Approved: Drawing still.');
    expect(words).toContain('Drawing moving has a version 2 since version 1 was shown');
    expect(words).toContain('What you saw, and said it on');
    expect(words).toContain('moving, revision A');
    expect(words).toContain('moved, revision B');
    expect(answer.body).toContain('>Well drawn &lt;b&gt;</textarea>');
    expect(answer.body).toContain('data-page-kind="refused"');
    expect(await marksOf(moving)).toEqual([]);
    expect((await marksOf(still)).map(({ version }) => version.number)).toEqual([1]);
    // The word has to be chosen anew; then it is said on version 2.
    const again = shownBoxes(answer.body);
    expect(again[`shown.${moving}`]).not.toBe(shown[`shown.${moving}`]);
    expect(again[`shown.${still}`]).toBeUndefined();
    const second = await engineer.post(url, { ...again, [`word.${moving}`]: 'approved' });
    expect(second.statusCode).toBe(303);
    expect((await marksOf(moving)).map(({ version }) => version.number)).toEqual([2]);
  });

  it('shows what moved though it no longer waits: a new version that was not submitted', async () => {
    const { engineer } = house;
    const itemId = await drawing('withheld');
    const shown = shownBoxes((await engineer.get(url)).body);
    await newVersion(itemId, 1, 'not handed over', { submitted: false });
    const answer = await engineer.post(url, {
      ...shown,
      [`word.${itemId}`]: 'returned',
      [`reason.${itemId}`]: 'Too small to read.',
    });
    expect(answer.statusCode).toBe(409);
    const words = wordsOf(answer.body);
    expect(words).toContain('No longer waiting for you');
    expect(words).toContain('“Too small to read.”');
    expect(shownBoxes(answer.body)[`shown.${itemId}`]).toBeUndefined();
    expect(await marksOf(itemId)).toEqual([]);
  });

  it('refuses a hash that is not the version’s, and a version marked meanwhile', async () => {
    const { engineer } = house;
    const itemId = await drawing('forged');
    const shown = shownBoxes((await engineer.get(url)).body)[`shown.${itemId}`]!;
    const [versionId = '', hash = ''] = shown.split('|');
    const name = { box: `shown.${itemId}`, word: `word.${itemId}`, reason: `reason.${itemId}` };
    const forged = await engineer.post(url, {
      [name.box]: `${versionId}|${'0'.repeat(64)}|0`,
      [name.word]: 'approved',
    });
    expect(forged.statusCode).toBe(409);
    expect(wordsOf(forged.body)).toContain('is not what version 1 says');
    expect(await marksOf(itemId)).toEqual([]);
    const second = await house.test.person('M. B.');
    await house.test.join(second, house.projectId, 'engineer');
    await second.get(url);
    expect(
      (
        await second.post(url, {
          [name.box]: `${versionId}|${hash}|0`,
          [name.word]: 'returned',
          [name.reason]: 'No scale.',
        })
      ).statusCode,
    ).toBe(303);
    const late = await engineer.post(url, { [name.box]: shown, [name.word]: 'approved' });
    expect(late.statusCode).toBe(409);
    expect(wordsOf(late.body)).toContain('was marked meanwhile');
    expect(wordsOf(late.body)).toContain('returned by M. B.');
    expect((await marksOf(itemId)).map(({ word }) => word)).toEqual(['returned']);
  });

  it('says at the item what the rules want, keeps the word, and marks the others', async () => {
    const { engineer } = house;
    const [bare, fine] = [await drawing('bare'), await drawing('fine')];
    const shown = shownBoxes((await engineer.get(url)).body);
    const answer = await engineer.post(url, {
      ...shown,
      [`word.${bare}`]: 'returned',
      [`word.${fine}`]: 'approved',
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain(`id="f-reason-${bare}-error"`);
    expect(wordsOf(answer.body)).toContain('Say what has to change.');
    expect(answer.body).toMatch(new RegExp(`name="word\\.${bare}" value="returned" checked`));
    expect(await marksOf(bare)).toEqual([]);
    expect((await marksOf(fine)).map(({ word }) => word)).toEqual(['approved']);
    const nothing = await engineer.post(url, shownBoxes(answer.body));
    expect(nothing.statusCode).toBe(422);
    expect(wordsOf(nothing.body)).toContain('Nothing was chosen');
    const tooLong = await engineer.post(url, {
      ...shownBoxes(answer.body),
      [`word.${bare}`]: 'returned',
      [`reason.${bare}`]: 'x'.repeat(4001),
    });
    expect(tooLong.statusCode).toBe(422);
    expect(wordsOf(tooLong.body)).toContain('longer than 4000 characters');
    expect(await marksOf(bare)).toEqual([]);
  });

  it('tells what changed since the last marked version, and shows a withdrawn approval again', async () => {
    const { engineer } = house;
    const itemId = await drawing('old name');
    const send = async (word: string, reason: string) => {
      const shown = shownBoxes((await engineer.get(url)).body)[`shown.${itemId}`]!;
      return engineer.post(url, {
        [`shown.${itemId}`]: shown,
        [`word.${itemId}`]: word,
        [`reason.${itemId}`]: reason,
      });
    };
    await send('returned', 'Name the room.');
    await newVersion(itemId, 1, 'new name');
    const words = wordsOf((await engineer.get(url)).body);
    expect(words).toContain('What changed since version 1, which was marked');
    expect(words).toContain('“Name the room.”');
    expect((await send('approved', '')).statusCode).toBe(303);
    const [version] = (await item('drawing', `A-${sheetNumber}`)).versions.slice(-1);
    await engineer.post(`/projects/${house.projectId}/marks`, {
      [`shown.${version!.id}`]: `${version!.hash}|1`,
      word: 'withdrawn',
      reason: 'Wrong sheet.',
    });
    expect(wordsOf((await engineer.get(url)).body)).toContain('“Wrong sheet.”');
    expect((await send('approved', 'It was the right one.')).statusCode).toBe(303);
    expect((await marksOf(itemId)).map(({ word }) => word)).toEqual([
      'returned',
      'approved',
      'withdrawn',
      'approved',
    ]);
  });

  it('shows a drawing’s very file, by its hash', async () => {
    const { contractor, engineer, test, projectId, openingId, contractorActor } = house;
    await contractor.get(`/projects/${projectId}`);
    const sent = await contractor.upload(
      `/projects/${projectId}/attachments`,
      { subject: 'opening', subjectId: openingId, caption: 'Elevation', back: '' },
      [{ field: 'file', ...testPdf() }],
    );
    expect(sent.statusCode).toBe(303);
    const file = await test.deps.prisma.attachment.findFirstOrThrow({ where: { projectId } });
    await createItem(test.deps, contractorActor, {
      openingId,
      kind: 'drawing',
      key: 'S-1',
      title: 'Sheet S-1',
      content: {
        name: 'Elevation',
        revision: 'A',
        drawnOn: '2026-11-01',
        issuedBy: 'R. T.',
        sha256: file.sha256,
      },
    });
    await submitVersions(test.deps, contractorActor, { openingId });
    const page = await engineer.get(url);
    expect(page.body).toContain(`/attachments/${file.id}/preview/1280?page=1&amp;notes=yes`);
  });

  describe('with something out of date', () => {
    beforeEach(async () => {
      const { test, contractorActor } = house;
      const survey = await item('survey', 'survey');
      const newest = survey.versions.at(-1)!;
      const content = JSON.parse(newest.content) as { openingToIn: number };
      await saveVersion(test.deps, contractorActor, {
        itemId: survey.id,
        expectedNumber: newest.number,
        content: { ...content, openingToIn: content.openingToIn - 2 },
      });
    });

    it('does not offer its approval, and refuses one that was sent all the same', async () => {
      const { engineer } = house;
      const beam = await item('beam', 'beam');
      const page = await engineer.get(url);
      expect(page.body).toMatch(new RegExp(`name="word\\.${beam.id}" value="returned"`));
      expect(page.body).not.toMatch(new RegExp(`name="word\\.${beam.id}" value="approved"`));
      const answer = await engineer.post(url, {
        ...shownBoxes(page.body),
        [`word.${beam.id}`]: 'approved',
        [`reason.${beam.id}`]: 'It will do.',
      });
      expect(answer.statusCode).toBe(422);
      expect(wordsOf(answer.body)).toContain('Have it recalculated first.');
      expect(await marksOf(beam.id)).toEqual([]);
    });
  });
});
