import { Readable } from 'node:stream';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import {
  drawPdfPage,
  inspectPdf,
  PdfUnreadable,
  type PdfSource,
} from '../../../src/attachments/pdf/reader.ts';
import { drawingPdf } from '../support/drawings.ts';

function sourceOf(bytes: Buffer): PdfSource & { readBytes: () => number } {
  let read = 0;
  return {
    bytes: bytes.length,
    read: ({ start, end }) => {
      read += end - start + 1;
      return Readable.from([bytes.subarray(start, end + 1)]);
    },
    readBytes: () => read,
  };
}

async function whyNot(work: Promise<unknown>): Promise<unknown> {
  return work.then(
    () => 'nothing is wrong',
    (error: unknown) => (error instanceof PdfUnreadable ? error.why : error),
  );
}

describe('a drawing', () => {
  it('has its pages counted and its words read', async () => {
    const facts = await inspectPdf(sourceOf(drawingPdf(['Beam B1 3 ply', 'Footing F2 30 inch'])));
    expect(facts.pageCount).toBe(2);
    expect(facts.pages.map((text) => text.trim())).toEqual(['Beam B1 3 ply', 'Footing F2 30 inch']);
  });

  it('is drawn as it is: red on top, white below, black letters', async () => {
    const picture = await drawPdfPage(sourceOf(drawingPdf(['MMMMMM'])), 1, 306);
    const { data, info } = await sharp(picture).removeAlpha().raw().toBuffer({ resolveWithObject: true });
    expect([info.width, info.height]).toEqual([306, 396]);
    const at = (x: number, y: number) => [...data.subarray((y * info.width + x) * 3).subarray(0, 3)];
    const [red = 0, green = 0] = at(150, 20);
    expect(red > 180 && green < 40).toBe(true);
    expect(Math.min(...at(150, 300))).toBeGreaterThan(240);
    // Somewhere in the line of letters (400 pt from below, at half size) there is ink.
    const row = data.subarray(192 * info.width * 3, 194 * info.width * 3);
    expect(Math.min(...row)).toBeLessThan(100);
  });

  it('is read in parts: a page of a large file does not cost the file', async () => {
    const plain = drawingPdf(['small']);
    const stuffing = Buffer.concat([Buffer.from('%'), Buffer.alloc(30_000_000, 'x'), Buffer.from('\n')]);
    const large = Buffer.concat([plain.subarray(0, 9), stuffing, plain.subarray(9)]);
    const moved = large.toString('latin1').replace(/(\d{10}) 00000 n/g, (_all, place: string) => {
      return `${String(Number(place) + stuffing.length).padStart(10, '0')} 00000 n`;
    });
    const start = /startxref\n(\d+)/.exec(moved)?.[1] ?? '';
    const whole = moved.replace(`startxref\n${start}`, `startxref\n${Number(start) + stuffing.length}`);
    const source = sourceOf(Buffer.from(whole, 'latin1'));
    expect((await inspectPdf(source)).pageCount).toBe(1);
    expect(source.readBytes()).toBeLessThan(2_000_000);
  });
});

describe('what can’t be drawn', () => {
  it('is said to be damaged, locked or too far', async () => {
    const noise = Buffer.from('%PDF-1.4\nnothing of a drawing\n%%EOF\n');
    expect(await whyNot(inspectPdf(sourceOf(noise)))).toBe('damaged');
    expect(await whyNot(drawPdfPage(sourceOf(drawingPdf(['one'])), 2, 300))).toBe('no such page');
    const locked = drawingPdf(['secret'])
      .toString('latin1')
      .replace(
        '/Root 1 0 R',
        `/Root 1 0 R /ID [<${'ab'.repeat(16)}> <${'ab'.repeat(16)}>] /Encrypt << /Filter /Standard /V 1 /R 2 /O <${'12'.repeat(32)}> /U <${'34'.repeat(32)}> /P -4 >>`,
      );
    expect(await whyNot(inspectPdf(sourceOf(Buffer.from(locked, 'latin1'))))).toBe('locked');
  });

  it('is given up at the limit of time, and of memory', async () => {
    // A million and a half rectangles: an honest reader draws for long.
    const endless = drawingPdf(['x'], '0 0 600 700 re f\n'.repeat(1_500_000));
    const small = { memoryBytes: 4 * 1024 ** 3, timeMs: 1_500 };
    expect(await whyNot(drawPdfPage(sourceOf(endless), 1, 1280, small))).toBe('too much');
    const narrow = { memoryBytes: 60 * 1024 * 1024, timeMs: 60_000 };
    expect(await whyNot(drawPdfPage(sourceOf(endless), 1, 1280, narrow))).toBe('too much');
  });

  it('is no strip of a mile', async () => {
    const strip = drawingPdf(['x']).toString('latin1').replace('[0 0 612 792]', '[0 0 001 999]');
    expect(await whyNot(drawPdfPage(sourceOf(Buffer.from(strip, 'latin1')), 1, 1280))).toBe('damaged');
  });
});
