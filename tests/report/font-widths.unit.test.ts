import { GlobalFonts, createCanvas } from '@napi-rs/canvas';
import { expect, it } from 'vitest';
import { tablesOf } from '../../src/report/pdf/font-tables.ts';
import { readFontWidths } from '../../src/report/pdf/font-widths.ts';
import { fontOf } from '../../src/report/pdf/fonts.ts';
import { brokenLines } from '../../src/report/pdf/set-lines.ts';

const SAMPLES = [
  'fb = M/S = 123,456.5 lb-in / 128.6 in³ = 960.0 psi',
  'Fc⊥′ ≤ ∛2, ½ in, λ √ π',
  'Bearing at the left end, of the beam',
];

// Checked against Skia (a general-purpose graphics library), which shapes text by itself.
it.each(['normal', 'bold'] as const)('reads widths of the %s font as another library does', (style) => {
  GlobalFonts.register(fontOf(style), `sheet-${style}`);
  const context = createCanvas(10, 10).getContext('2d');
  context.font = `1000px sheet-${style}`;
  const { widthOf } = readFontWidths(fontOf(style));
  for (const text of SAMPLES) {
    expect(widthOf(text) * 1000).toBeCloseTo(context.measureText(text).width, -1);
  }
});

it('takes out what shapes text and leaves a font that others open', () => {
  const tags = tablesOf(fontOf('normal')).map(({ tag }) => tag);
  expect(tags).toEqual(expect.arrayContaining(['cmap', 'glyf', 'head', 'hhea', 'hmtx', 'loca', 'maxp']));
  expect(tags).not.toContain('GPOS');
  expect(tags).not.toContain('GSUB');
  expect([...tags].sort()).toEqual(tags);
});

it('refuses what is no font', () => {
  expect(() => readFontWidths(Buffer.alloc(64))).toThrow(/no table/);
});

it('breaks text where a line is full, loses no word, and leaves to the layout what only it can break', () => {
  const { widthOf } = readFontWidths(fontOf('normal'));
  const text = `${SAMPLES.join(' ')} `.repeat(5).trim();
  const lines = brokenLines(text, 20, false);
  expect(lines?.join(' ')).toBe(text);
  expect(lines?.length).toBeGreaterThan(5);
  for (const line of lines ?? []) expect(widthOf(line)).toBeLessThanOrEqual(20);
  for (const [at, line] of (lines ?? []).slice(1).entries()) {
    expect(widthOf(`${lines?.[at] ?? ''} ${line.split(' ')[0] ?? ''}`)).toBeGreaterThan(20);
  }
  expect(brokenLines('x'.repeat(200), 20, false)).toBeNull();
  expect(brokenLines('one\ntwo', 20, false)).toBeNull();
});
