import type { Column, Content, TableCell } from 'pdfmake/interfaces.js';
import { dayText } from '../../house-time.ts';
import type { DrawnOpening } from '../drawings/scaled/index.ts';
import { viewsOf } from '../opening-drawings/views.ts';
import { bullets, drawing, facts, heading, paragraph, RECORD_LINE, SOFT, table } from '../pdf/blocks.ts';
import { figureOnPaper } from '../pdf/figure.ts';
import { makePdf } from '../pdf/make-pdf.ts';
import type { Paper } from '../pdf/paper.ts';
import { roomOnSheet, sheetsOf } from '../pdf/title-block.ts';
import { LIMITS } from '../calculation-sheet/model.ts';
import type { DrawingSheet, SheetPattern } from './gather.ts';

const POINTS = 72;
/** The marks stand in a column beside the elevation. */
const MARKS_IN = 2.35;
const GAP_IN = 0.2;

/**
 * The drawings of an approved set on lying sheets: elevation with the marks to lay out, sections at the supports,
 * nailing patterns, notes, revisions. Views are to scale on the paper asked for.
 */
export async function drawingSheetPdf(sheet: DrawingSheet, paper: Paper = 'LETTER'): Promise<Buffer> {
  const { set, drawings } = sheet;
  const { project, opening } = drawings;
  const pages = [
    ...views(sheet, paper),
    ...(sheet.patterns.length === 0 ? [] : [patterns(sheet.patterns, paper)]),
    notes(sheet),
  ];
  return makePdf(
    sheetsOf(
      {
        title: 'Drawings',
        house: project.name,
        opening: `opening ${opening.ordinal}: ${opening.name}`,
        set: `Approved set ${set.number}`,
        issued: `Issued ${dayText(set.issuedAt, drawings.timeZone)} by ${set.content.issuedBy.name}`,
        hash: set.hash,
        warnings: warningsOf(sheet),
        checkUrl: sheet.checkUrl,
        madeAt: sheet.madeAt,
      },
      pages.map((stack, index): Content => (index === 0 ? { stack } : { stack, pageBreak: 'before' })),
      paper,
    ),
  );
}

function warningsOf({ set }: DrawingSheet): string[] {
  return [
    ...(set.supersededBy === null ? [] : [`Superseded: set ${set.supersededBy} is in force.`]),
    ...set.flags.map((flag) => flag.sentence),
  ];
}

/** The elevation on a sheet of its own, the sections side by side on the next. */
function views({ drawings: { drawn, why } }: DrawingSheet, paper: Paper): Content[][] {
  if (drawn === null) return [[heading('Nothing to draw to scale'), paragraph(why, 'crayon')]];
  const room = roomOnSheet(paper);
  const half = (room.widthIn - GAP_IN) / 2;
  // The title block says for every view whose state it is.
  const [elevation, ...sections] = viewsOf(
    { ...drawn, notes: [] },
    {
      elevation: { widthIn: room.widthIn - MARKS_IN - 2 * GAP_IN, heightIn: room.heightIn - 0.2 },
      section: { widthIn: half - GAP_IN, heightIn: room.heightIn - 0.2 },
    },
  );
  return [
    ...(elevation === undefined
      ? []
      : [
          [
            {
              columns: [
                { width: '*', stack: [figureOnPaper(elevation)] },
                { width: MARKS_IN * POINTS, stack: marks(drawn) },
              ],
              columnGap: GAP_IN * POINTS,
            } as Content,
          ],
        ]),
    ...(sections.length === 0
      ? []
      : [[{ columns: sections.map(figureOnPaper), columnGap: GAP_IN * POINTS } as Content]]),
  ];
}

/** Every mark with its running distance: one tape pulled once. */
function marks({ layout }: DrawnOpening): Content[] {
  return [
    heading('Marks to lay out', 3),
    { text: `From the datum: ${layout.datum}`, color: SOFT, fontSize: 7.5, margin: [0, 0, 0, 2] },
    {
      ...(table(
        ['At', 'Mark'],
        layout.marks.map(({ tape, kind, label }): TableCell[] => [
          { text: tape, noWrap: true },
          { text: kind === 'cut' ? `cut: ${label}` : label, bold: kind === 'cut' },
        ]),
        [54, '*'],
      ) as object),
      fontSize: 7.5,
    } as Content,
  ];
}

/** Least width of a pattern, in, at which its words can be read. */
const PATTERN_IN = 3.1;

/** As many in a row as can be read, each with the rows that are nailed so. */
function patterns(list: readonly SheetPattern[], paper: Paper): Content[] {
  const room = roomOnSheet(paper);
  const beside = Math.floor((room.widthIn + GAP_IN) / (PATTERN_IN + GAP_IN));
  const width = ((room.widthIn - (beside - 1) * GAP_IN) / beside) * POINTS;
  const cell = ({ keys, rows, words, svg }: SheetPattern): Column => ({
    width,
    stack: [
      { text: rows.length === 1 ? (rows[0] ?? keys) : keys, bold: true },
      ...(rows.length === 1 ? [] : [{ text: rows.join('; '), fontSize: 7.5 }]),
      { text: words, fontSize: 7.5, color: SOFT },
      svg === null ? paragraph('Not drawn.', 'soft') : drawing(svg, width),
    ],
  });
  const rows: Content[] = [];
  for (let at = 0; at < list.length; at += beside) {
    rows.push({
      columns: list.slice(at, at + beside).map(cell),
      columnGap: GAP_IN * POINTS,
      unbreakable: true,
      margin: [0, 0, 0, 4],
    });
  }
  return [heading('Nailing and fastening patterns'), ...rows];
}

function notes(sheet: DrawingSheet): Content[] {
  const { set, drawings, revisions } = sheet;
  const { content } = set;
  const warnings = warningsOf(sheet);
  return [
    {
      columns: [
        {
          width: '*',
          stack: [
            heading('Notes'),
            ...warnings.map((one) => paragraph(one, 'crayon')),
            facts([
              ['House', [drawings.project.name, drawings.project.address].filter(Boolean).join(', ')],
              ['Jurisdiction', content.project.jurisdiction],
              ['Permit', content.project.permitNumber || 'none given'],
              ['Hash of the set', `${set.hash.slice(0, 32)} ${set.hash.slice(32)}`],
            ]),
            ...(set.note === '' ? [] : [heading('The engineer’s note', 3), paragraph(set.note)]),
            // What the fastening rows say stands beside their patterns.
            ...content.entries
              .filter(({ kind }) => kind !== 'fastening')
              .map(({ title, key, number, lines }): Content => ({
                margin: [0, 0, 0, 2],
                text: [{ text: `${title} (${key}, version ${number}): `, bold: true }, lines.join('. ')],
              })),
            ...(content.gaps.length === 0
              ? []
              : [heading('Left open by this set', 3), bullets(content.gaps.map((gap) => gap.sentence))]),
          ],
        },
        {
          width: '*',
          stack: [
            heading('Revisions'),
            table(
              ['Set', 'Issued', 'By', 'Changed'],
              [...revisions]
                .reverse()
                .map(({ number, issuedAt, by, changes }): TableCell[] => [
                  String(number),
                  dayText(issuedAt, drawings.timeZone),
                  by,
                  { stack: changes.map((text) => ({ text })) },
                ]),
              [22, 60, 60, '*'],
            ),
            heading('Limits', 3),
            bullets([
              'Measured lengths go before those scaled off a sheet. The scale bar shows whether a print is to scale.',
              ...LIMITS.filter((line) => !line.startsWith(RECORD_LINE.slice(0, -1))),
              `${RECORD_LINE} The licensed engineer and the authority having jurisdiction decide.`,
            ]),
          ],
        },
      ],
      columnGap: 24,
    },
  ];
}
