import { describe, expect, it } from 'vitest';
import {
  fastenerSchema,
  patternText,
  rowChanges,
  standardFasteners,
} from '../../../src/engineering/fasteners/index.ts';
import { row } from './rows.ts';

describe('words and revision marks', () => {
  it('says a pattern as a schedule does', () => {
    expect(patternText(row())).toBe('3 nails, driven from one side');
    // A bare "4 in 2 rows" reads as inches.
    const pattern = {
      kind: 'count',
      count: 4,
      rows: 2,
      spacingIn: 3,
      rowSpacingIn: 2,
      staggered: false,
    } as const;
    expect(patternText(row({ pattern }))).toBe('4 nails in 2 rows, driven from one side');
    expect(
      patternText(
        row({
          pattern: {
            kind: 'spaced',
            lengthIn: 120,
            rows: 3,
            spacingIn: 12,
            rowSpacingIn: 2,
            staggered: true,
          },
          driven: 'both sides',
        }),
      ),
    ).toBe('3 rows at 12 in, staggered, driven from both sides');
  });
  it('marks what a revision changed', () => {
    const before = row();
    const after = row({
      fastener: { kind: 'nail', style: 'box', diameterIn: 0.135, lengthIn: 3.5 },
      edgeDistanceIn: 1,
    });
    expect(rowChanges(before, after)).toEqual([
      { heading: 'fastener style', was: 'common', now: 'box' },
      { heading: 'fastener diameter in', was: '0.162', now: '0.135' },
      { heading: 'edge distance in', was: '2.75', now: '1' },
    ]);
    expect(rowChanges(before, before)).toEqual([]);
  });
  it('offers each standard fastener once, all of them fit for a row', () => {
    const all = standardFasteners();
    expect(new Set(all.map((one) => one.label)).size).toBe(all.length);
    for (const { fastener } of all) expect(fastenerSchema.safeParse(fastener).success).toBe(true);
  });
});
