import { describe, expect, it } from 'vitest';
import {
  cautions,
  checkStudWall,
  USUAL_OFFSET_IN,
  workSequence,
} from '../../src/engineering/shoring/index.ts';
import { clauseText, type Check, type Editions } from '../../src/engineering/trace/index.ts';
import records from './reference/shoring.json' with { type: 'json' };

interface Reference {
  readonly id: string;
  readonly inputs: Readonly<Record<string, { readonly value: number } | string>>;
  readonly expected: Readonly<Record<string, unknown>>;
  readonly source: { readonly title: string; readonly section?: string };
  readonly provenance: string;
}

const editions: Editions = { asce7: '7-16', nds: '2018', irc: '2021', aci318: '318-19', aisc360: '360-16' };
const all = records.records as unknown as readonly Reference[];
const record = (id: string) => all.find((entry) => entry.id === id)!;
const named = (entry: Reference) => `${entry.id} — ${entry.source.title} (${entry.provenance})`;
const caution = (id: string) => cautions.find((entry) => entry.id === id)!;

/** Each written rule, the caution or step that carries it, and words of it that must be there. */
const RULES: readonly (readonly [record: string, caution: string, words: readonly string[]])[] = [
  [
    'OSHA-1',
    'survey',
    ['competent person', 'before work starts', 'framing, floors, walls', 'writes it down'],
  ],
  ['OSHA-2', 'damaged', ['shore or brace', 'walls and floors', 'before']],
  ['OSHA-3', 'utilities', ['electric, gas, water, steam and sewer', 'shut off, capped', 'companies told']],
  ['OSHA-4', 'utilities', ['moved and protected']],
  ['OSHA-5', 'openings', ['42 in']],
  ['OSHA-6', 'debris', ['without a chute', '42 in', '6 ft']],
  ['OSHA-lumber', 'collapse', ['before the shoring stands']],
];
const DISTANCES = ['DIST-1', 'DIST-2', 'DIST-3'];
const STUDS = ['STUD-96-Spr', 'STUD-96-Dou'];

describe('published shoring records', () => {
  it('leaves no record out', () => {
    expect([...RULES.map(([id]) => id), ...DISTANCES, ...STUDS, 'SHORE-practice'].sort()).toEqual(
      all.map((entry) => entry.id).sort(),
    );
  });

  it.each(RULES.map(([id, to, words]) => [named(record(id)), record(id), caution(to), words] as const))(
    '%s',
    (_, entry, carried, words) => {
      const text = carried.text.toLowerCase();
      for (const word of words) expect(text).toContain(word);
      expect(clauseText(carried.clause)).toContain(entry.source.section);
    },
  );

  it.each(DISTANCES.map((id) => [named(record(id)), record(id)] as const))(
    '%s: within the usual offsets',
    (_, entry) => {
      const [least, most] = (entry.expected.distance as { range: [number, number] }).range;
      expect(least).toBeGreaterThanOrEqual(USUAL_OFFSET_IN.least);
      expect(most).toBeLessThanOrEqual(USUAL_OFFSET_IN.most);
    },
  );

  it(named(record('SHORE-practice')), () => {
    const { expected } = record('SHORE-practice');
    const steps = workSequence({
      survey: { below: 'basement', storeysAbove: 0, braces: [], landings: [] },
      shoring: { sides: 'both' },
      newPads: false,
    });
    const text = (id: string) => steps.find((step) => step.id === id)!.text;
    expect(expected.studs).toContain('one under each joist');
    expect(text('shore')).toContain('under the joists');
    expect(expected.walls).toContain('past both ends of the new beam');
    expect(text('shore')).toContain('past both ends of the new beam');
    expect(expected.blockingBelow).toContain('sound support below');
    expect(text('shore-below')).toContain('down to ground that carries');
  });

  it.each(STUDS.map((id) => [named(record(id)), record(id)] as const))('%s', (_, entry) => {
    const [species, grade] = entry.id === 'STUD-96-Spr' ? ['SPF', 'Stud'] : ['DF-L', 'No.2'];
    const line = { combination: 'D + L', loadDuration: 1.25, loadPlf: 600 };
    const checks = checkStudWall({
      load: { side: 'front', lines: [line], heaviest: line, steps: [] },
      species,
      grade,
      studSize: '2x4',
      studSpacingIn: 16,
      // 96 in of stud between a sole and two top plates; braced closely about the weak axis.
      heightIn: 96 + 3 * 1.5,
      midHeightBracingIn: 12,
      topPlates: 2,
      joistSpacingIn: 16,
      editions,
    });
    const find = (id: string): Check => checks.find((check) => check.id === id)!;
    const holds = (key: string, actual: number) => {
      const target = (entry.expected[key] as { value: number }).value;
      expect(Math.abs(actual / target - 1), `${key}: ${actual} against ${target}`).toBeLessThanOrEqual(0.01);
    };
    const axial = find('shoring.front.stud.axial');
    holds('FcE', axial.steps.find((step) => step.id.endsWith('FcE1'))!.result.value);
    holds('P_column', axial.capacity.value * 1.5 * 3.5);
    const bearing = find('shoring.front.plate.bearing');
    holds('P_platePerp_Cb1.25', bearing.capacity.value * 1.5 * 3.5);
    const areaFactor = bearing.steps.find((step) => step.id.endsWith('.Cb'))!.result.value;
    holds('P_platePerp_Cb1', (bearing.capacity.value / areaFactor) * 1.5 * 3.5);
  });
});
