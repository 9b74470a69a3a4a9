import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { withoutTables } from './font-tables.ts';

/** A free font that holds every sign of our formulas (⊥, ′, ∛, ≤, Greek, fractions); only the glyphs used are embedded. */
export const FONT_NAMES = {
  normal: 'DejaVuSansCondensed',
  bold: 'DejaVuSansCondensed-Bold',
  italics: 'DejaVuSansCondensed-Oblique',
  bolditalics: 'DejaVuSansCondensed-BoldOblique',
} as const;
export type FontStyle = keyof typeof FONT_NAMES;
export const FONT_STYLES = Object.keys(FONT_NAMES) as readonly FontStyle[];

/**
 * Kerning and ligatures. The layout would run their rules for each new word, and nearly every word of a calculation is
 * a number that comes once: that took a quarter of the time of a sheet.
 */
const SHAPING = ['GPOS', 'GSUB', 'GDEF', 'kern'] as const;

const kept = new Map<FontStyle, Buffer>();

/** A style of the papers' font, every glyph in it, set letter by letter. Read once. */
export function fontOf(style: FontStyle): Buffer {
  const known = kept.get(style);
  if (known !== undefined) return known;
  const folder = dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'));
  const font = withoutTables(readFileSync(join(folder, 'ttf', `${FONT_NAMES[style]}.ttf`)), SHAPING);
  kept.set(style, font);
  return font;
}
