import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoRows } from '../../../src/demo/cinder-ferry.ts';
import { judgeRow, parseSchedule, type FasteningRow } from '../../../src/engineering/fasteners/index.ts';
import { demoCriteria } from '../../../src/demo/cinder-ferry.ts';
import { fasteningForm } from '../../../src/record/kinds/fastening/form.ts';
import { saveDraft } from '../../../src/record/drafts/service.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { fillForm } from '../../../src/web/forms/fill.ts';
import type { Client } from '../../support/app.ts';
import { boxesOf, openHouse, unescaped, wordsOf, type House } from './house.ts';

let house: House;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.test.close());

const numbers = async () => {
  const items = await house.test.deps.prisma.item.findMany({
    where: { openingId: house.openingId, kind: 'fastening' },
    orderBy: { key: 'asc' },
    include: { _count: { select: { versions: true } } },
  });
  return Object.fromEntries(items.map((item) => [item.key, item._count.versions]));
};

async function sendFile(client: Client, text: string | Buffer) {
  const file = { field: 'file', name: 'schedule.csv', mimeType: 'text/csv', buffer: Buffer.from(text) };
  return client.upload(`${house.base}/import`, {}, [file]);
}

describe('the schedule as a file', () => {
  it('goes out as CSV under a name of its own and comes back as what is there already', async () => {
    const out = await house.contractor.get(`${house.base}.csv`);
    expect(out.headers['content-type']).toContain('text/csv');
    expect(out.headers['content-disposition']).toBe('attachment; filename="schedule-opening-1.csv"');
    expect(parseSchedule(out.body).rows).toEqual(demoRows.map((row) => row.content));
    expect(out.body).toContain('result ratio');
    const back = await sendFile(house.contractor, out.body);
    expect(back.statusCode).toBe(200);
    expect(wordsOf(back.body)).toContain('The file says what the schedule says already.');
    expect(await numbers()).toEqual({ N1: 1, N4: 1, N6: 1 });
  });

  it('shows what a file would change, keeps nothing until that is confirmed, then all of it', async () => {
    const out = (await house.contractor.get(`${house.base}.csv`)).body;
    const lines = out.trimEnd().split('\r\n');
    const changed = [
      lines[0]!,
      lines[1]!.replace(',0.128,3,', ',0.162,3.5,').replace(',box,', ',common,'),
      lines[2]!,
      lines[2]!.replace(/^n4,/, 'n9,'),
    ].join('\r\n');
    const shown = await sendFile(house.contractor, changed);
    const words = wordsOf(shown.body);
    expect(words).toContain('fastener diameter in 0.128 → 0.162');
    expect(words).toContain('fastener style box → common');
    expect(words).toContain('new row');
    expect(words).toContain('Not in the file, and left as they are: N6');
    expect(await numbers()).toEqual({ N1: 1, N4: 1, N6: 1 });

    const sent = await house.contractor.post(`${house.base}/import/confirmation`, {
      ...boxesOf(shown.body),
      _reason: 'Worked on in the office.',
    });
    expect(sent.statusCode).toBe(303);
    expect(await numbers()).toEqual({ N1: 2, N4: 1, N6: 1, N7: 1 });
    const version = await house.test.deps.prisma.version.findFirstOrThrow({
      where: { itemId: await house.itemId('N1'), number: 2 },
    });
    expect(version.reason).toBe('Worked on in the office.');
    expect((JSON.parse(version.content) as FasteningRow).fastener).toMatchObject({ diameterIn: 0.162 });
    // The same form sent again is no second change.
    const again = await house.contractor.post(`${house.base}/import/confirmation`, boxesOf(shown.body));
    expect(again.statusCode).toBe(422);
    expect(await numbers()).toEqual({ N1: 2, N4: 1, N6: 1, N7: 1 });
  });

  it('keeps no row of a file with one bad cell, and says which', async () => {
    const out = (await house.contractor.get(`${house.base}.csv`)).body;
    const lines = out.trimEnd().split('\r\n');
    const bad = [
      lines[0]!,
      lines[1]!.replace(',0.162,3.5,', ',0.192,3.5,'),
      lines[2]!.replace(',16,', ',wide,'),
    ];
    const answer = await sendFile(house.contractor, bad.join('\r\n'));
    expect(answer.statusCode).toBe(422);
    const words = wordsOf(answer.body);
    expect(words).toContain('3 spacing in "wide" is not a number.');
    expect(words).not.toContain('Keep these');
    const forced = await house.contractor.post(`${house.base}/import/confirmation`, { text: bad.join('\n') });
    expect(forced.statusCode).toBe(422);
    expect(await numbers()).toEqual({ N1: 2, N4: 1, N6: 1, N7: 1 });
  });

  it('shows what moved meanwhile and keeps nothing over it', async () => {
    const out = (await house.contractor.get(`${house.base}.csv`)).body;
    const lines = out.trimEnd().split('\r\n');
    const text = [lines[0]!, lines[1]!.replace(',12,5,', ',8,5,')].join('\r\n');
    const shown = await sendFile(house.contractor, text);
    expect(wordsOf(shown.body)).toContain('spacing in 12 → 8');
    const newest = await house.test.deps.prisma.version.findFirstOrThrow({
      where: { itemId: await house.itemId('N1'), number: 2 },
    });
    await saveVersion(house.test.deps, house.contractorActor, {
      itemId: await house.itemId('N1'),
      expectedNumber: 2,
      content: { ...(JSON.parse(newest.content) as FasteningRow), note: 'Meanwhile.' },
    });
    const sent = await house.contractor.post(`${house.base}/import/confirmation`, boxesOf(shown.body));
    expect(sent.statusCode).toBe(409);
    const words = wordsOf(sent.body);
    expect(words).toContain('Changed meanwhile: N1.');
    // Against what stands now: taking the file over would take the note out.
    expect(words).toContain('note removed (was Meanwhile.)');
    expect(await numbers()).toMatchObject({ N1: 3 });
    const confirmed = await house.contractor.post(`${house.base}/import/confirmation`, boxesOf(sent.body));
    expect(confirmed.statusCode).toBe(303);
    expect(await numbers()).toMatchObject({ N1: 4 });
  });

  it('refuses what is no schedule, with a sentence', async () => {
    const binary = await sendFile(house.contractor, Buffer.from([0xff, 0xfe, 0x00, 0xd8]));
    expect(wordsOf(binary.body)).toContain('not text in UTF-8');
    const long = await sendFile(house.contractor, 'x'.repeat(600 * 1024));
    expect(long.statusCode).toBe(422);
    expect(wordsOf(long.body)).toContain('too long to be a fastening schedule');
    const foreign = await sendFile(house.contractor, 'Name;Amount\r\nx;1\r\n');
    expect(wordsOf(foreign.body)).toContain('There is no column "Name;Amount" in the schedule.');
    const nothing = await house.contractor.upload(`${house.base}/import`, { text: '' }, []);
    expect(nothing.statusCode).toBe(422);
    expect(wordsOf(nothing.body)).toContain('Choose a file or paste its text.');
  });

  it('takes pasted text, escapes what it shows, and wants its token', async () => {
    const out = (await house.contractor.get(`${house.base}.csv`)).body;
    const text = out.replace('Beam, full length', '<img src=x onerror=alert(1)>');
    const shown = await house.contractor.upload(`${house.base}/import`, { text }, []);
    expect(shown.statusCode).toBe(200);
    expect(shown.body).not.toContain('<img src=x');
    expect(shown.body).toContain('&lt;img src=x');
    const bare = await house.contractor.postBare(
      `${house.base}/import`,
      { text },
      {
        cookie: house.contractor.cookies(),
        'content-type': 'multipart/form-data; boundary=x',
        'sec-fetch-site': 'same-origin',
      },
    );
    expect(bare.statusCode).toBeGreaterThanOrEqual(400);
  });

  it('is neither read in nor taken out by inspector and owner', async () => {
    for (const person of [house.inspector, house.owner]) {
      expect((await person.get(`${house.base}.csv`)).statusCode).toBe(403);
      expect((await person.get(`${house.base}/import`)).statusCode).toBe(403);
      expect((await person.post(`${house.base}/import/confirmation`)).statusCode).toBe(403);
    }
  });
});

describe('a row as it is typed', () => {
  const preview = (client: Client, boxes: Readonly<Record<string, string>>) =>
    client.post(`${house.base.replace(/\/schedule$/, '')}/preview?kind=fastening`, boxes);
  const typed = fillForm(fasteningForm.spec, demoRows[0]!.content);

  it('comes back as a piece of a page: ratio, checks, steps, drawing; nothing is kept', async () => {
    const before = await numbers();
    const answer = await preview(house.engineer, typed);
    expect(answer.statusCode).toBe(200);
    const judged = judgeRow(demoRows[0]!.content, demoCriteria.editions);
    expect(answer.body).toContain(`data-line="${judged.ratio.toFixed(2)} of capacity`);
    expect(answer.body).toContain('data-verdict="not met"');
    expect(answer.body).toContain('class="drawing"');
    expect(answer.body).toContain('NDS 2018');
    expect(answer.body).not.toContain('<html');
    const better = await preview(house.engineer, {
      ...typed,
      'pattern.rows': '4',
      'pattern.spacingIn': '4"',
      'pattern.rowSpacingIn': '1 3/4"',
    });
    expect(better.body).toContain('data-verdict="met"');
    expect(await numbers()).toEqual(before);
  });

  it('says what is missing, and what the engine refuses', async () => {
    const short = await preview(house.contractor, { ...typed, 'fastener.lengthIn': 'x' });
    expect(short.body).toContain('data-line="Not complete yet: Length:');
    const hot = await preview(house.contractor, { ...typed, 'conditions.temperatureF': '200' });
    expect(unescaped(hot.body)).toContain('Above 150 °F');
  });

  it('is not for inspectors, nor for another project’s opening', async () => {
    expect((await preview(house.inspector, typed)).statusCode).toBe(403);
    const nowhere = `/projects/${house.projectId}/openings/00000000-0000-4000-8000-000000000000`;
    expect((await house.contractor.post(`${nowhere}/preview?kind=fastening`, typed)).statusCode).toBe(404);
  });
});

describe('what else in the truck satisfies a row', () => {
  it('tries what is ticked and one’s own entries, best first, and carries the truck to the next row', async () => {
    const address = `/projects/${house.projectId}/items/${await house.itemId('N4')}/substitutes`;
    const empty = await house.contractor.get(address);
    expect(empty.statusCode).toBe(200);
    expect(empty.body.match(/type="checkbox"/g)!.length).toBeGreaterThan(40);
    const query = new URLSearchParams([
      ['on', '0.148 × 3 in nail (10d common)'],
      ['on', '0.131 × 2.5 in nail (8d common)'],
      ['own.0.kind', 'pneumatic'],
      ['own.0.diameter', '.12'],
      ['own.0.length', '3'],
    ]).toString();
    const page = await house.contractor.get(`${address}?${query}`);
    const words = wordsOf(page.body);
    expect(words).toContain('0.148 × 3 in nail (10d common): passes as it is.');
    expect(words).toContain('0.120 × 3 in pneumatic nail');
    expect(page.body).toContain(`/substitutes?${query.replaceAll('&', '&amp;')}`);
    expect(page.body.match(/name="on"[^>]* checked/g)).toHaveLength(2);
  });

  it('puts a substitute in the form as a draft, which passes when it is saved', async () => {
    const itemId = await house.itemId('N1');
    const item = `/projects/${house.projectId}/items/${itemId}`;
    const number = String((await numbers()).N1);
    const query = new URLSearchParams([['on', '0.148 × 3 in nail (10d common)']]).toString();
    const page = await house.contractor.get(`${item}/substitutes?${query}`);
    const boxes = boxesOf(page.body);
    expect(boxes.number).toBe(number);
    const sent = await house.contractor.post(`${item}/substitutes`, boxes);
    expect(sent.headers.location).toBe(`${item}/edit`);
    const form = await house.contractor.get(`${item}/edit`);
    expect(form.body).toContain('Your draft');
    expect(boxesOf(form.body)['fastener.diameterIn']).toBe('0.148"');
    expect(String((await numbers()).N1)).toBe(number);
    const draft = await house.test.deps.prisma.draft.findFirstOrThrow({ where: { itemId } });
    const saved = await house.contractor.post(`${item}/versions`, {
      ...(JSON.parse(draft.body) as Record<string, string>),
      _expected: number,
      do: 'save',
    });
    expect(saved.statusCode).toBe(303);
    const version = await house.test.deps.prisma.version.findFirstOrThrow({
      where: { itemId },
      orderBy: { number: 'desc' },
    });
    const row = JSON.parse(version.content) as FasteningRow;
    expect(row.fastener).toMatchObject({ kind: 'nail', style: 'common', diameterIn: 0.148, lengthIn: 3 });
    expect(judgeRow(row, demoCriteria.editions).passes).toBe(true);
  });

  it('warns before it takes the place of a draft, and refuses a row that moved or nonsense', async () => {
    const itemId = await house.itemId('N4');
    const item = `/projects/${house.projectId}/items/${itemId}`;
    await saveDraft(house.test.deps, house.contractorActor, { itemId, onNumber: 1, body: { note: 'mine' } });
    const query = new URLSearchParams([['on', '0.148 × 3 in nail (10d common)']]).toString();
    const page = await house.contractor.get(`${item}/substitutes?${query}`);
    expect(wordsOf(page.body)).toContain('You have an unsaved draft of this row.');
    const boxes = boxesOf(page.body);
    for (const wrong of [
      { number: '99' },
      { fastener: 'x' },
      { fastener: '{"kind":"nail"}' },
      { fastener: '{"kind":"bolt","diameterIn":0.5,"lengthIn":1}' },
    ]) {
      const answer = await house.contractor.post(`${item}/substitutes`, { ...boxes, ...wrong });
      expect(answer.statusCode).toBe(422);
    }
    const draft = await house.test.deps.prisma.draft.findFirstOrThrow({ where: { itemId } });
    expect(draft.body).toBe('{"note":"mine"}');
  });

  it('is there for fastening rows alone', async () => {
    const beam = await house.test.deps.prisma.item.findFirstOrThrow({ where: { kind: 'beam' } });
    const page = await house.contractor.get(`/projects/${house.projectId}/items/${beam.id}/substitutes`);
    expect(page.statusCode).toBe(404);
    const row = `/projects/${house.projectId}/items/${await house.itemId('N4')}/substitutes`;
    expect((await house.inspector.get(row)).statusCode).toBe(403);
  });
});
