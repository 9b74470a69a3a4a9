import type { Content, TableCell } from 'pdfmake/interfaces.js';
import { minuteText } from '../../house-time.ts';
import type { CheckView, StepView } from '../../web/check-view.ts';
import {
  bullets,
  CHALK,
  CRAYON,
  documentOf,
  drawing,
  facts,
  heading,
  paragraph,
  setParagraph,
  SOFT,
  table,
  TEXT_SIZE,
  textWidth,
} from '../pdf/blocks.ts';
import { svgOnPaper } from '../pdf/figure.ts';
import { makePdf } from '../pdf/make-pdf.ts';
import type { Paper } from '../pdf/paper.ts';
import { setLines } from '../pdf/set-lines.ts';
import type { CalculationSheet, SheetCandidate, SheetItem } from './model.ts';

const WIDTH = 500;

/** The sheet that an engineer would file: selectable text, fonts embedded, every check with its clause and numbers. */
export async function calculationSheetPdf(sheet: CalculationSheet, paper: Paper = 'LETTER'): Promise<Buffer> {
  const title = `Calculation, opening ${sheet.opening.ordinal}: ${sheet.opening.name}`;
  return makePdf(
    documentOf(
      {
        title: `${title}, ${sheet.project.name}`,
        head: `${sheet.project.name} · ${title}`,
        foot: `${sheet.basis.split('.')[0] ?? ''} · ${sheet.hash.slice(0, 16)}`,
        madeAt: sheet.madeAt,
      },
      [
        ...front(sheet, title),
        ...takeOff(sheet),
        ...sheet.items.flatMap((one) => item(one, textWidth(paper), sheet.timeZone)),
        ...candidates(sheet),
        ...end(sheet),
      ],
      { paper },
    ),
  );
}

function front(sheet: CalculationSheet, title: string): Content[] {
  const { project } = sheet;
  return [
    heading(title, 1),
    facts([
      ['House', [project.name, project.address].filter((one) => one !== '').join(', ')],
      ['Jurisdiction', project.jurisdiction],
      ...(project.permitNumber === '' ? [] : [['Permit', project.permitNumber] as const]),
      ['State', sheet.basis],
      ['Hash of that state', sheet.hash],
      ['Made', minuteText(sheet.madeAt, sheet.timeZone)],
    ]),
    ...sheet.warnings.map((warning) => paragraph(warning, 'crayon')),
    heading('Results at a glance'),
    table(
      ['Item', 'Version', 'Stands', 'Checks', 'Governing', 'Ratio'],
      sheet.items
        .filter(({ calculation }) => calculation !== null && calculation.checks.length > 0)
        .map(({ title: name, key, number, stands, calculation }): TableCell[] => [
          `${name} (${key})`,
          String(number),
          stands,
          calculation?.failing ? `${calculation.failing} not met` : `${calculation?.passing ?? 0} met`,
          calculation?.governing?.title ?? '',
          ratioCell(calculation?.governing ?? null),
        ]),
      [110, 36, 100, 44, '*', 34],
    ),
  ];
}

function ratioCell(check: CheckView | null): TableCell {
  if (check === null) return '';
  return { text: check.ratioText, bold: true, color: check.passes ? CHALK : CRAYON, alignment: 'right' };
}

function takeOff({ loads, combinations }: CalculationSheet): Content[] {
  if (loads.length === 0) return [];
  return [
    // On a page of its own: what is done by hand is held against it.
    { stack: [heading('Load take-off')], pageBreak: 'before' },
    paragraph(
      'Along the wall from the datum; kinds kept apart: D dead, L live, Lr roof live, S snow, W wind.',
      'soft',
    ),
    table(
      ['Load', 'Kind', 'Amount', 'Where'],
      loads.map((load) => [load.label, load.kind, { text: load.amount, alignment: 'right' }, load.where]),
      ['*', 90, 70, 120],
    ),
    heading('Load combinations', 3),
    table(
      ['Combination', 'Duration factor CD'],
      combinations.map(({ name, durationFactor }) => [name, { text: durationFactor, alignment: 'right' }]),
      ['*', 100],
    ),
  ];
}

function item(one: SheetItem, width: number, timeZone: string): Content[] {
  const { calculation } = one;
  return [
    heading(`${one.kindTitle}: ${one.title} (${one.key})`),
    paragraph(
      `Version ${one.number}, by ${one.authorName}, ${minuteText(one.at, timeZone)}; ${one.stands}. Hash ${one.hash.slice(0, 16)}. Engine ${one.engineVersion}.`,
      'soft',
    ),
    bullets(one.lines),
    ...one.pictures.map((picture): Content => ({
      unbreakable: true,
      stack: [
        heading(picture.title, 3),
        picture.paper === undefined
          ? drawing(picture.svg, WIDTH)
          : svgOnPaper(picture.svg, picture.paper.widthIn, picture.paper.heightIn),
      ],
    })),
    ...(calculation === null
      ? []
      : [
          ...calculation.notices.map(({ caution, lead, text, clause }) =>
            paragraph(
              `${caution ? 'Caution' : 'Note'}: ${lead === '' ? '' : `${lead}: `}${text}${clause === '' ? '' : ` (${clause})`}`,
              caution ? 'crayon' : 'ink',
            ),
          ),
          ...calculation.checks.flatMap((made) => check(made, width)),
          ...(calculation.outputs.length === 0
            ? []
            : [
                heading('Figures that others rest on', 3),
                facts(calculation.outputs.map(({ term, detail }) => [term, detail] as const)),
              ]),
          ...(calculation.steps.length === 0
            ? []
            : [heading('Step by step', 3), ...calculation.steps.map((made) => step(made, width))]),
        ]),
  ];
}

function check(one: CheckView, width: number): Content[] {
  return [
    {
      margin: [0, 5, 0, 1],
      columns: [
        {
          width: '*',
          stack: [setLines(one.title, width - RATIO_WIDTH, { fontSize: TEXT_SIZE, bold: true })],
        },
        {
          text: `${one.ratioText} ${one.passes ? 'met' : 'NOT MET'}`,
          bold: true,
          color: one.passes ? CHALK : CRAYON,
          alignment: 'right',
          noWrap: true,
          width: RATIO_WIDTH,
        },
      ],
    },
    setParagraph(
      `${one.sentence} Demand ${one.demand}, capacity ${one.capacity}${one.governing === undefined ? '' : `, under ${one.governing}`}. ${one.clause}.`,
      width,
    ),
    ...one.steps.map((made) => step(made, width)),
  ];
}

const RATIO_WIDTH = 90;
const CLAUSE_WIDTH = 140;
const STEP_INDENT = 10;
const STEP_SIZE = 8;

/** Formula, then the values put in, then the result, each on a line where they differ. */
function step(one: StepView, width: number): Content {
  const lines = [one.formula, one.substituted, one.result].filter((line, at, all) => line !== all[at - 1]);
  const room = width - STEP_INDENT - CLAUSE_WIDTH;
  const words = (text: string) => setLines(text, room, { fontSize: STEP_SIZE, color: SOFT });
  return {
    margin: [STEP_INDENT, 1, 0, 2],
    unbreakable: true,
    columns: [
      {
        width: '*',
        stack: [
          words(one.title),
          ...lines.map((text, at) =>
            setLines(text, room, { fontSize: STEP_SIZE, bold: at === lines.length - 1 }),
          ),
          ...(one.note === undefined ? [] : [words(one.note)]),
        ],
      },
      {
        width: CLAUSE_WIDTH,
        stack: [setLines(one.clause, CLAUSE_WIDTH, { fontSize: STEP_SIZE, color: SOFT, alignment: 'right' })],
      },
    ],
  };
}

function candidates({ candidates: found }: CalculationSheet): Content[] {
  if (found === null) return [];
  const rows = (list: readonly SheetCandidate[], last: (one: SheetCandidate) => string) =>
    list.map((one): TableCell[] => [one.words, one.depth, one.weight, one.used, last(one)]);
  return [
    heading('Beams considered'),
    paragraph(
      `${found.judged} members judged on every check; ${found.passing} pass and fit. ${found.rule}`,
      'soft',
    ),
    ...(found.ranked.length === 0
      ? [paragraph('None passes and fits.', 'crayon')]
      : [
          table(
            ['Member', 'Depth', 'Weight', 'Used', ''],
            rows(found.ranked, () => 'would do'),
            CANDIDATE_WIDTHS,
          ),
        ]),
    ...(found.nearMisses.length === 0
      ? []
      : [
          heading('Near misses, and why', 3),
          table(
            ['Member', 'Depth', 'Weight', 'Used', 'Not met'],
            rows(found.nearMisses, (one) => one.why),
            CANDIDATE_WIDTHS,
          ),
        ]),
  ];
}

const CANDIDATE_WIDTHS = [150, 50, 60, 34, '*'] as const;

function end({ assumptions, limits }: CalculationSheet): Content[] {
  return [
    heading('Assumed or taken from plans, not measured'),
    assumptions.length === 0
      ? paragraph('Nothing: every entry of the survey is marked as measured.')
      : bullets(assumptions),
    heading('Limits'),
    bullets(limits),
  ];
}
