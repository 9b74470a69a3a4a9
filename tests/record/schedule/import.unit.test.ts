import { describe, expect, it } from 'vitest';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import { fasteningRowSchema, type FasteningRow } from '../../../src/engineering/fasteners/index.ts';
import { proposeFastening } from '../../../src/engineering/proposal/fastening-context.ts';
import { canonicalJson } from '../../../src/record/canonical.ts';
import { fasteningForm } from '../../../src/record/kinds/fastening/form.ts';
import {
  compareByName,
  compareProposed,
  digestOf,
  nextKeys,
  titleOfRow,
  type KnownRow,
} from '../../../src/record/schedule/compare.ts';
import { exportSchedule, planImport } from '../../../src/record/schedule/import.ts';
import type { RowThere } from '../../../src/record/schedule/store.ts';
import { readTruck, truckAddress, truckList } from '../../../src/record/schedule/truck.ts';
import { fillForm } from '../../../src/web/forms/fill.ts';
import { judgeForm } from '../../../src/web/forms/judge.ts';

const windy = { ...demoCriteria, windWallPsf: 20, windUpliftPsf: 60 };
const { rows } = proposeFastening({
  criteria: windy,
  survey: { ...demoSurvey, wallIsExterior: true },
  beam: demoBeam,
  supports: demoSupports.map((support) => ({ ...support, jacks: 3 })),
  footings: demoFootings,
});
const { editions } = demoCriteria;

function known(row: FasteningRow, index: number): KnownRow {
  return { itemId: `item-${index}`, key: `N${index + 1}`, title: row.where, number: 1, row };
}
const there = rows.map(known);
/** As read from the record, but for what the file does not hold. */
const asStored = (list: readonly KnownRow[]) =>
  list.map((one) => ({ ...one, version: { calculation: null } }) as unknown as RowThere);

describe('a schedule out and in again', () => {
  it('comes back as it went, every row', () => {
    const plan = planImport(exportSchedule(asStored(there)), there, editions);
    expect(plan.errors).toEqual([]);
    expect(plan.rows.map((one) => one.is)).toEqual(rows.map(() => 'same'));
    expect(plan.missing).toEqual([]);
  });

  it('makes spreadsheet formulas harmless and gives them back unchanged', () => {
    const sly = [
      '=HYPERLINK("http://example.org";"x")',
      '+1+1',
      '-2+3',
      '@SUM(A1)',
      "'=1",
      '\t=1',
      '=1\n"a",b',
    ];
    const list = sly.map((note, index) => known({ ...rows[0]!, id: `n${index}`, note }, index));
    const text = exportSchedule(asStored(list));
    const cells = text.split(/,|\r\n/).map((cell) => cell.replace(/^"/, ''));
    expect(cells.filter((cell) => /^[=+@\t]|^-(?!\d+(\.\d+)?$)/.test(cell))).toEqual([]);
    const plan = planImport(text, list, editions);
    expect(plan.rows.map((one) => one.row.note)).toEqual(sly);
    expect(plan.rows.every((one) => one.is === 'same')).toBe(true);
  });

  it('names row and column of what is wrong, of the cell, of the row and of the engine, and plans nothing', () => {
    const text = exportSchedule(asStored(there.slice(0, 3)));
    const [heading = '', first = '', second = '', third = ''] = text.split('\r\n');
    const column = (name: string) => heading.replace('\uFEFF', '').split(',').indexOf(name);
    const withCell = (line: string, name: string, value: string) => {
      const cells = splitLine(line);
      cells[column(name)] = value;
      return cells.join(',');
    };
    const broken = [
      heading,
      withCell(first, 'spacing in', 'twelve'),
      '',
      withCell(second, 'edge distance in', '-1'),
      // Two pieces have no double shear: a rule of the whole row.
      withCell(withCell(third, 'judged by', 'yield limit'), 'shear', 'double'),
    ].join('\r\n');
    const plan = planImport(broken, there, editions);
    expect(plan.rows).toEqual([]);
    expect(plan.errors.map(({ row, column: name }) => [row, name])).toEqual([
      [2, 'spacing in'],
      [4, 'edge distance in'],
      [5, expect.stringMatching(/^(judged by|shear)$/)],
    ]);
    expect(plan.errors[0]?.sentence).toBe('"twelve" is not a number.');
  });

  it('passes on what the engine refuses, at its column', () => {
    const hot = { ...rows[0]!, conditions: { ...rows[0]!.conditions, temperatureF: 200 } };
    const plan = planImport(exportSchedule(asStored([known(hot, 0)])), [], editions);
    expect(plan.errors).toEqual([
      { row: 2, column: 'temperature F', sentence: expect.stringContaining('150 °F') as string },
    ]);
  });

  it('tells changed, new and missing apart', () => {
    const changed = { ...rows[0]!, note: 'Changed.' };
    const added = { ...rows[1]!, id: 'another' };
    const plan = planImport(
      exportSchedule(asStored([changed, rows[2]!, added].map(known))),
      there.slice(0, 4),
      editions,
    );
    expect(plan.rows.map((one) => one.is)).toEqual(['differs', 'same', 'new']);
    expect(plan.rows[0]).toMatchObject({ changes: [{ heading: 'note', now: 'Changed.' }] });
    expect(plan.missing.map((one) => one.key)).toEqual(['N2', 'N4']);
  });

  it('refuses an empty file, and names that two rows share', () => {
    expect(planImport('id,joint\r\n', [], editions).errors[0]?.sentence).toContain('no rows');
    const twins = [known(rows[0]!, 0), known(rows[0]!, 1)];
    const shared = planImport(exportSchedule(asStored([known(rows[1]!, 0)])), twins, editions);
    expect(shared.errors[0]?.sentence).toContain('Row N2 has the short name "beam-plies" of another row');
  });
});

function splitLine(line: string): string[] {
  return [...line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)].slice(0, -1).map((match) => match[1] ?? '');
}

describe('comparison', () => {
  it('keeps the name of a row that is there, and matches the only one of a joint', () => {
    const own = known({ ...rows[0]!, id: 'n1', note: 'Mine.' }, 0);
    const [first] = compareProposed(rows, [own]);
    expect(first).toMatchObject({ is: 'differs', row: { id: 'n1' }, there: { key: 'N1' } });
    const same = compareProposed(rows, [known({ ...rows[0]!, id: 'n1' }, 0)])[0];
    expect(same?.is).toBe('same');
  });

  it('never matches one of two of a joint by guess', () => {
    const both = known({ ...rows.find((row) => row.joint === 'jack to king')!, id: 'n4' }, 0);
    const found = compareProposed(rows, [both]).filter((one) => one.row.joint === 'jack to king');
    expect(found.map((one) => one.is)).toEqual(['new', 'new']);
    expect(found[0]).toMatchObject({ sameJoint: [{ key: 'N1' }] });
  });

  it('digests what was shown: another figure or another version is another digest', () => {
    const [one] = compareByName([{ ...rows[0]!, note: 'x' }], there);
    const [other] = compareByName([{ ...rows[0]!, note: 'y' }], there);
    const [later] = compareByName([{ ...rows[0]!, note: 'x' }], [{ ...there[0]!, number: 2 }]);
    expect(new Set([one, other, later].map((compared) => digestOf(compared!))).size).toBe(3);
  });

  it('names and numbers new rows', () => {
    expect(titleOfRow(rows[1]!)).toBe('Stud pack plies, left');
    expect(titleOfRow(rows.at(-1)!)).toMatch(/^Brace foot, Rear brace/);
    expect(nextKeys(['N1', 'N7', 'A-1'], 2)).toEqual(['N8', 'N9']);
    expect(nextKeys([], 1)).toEqual(['N1']);
  });
});

describe('the form of a row', () => {
  const listing = {
    report: 'R',
    downLb: 1,
    upLb: 0,
    nailsRequired: 4,
    nailDiameterIn: 0.148,
    nailLengthIn: 1.5,
    shortNailsAllowed: false,
  };
  const declared = {
    report: 'R',
    shearLb: 1,
    tensionLb: 2,
    leastEdgeIn: 3,
    leastSpacingIn: 4,
    leastEmbedmentIn: 3.5,
    leastConcreteThicknessIn: 4,
  };
  const screw = {
    kind: 'structural screw',
    report: 'R',
    diameterIn: 0.22,
    rootDiameterIn: 0.16,
    lengthIn: 5,
    threadLengthIn: 2,
    tipLengthIn: 0.25,
    fybPsi: 150_000,
    headDiameterIn: 0.4,
    withdrawalLbPerIn: 150,
    pullThroughLb: 300,
    lateralLb: 250,
    coversBuiltUpColumns: true,
  } as const;
  const hanger: FasteningRow = {
    ...rows.find((row) => row.joint === 'joist hanger')!,
    basis: { kind: 'listing', listing },
  };
  const anchor: FasteningRow = {
    ...rows.find((row) => row.joint === 'sole plate anchor')!,
    basis: { kind: 'anchor', concreteEdgeIn: 2.75, declared },
  };
  const strap: FasteningRow = {
    ...rows[0]!,
    members: [{ ...hanger.members[0]!, ultimatePsi: 65_000 }, rows[0]!.members[1]!],
  };
  const odd: FasteningRow = { ...rows[0]!, fastener: screw, edgeDistanceIn: 11 / 7, note: 'a\nb' };

  it.each([...rows, hanger, anchor, strap, odd].map((row, index) => [`${index} ${row.id}`, row] as const))(
    'holds all of a row: %s',
    (_, row) => {
      const judged = judgeForm(fasteningForm.spec, fasteningRowSchema, fillForm(fasteningForm.spec, row));
      expect(judged.form.errors).toEqual({});
      expect(judged.ok && canonicalJson(judged.content)).toBe(canonicalJson(row));
    },
  );
});

describe('the truck', () => {
  it('reads ticks and entries of one’s own, and carries them on to the next row', () => {
    const [group] = truckList;
    const query = {
      on: [group!.labels[0]!, 'no such nail'],
      'own.0.kind': 'pneumatic',
      'own.0.diameter': '.131',
      'own.0.length': '3 1/4',
      'own.1.kind': 'wood screw',
      'own.1.diameter': '#10',
      'own.1.length': '3"',
    };
    const truck = readTruck(query);
    expect(truck.errors).toEqual({});
    expect(truck.fasteners).toHaveLength(3);
    expect(truck.fasteners.slice(1)).toEqual([
      { kind: 'nail', style: 'pneumatic', diameterIn: 0.131, lengthIn: 3.25 },
      { kind: 'wood screw', gauge: 10, lengthIn: 3 },
    ]);
    const again = new URLSearchParams(truckAddress(truck));
    expect(readTruck({ ...Object.fromEntries(again), on: again.getAll('on') }).fasteners).toEqual(
      truck.fasteners,
    );
  });

  it('says at the box what it can’t read', () => {
    const errors = (diameter: string, length: string, kind = 'pneumatic') =>
      readTruck({ 'own.2.kind': kind, 'own.2.diameter': diameter, 'own.2.length': length }).errors;
    expect(errors('thick', '3')).toHaveProperty(['own.2.diameter']);
    expect(errors('0.131', '')).toHaveProperty(['own.2.length']);
    expect(errors('131', '3')).toHaveProperty(['own.2.diameter']);
    expect(errors('0.131', '300')).toHaveProperty(['own.2.length']);
    expect(errors('0.131', '3', 'rivet')).not.toEqual({});
    expect(readTruck({ on: { a: 1 }, 'own.0.length': ['3'] }).fasteners).toEqual([]);
  });
});
