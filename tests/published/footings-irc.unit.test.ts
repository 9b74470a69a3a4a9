import { describe, expect, it } from 'vitest';
import {
  footingWidthUntil2012,
  IRC_LEAST_PROJECTION_IN,
  IRC_THINNEST_FOOTING_IN,
  presumptiveSoils,
} from '../../src/engineering/foundation/index.ts';
import tables from './reference/irc-tables.json' with { type: 'json' };

interface Reference {
  readonly id: string;
  readonly inputs: { readonly stories?: { value: number }; readonly soil?: { value: number } | string };
  readonly expected: Readonly<Record<string, { readonly value: number }>>;
  readonly source: { readonly title: string };
  readonly provenance: string;
}

const all = tables.records as unknown as readonly Reference[];
const named = (entry: Reference) =>
  [`${entry.id} — ${entry.source.title} (${entry.provenance})`, entry] as const;
const widths = all.filter((entry) => /^FTG-\dstory/.test(entry.id));
const limits = all.filter((entry) => entry.id === 'FTG-projection' || entry.id === 'FTG-footing');
const soils = all.filter((entry) => entry.id.startsWith('SOIL-'));

describe('published footing and soil tables', () => {
  it('leaves no FTG or SOIL record out', () => {
    const mine = all.filter((entry) => entry.id.startsWith('FTG-') || entry.id.startsWith('SOIL-'));
    expect(widths.length + limits.length + soils.length).toBe(mine.length);
    expect(mine).toHaveLength(16);
  });

  it.each(widths.map(named))('%s', (_, entry) => {
    const storeys = entry.inputs.stories!.value as 1 | 2 | 3;
    const row = footingWidthUntil2012(storeys, (entry.inputs.soil as { value: number }).value);
    expect(row.widthIn).toBe(entry.expected.width!.value);
    expect(row.thicknessIn).toBe(entry.expected.minThickness!.value);
  });

  it.each(limits.map(named))('%s', (_, entry) => {
    const held = entry.id === 'FTG-projection' ? IRC_LEAST_PROJECTION_IN : IRC_THINNEST_FOOTING_IN;
    expect(held).toBe(entry.expected.value!.value);
  });

  it.each(soils.map(named))('%s', (_, entry) => {
    const soil = presumptiveSoils.find((row) => row.soil === entry.inputs.soil)!;
    expect(soil.bearingPsf).toBe(entry.expected.bearing!.value);
  });
});
