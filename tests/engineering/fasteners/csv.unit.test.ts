import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  judgeRow,
  parseSchedule,
  serialiseSchedule,
  type FasteningRow,
} from '../../../src/engineering/fasteners/index.ts';
import {
  guardCell,
  readCell,
  readRecords,
  writeRecords,
} from '../../../src/engineering/fasteners/schedule/csv-text.ts';
import { EDITIONS, ply, row } from './rows.ts';

describe('CSV', () => {
  const text = fc.string({ minLength: 1, maxLength: 30 });
  const rows: readonly FasteningRow[] = [
    row(),
    row({
      id: 'hanger',
      joint: 'joist hanger',
      demand: {
        per: 'connector',
        downLb: 416,
        upLb: 12.5,
        durationFactor: 1,
        combination: 'D + L',
        source: 'joist',
      },
      basis: {
        kind: 'listing',
        listing: {
          report: 'R-1',
          downLb: 900,
          upLb: 200,
          nailsRequired: 10,
          nailDiameterIn: 0.148,
          nailLengthIn: 3,
          shortNailsAllowed: true,
        },
      },
      prescriptiveItem: 'ledger strip',
    }),
    row({ id: 'three', members: [ply('a'), ply('b'), ply('c')], note: 'line one\nline "two", three' }),
  ];

  it('comes back as it went out', () => {
    const parsed = parseSchedule(
      serialiseSchedule(
        rows,
        rows.map((one) => judgeRow(one, EDITIONS)),
      ),
    );
    expect(parsed.errors).toEqual([]);
    expect(parsed.rows).toEqual(rows);
  });

  it('comes back whatever the words are', () => {
    fc.assert(
      fc.property(text, text, text, (where, name, note) => {
        const one = row({ where, note, members: [ply(name), ply('main')] });
        expect(parseSchedule(serialiseSchedule([one])).rows).toEqual([one]);
      }),
    );
  });

  it('never lets a cell begin as a formula', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('=', '+', '-', '@', '\t', '\r', "'"),
        fc.string({ maxLength: 20 }),
        (start, rest) => {
          const guarded = guardCell(`${start}x${rest}`);
          expect(guarded.startsWith("'")).toBe(true);
          expect(readCell(guarded)).toBe(`${start}x${rest}`);
          expect(readRecords(writeRecords([[`${start}x${rest}`, 'b']])).records[0]!.map(readCell)).toEqual([
            `${start}x${rest}`,
            'b',
          ]);
        },
      ),
    );
  });

  const edit = (change: (cells: string[][]) => void): string => {
    const cells = readRecords(serialiseSchedule(rows)).records.map((record) => [...record]);
    change(cells);
    return writeRecords(cells);
  };
  const at = (cells: readonly string[][], heading: string): number => cells[0]!.indexOf(heading);

  it.each([
    ['spacing in', 'twelve', /not a number/],
    ['spacing in', '0', /./],
    ['rows', '', /filled in/],
    ['staggered', 'maybe', /yes or no/],
    ['piece 2 thickness in', '-1', /./],
    ['piece 1 G', '9', /./],
    ['fastener gauge', '10', /leave it empty/],
    ['joint', 'somewhere', /./],
    ['lateral plf', '10', /leave it empty/],
  ])('names row and column of a fault in "%s" (%s)', (heading, value, sentence) => {
    const parsed = parseSchedule(
      edit((cells) => {
        cells[1]![at(cells, heading)] = value;
      }),
    );
    expect(parsed.errors).toHaveLength(1);
    expect(parsed.errors[0]).toMatchObject({ row: 2, column: heading });
    expect(parsed.errors[0]!.sentence).toMatch(sentence);
    expect(parsed.rows.map((one) => one.id)).toEqual(['hanger', 'three']);
  });

  it('tells unknown, doubled and missing headings, doubled ids, open quotes and empty files', () => {
    expect(
      parseSchedule(
        edit((cells) => {
          cells[0]![0] = 'ident';
        }),
      ).errors[0],
    ).toMatchObject({ row: 1, column: 'ident' });
    expect(
      parseSchedule(
        edit((cells) => {
          cells[0]![1] = 'id';
        }),
      ).errors[0]!.sentence,
    ).toMatch(/twice/);
    expect(
      parseSchedule(
        edit((cells) => {
          cells[2]![0] = 'row';
        }),
      ).errors[0],
    ).toMatchObject({ row: 3, column: 'id' });
    expect(parseSchedule('id,"joint').errors[0]!.sentence).toMatch(/never closed/);
    expect(parseSchedule('').errors[0]!.sentence).toMatch(/empty/);
  });
});
