import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { colours, contrast } from '../support/luminance.ts';

const tokens = readFileSync(new URL('../../src/web/assets/tokens.css', import.meta.url), 'utf8');
const darkFrom = tokens.indexOf('@media (prefers-color-scheme: dark)');

const light = colours(tokens.slice(0, darkFrom));
const dark = { ...light, ...colours(tokens.slice(darkFrom)) };

/** [foreground, background, what it is]: text needs 4.5 (1.4.3), edges, bars and signs 3 (1.4.11). */
const TEXT: readonly (readonly [string, string])[] = [
  ...['sheet', 'sunk', 'paper'].flatMap((ground) => [
    ['ink', ground] as const,
    ['ink-soft', ground] as const,
  ]),
  ['chalk', 'sheet'],
  ['chalk', 'sunk'],
  ['chalk-deep', 'sheet'],
  ['chalk-deep', 'chalk-wash'],
  ['on-chalk', 'chalk'],
  ['on-chalk', 'chalk-deep'],
  ['crayon', 'sheet'],
  ['crayon', 'sunk'],
  ['crayon-deep', 'crayon-wash'],
  ['ink', 'crayon-wash'],
  ['on-crayon', 'crayon'],
  ['ink', 'lumber'],
  ['crayon', 'lumber'],
];
const SIGNS: readonly (readonly [string, string])[] = [
  ['edge', 'sheet'],
  ['edge', 'sunk'],
  ['chalk', 'paper-line'],
  ['crayon', 'paper-line'],
  ['ink', 'paper-line'],
  ['crayon', 'crayon-wash'],
  ['focus', 'sheet'],
  ['focus', 'paper'],
  ['crayon', 'sheet'],
  ['chalk', 'chalk-wash'],
];

describe('the arithmetic itself', () => {
  it('gives the values WCAG names: 21 for black on white, 1 for a colour on itself', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 9);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
    expect(contrast('#1c5675', '#1c5675')).toBe(1);
  });
});

describe.each([
  ['light', light],
  ['dark', dark],
])('%s theme', (_name, theme) => {
  it.each(TEXT)('%s on %s reads as text', (front, ground) => {
    expect(contrast(theme[front]!, theme[ground]!)).toBeGreaterThanOrEqual(4.5);
  });

  it.each(SIGNS)('%s on %s is seen as an edge or sign', (front, ground) => {
    expect(contrast(theme[front]!, theme[ground]!)).toBeGreaterThanOrEqual(3);
  });
});

it('the dark theme gives every colour a value of its own', () => {
  expect(Object.keys(colours(tokens.slice(darkFrom))).sort()).toEqual(Object.keys(light).sort());
});
