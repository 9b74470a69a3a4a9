import type { Content, TableCell } from 'pdfmake/interfaces.js';
import { dayText } from '../../house-time.ts';
import { bullets, CRAYON, documentOf, facts, heading, paragraph, SOFT, table } from '../pdf/blocks.ts';
import { makePdf } from '../pdf/make-pdf.ts';
import type { Paper } from '../pdf/paper.ts';
import type { ScheduleSheet } from './gather.ts';

type Row = ScheduleSheet['rows'][number];

/** The nailing and fastener schedule on lying sheets: a line a row, its revision in a triangle, what changed beside it. */
export async function fastenerSchedulePdf(sheet: ScheduleSheet, paper: Paper = 'LETTER'): Promise<Buffer> {
  const title = 'Nailing and fastener schedule';
  const of = `opening ${sheet.opening.ordinal}: ${sheet.opening.name}`;
  const stand =
    sheet.setNumber === null ? 'Working document, not approved' : `Approved set ${sheet.setNumber}`;
  return makePdf(
    documentOf(
      {
        title: `${title}, ${of}, ${sheet.house}`,
        head: `${sheet.house} · ${title}, ${of} · ${stand}`,
        foot: sheet.hash === null ? stand : `${stand} · ${sheet.hash.slice(0, 16)}`,
        madeAt: sheet.madeAt,
      },
      [
        heading(title, 1),
        facts([
          ['House', [sheet.house, sheet.address].filter((one) => one !== '').join(', ')],
          ['Opening', `${sheet.opening.ordinal}. ${sheet.opening.name}`],
          ['State', sheet.basis],
          ...(sheet.hash === null ? [] : [['Hash of the set', sheet.hash] as const]),
        ]),
        ...sheet.warnings.map((warning) => paragraph(warning, 'crayon')),
        sheet.rows.length === 0 ? paragraph('There are no fastening rows.', 'soft') : rows(sheet),
        paragraph(
          `△ The number is the version of the row; what changed ${sheet.setNumber === null ? '' : 'since the set before '}stands beside it.`,
          'soft',
        ),
        bullets([
          'A row that is not here is not approved here. Where a listing or a local code asks for more, that goes first.',
        ]),
      ],
      { paper, landscape: true },
    ),
  );
}

function rows({ rows: list, withResults, timeZone }: ScheduleSheet): Content {
  return withResults
    ? table(
        ['Row', 'Joint', 'Fastening', 'Demand and capacity', 'The code’s row', 'State and revisions'],
        list.map((row) => [
          mark(row),
          joint(row),
          fastening(row),
          result(row),
          code(row),
          state(row, timeZone),
        ]),
        [44, 120, '*', 110, 110, 130],
      )
    : table(
        ['Row', 'Joint', 'Fastening', 'State and revisions'],
        list.map((row) => [mark(row), joint(row), fastening(row), state(row, timeZone)]),
        [44, 160, '*', 190],
      );
}

function mark({ key, number }: Row): TableCell {
  return {
    stack: [
      { text: key, bold: true },
      { text: `△${number}`, bold: true, noWrap: true },
    ],
  };
}

function joint({ where, pieces }: Row): TableCell {
  return { stack: [{ text: where, bold: true }, small(pieces)] };
}

function fastening({ fastener, pattern, distances, note }: Row): TableCell {
  return {
    stack: [
      { text: fastener, bold: true },
      { text: pattern },
      small(distances),
      ...(note === '' ? [] : [small(note)]),
    ],
  };
}

function result({ result: found, source }: Row): TableCell {
  if (found === null) return small('not calculated');
  const { check, demand, capacity, ratio, passes, sentence } = found;
  return {
    stack: [
      { text: `${demand} of ${capacity}` },
      { text: `${ratio}, ${passes ? 'met' : 'not met'}`, bold: true, ...(passes ? {} : { color: CRAYON }) },
      ...[check, sentence, source].filter((text) => text !== '').map(small),
    ],
  };
}

function code({ result: found }: Row): TableCell {
  const beside = found?.prescriptive ?? null;
  if (beside === null) return small('none named');
  return {
    stack: [
      small(beside.text),
      ...(beside.fallsShort ? [{ text: 'less than the code’s', color: CRAYON, fontSize: 7.5 }] : []),
    ],
  };
}

/** The last few are enough on paper: all of them are in the history of the row. */
const SHOWN = 3;

function state({ state: words, revisions }: Row, timeZone: string): TableCell {
  return {
    stack: [
      { text: words },
      ...revisions
        .slice(-SHOWN)
        .map(({ number, at, by, role, reason, changes }) =>
          small(
            `△${number} ${by} (${role}), ${dayText(at, timeZone)}${reason === '' ? '' : `: ${reason}`}${changes.length === 0 ? '' : `. ${changes.join('; ')}`}`,
          ),
        ),
    ],
  };
}

function small(text: string) {
  return { text, fontSize: 7.5, color: SOFT };
}
