import { describe, expect, it } from 'vitest';
import { pennyNail } from '../../src/engineering/fasteners/dowels/fastener.ts';
import { referenceLateral } from '../../src/engineering/fasteners/dowels/lateral.ts';
import { raisedTieFactor, rafterThrust } from '../../src/engineering/fasteners/heel-joint.ts';
import { checkStudCut } from '../../src/engineering/wood/irc/holes-and-notches.ts';
import {
  prescriptiveRow,
  type PrescriptiveItem,
  type PrescriptiveOption,
} from '../../src/engineering/fasteners/irc-fastening-schedule.ts';
import { EDITIONS } from '../engineering/fasteners/rows.ts';
import reference from './reference/irc-tables.json' with { type: 'json' };

interface PublishedRecord {
  readonly id: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: Readonly<Record<string, unknown>>;
  readonly source: { readonly title: string; readonly section: string };
  readonly provenance: string;
  readonly confidence?: string;
}
const records = reference.records as unknown as readonly PublishedRecord[];
const used = new Set<string>();
function each(prefix: string, check: (record: PublishedRecord) => void): void {
  for (const record of records.filter((candidate) => candidate.id.startsWith(prefix))) {
    used.add(record.id);
    it(`${record.id}: ${record.source.section} (${record.provenance}, confidence ${record.confidence ?? ''})`, () => {
      check(record);
    });
  }
}

/** Which item of our table a record is. */
const ITEM_OF: Readonly<Record<string, PrescriptiveItem>> = {
  row1: 'blocking to top plate',
  row2: 'ceiling joist to top plate',
  row3: 'ceiling joist lap over partition',
  row4: 'ceiling joist to parallel rafter',
  row6: 'rafter to plate',
  row8a: 'stud to stud',
  row9a: 'abutting studs at corners',
  row9b: 'abutting studs at corners',
  row10a: 'built-up header',
  row11: 'continuous header to stud',
  row13a: 'top plate to top plate',
  row13b: 'top plate to top plate',
  row14: 'top plate splice',
  row15: 'bottom plate to joist or rim',
  row17a: 'plate to stud, toe',
  row17b: 'plate to stud, end',
  row22: 'joist to sill, plate or girder',
  row23: 'rim or blocking to plate',
  row27: 'rim to joist',
  row28a: 'built-up beam, along',
  row28c: 'built-up beam, ends',
  row29: 'ledger strip',
};

describe('IRC Table R602.3(1)', () => {
  each('R602.3-1-', (record) => {
    const item = ITEM_OF[record.id.replace('R602.3-1-', '')];
    expect(item, record.id).toBeDefined();
    const ours = prescriptiveRow(item!);
    const options = record.expected.options as readonly {
      count?: number;
      nail?: string;
      spacing?: { value: number };
      text?: string;
    }[];
    for (const option of options) {
      if (option.text !== undefined) {
        expect(option.text).toBe(`see ${ours.see ?? ''}`);
        continue;
      }
      const match = ours.options.find(
        (candidate: PrescriptiveOption) =>
          candidate.nail === option.nail &&
          candidate.count === option.count &&
          candidate.spacingIn === option.spacing?.value,
      );
      expect(match, `${record.id} ${option.nail ?? ''}`).toBeDefined();
    }
  });
});

describe('IRC R802.5.2, heel joint', () => {
  each('HEEL-', (record) => {
    if (record.id.startsWith('HEEL-1_')) {
      const share = 1 / Number(record.id.replace('HEEL-1_', ''));
      const published = (record.expected.factor as { value: number }).value;
      expect(Math.abs(raisedTieFactor(share) - published)).toBeLessThanOrEqual(0.0051);
      return;
    }
    // The table counts 16d common nails; roof live load 20 psf and dead load 10 psf is what it is built on.
    const riseIn12 = Number((record.inputs.slope as string).split(':')[0]);
    const spacingIn = (record.inputs.rafterSpacing as { value: number }).value;
    const nailLb = referenceLateral(
      {
        fastener: pennyNail('common', '16d'),
        method: 'face',
        side: { material: 'wood', thicknessIn: 1.5, specificGravity: 0.5, angleDeg: 0 },
        main: { material: 'wood', thicknessIn: 1.5, specificGravity: 0.5, angleDeg: 0 },
        aheadIn: 0,
        path: record.id,
      },
      EDITIONS,
    ).zLb;
    for (const spanFt of [12, 24, 36]) {
      const published = (record.expected[`span${spanFt}`] as { value: number }).value;
      const { thrustLb } = rafterThrust(
        { spanIn: spanFt * 12, riseIn12, spacingIn, loadPlanPsf: 30, tieHeightShare: 0 },
        EDITIONS,
      );
      // Statics and the nail's own value, CD 1.25, never ask for more than the table, nor for less than half.
      const computed = Math.ceil(thrustLb / (1.25 * nailLb));
      expect(computed, `${record.id} ${spanFt} ft`).toBeLessThanOrEqual(published);
      expect(computed, `${record.id} ${spanFt} ft`).toBeGreaterThanOrEqual(published / 2);
    }
  });
});

describe('IRC R602.6, bored and notched studs', () => {
  each('R602.6', (record) => {
    const value = (key: string): number => (record.expected[key] as { value: number }).value;
    const capacity = (kind: 'notch' | 'bored hole', bearingWall: boolean, doubled: boolean): number =>
      checkStudCut(
        'cut',
        { kind, studDepthIn: 1, sizeIn: 0.1, bearingWall, doubled, edgeIn: 0.625 },
        EDITIONS.irc,
      ).find((check) => check.id === 'cut.size')!.capacity.value;
    expect(capacity('notch', true, false)).toBe(value('notchBearingMax'));
    expect(capacity('notch', false, false)).toBe(value('notchNonbearingMax'));
    expect(capacity('bored hole', true, false)).toBe(value('boreBearingSingleMax'));
    expect(capacity('bored hole', true, true)).toBe(value('boreMaxIfDoubled'));
  });
});

it('every fastening, heel-joint and boring record has been looked at', () => {
  const ours = records
    .filter((record) => /^(R602\.3|HEEL|R602\.6)/.test(record.id))
    .map((record) => record.id);
  expect(ours.filter((id) => !used.has(id))).toEqual([]);
  expect(ours).toHaveLength(22 + 8 + 1);
});
