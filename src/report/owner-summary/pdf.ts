import type { Content } from 'pdfmake/interfaces.js';
import { longDayText } from '../../house-time.ts';
import { atLargestScale, elevationFigure } from '../drawings/scaled/index.ts';
import { bullets, CHALK, documentOf, heading, INK, paragraph, SOFT } from '../pdf/blocks.ts';
import { figureOnPaper } from '../pdf/figure.ts';
import { makePdf } from '../pdf/make-pdf.ts';
import type { Paper } from '../pdf/paper.ts';
import type { OwnerSummary } from './gather.ts';

const STATES = { done: 'done', 'under way': 'under way', 'to come': 'to come' } as const;

/** For somebody who is no builder: what is to be decided, is it safe, what is next, how far it is, what is being built. */
export async function ownerSummaryPdf(summary: OwnerSummary, paper: Paper = 'LETTER'): Promise<Buffer> {
  const { page, house, madeAt } = summary;
  const title = `How far it is: ${page.openingName}`;
  return makePdf(
    documentOf(
      {
        title: `${title}, ${house}`,
        head: `${house} · ${title}`,
        foot: page.planNumber === 0 ? 'No plan is approved yet' : `Approved plan ${page.planNumber}`,
        madeAt,
      },
      [
        top(summary, title),
        ...decisions(summary),
        heading('Is it safe?'),
        { text: page.safety.words, bold: true, margin: [0, 0, 0, 3] },
        paragraph(
          'This paper can’t see your house. Leave the room and call your contractor at once if a ceiling sags, a crack opens, a door begins to stick, or you hear wood creak under load. In danger, leave the house and call 911.',
        ),
        paragraph('Keep children and pets out of the work area. Dust of old paint can hold lead.'),
        heading('What is next'),
        page.next === null
          ? paragraph('Everything on the list is done.')
          : { text: [{ text: `${page.next.title}. `, bold: true }, waiting(page.next)] },
        ...days(summary),
        heading('Step by step'),
        ...page.stages.map((one, index) => stage(one, index, summary.timeZone)),
        ...visits(summary),
        ...plan(summary),
      ],
      { paper },
    ),
  );
}

function top({ house, address, timeZone, liveUrl, madeAt }: OwnerSummary, title: string): Content {
  return {
    columns: [
      {
        width: '*',
        stack: [
          heading(title, 1),
          { text: [house, address].filter((one) => one !== '').join(', ') },
          paragraph(`As the record stood on ${longDayText(madeAt, timeZone)}.`, 'soft'),
        ],
      },
      {
        width: 84,
        stack: [
          { qr: liveUrl, fit: 70, foreground: INK },
          { text: 'The code opens this page as it is now.', fontSize: 7, color: SOFT },
        ],
      },
    ],
    columnGap: 14,
  };
}

/** What was asked and answered, as on the page; nothing where nobody asked. */
function decisions({ matters, timeZone }: OwnerSummary): Content[] {
  if (matters === null) return [];
  const asked = [...matters.decisions, ...matters.decided];
  if (asked.length + matters.undecided.length === 0) return [];
  return [
    heading('What the owner decides'),
    ...asked.map(({ said, waitsOn }): Content => ({
      stack: [
        ...said.map(({ byName, at, text }): Content => ({
          text: [{ text: `${byName}, ${longDayText(at, timeZone)}: `, bold: true }, text],
        })),
        ...(waitsOn === null ? [] : [paragraph(`It waits on the ${waitsOn}.`, 'soft')]),
      ],
      margin: [0, 0, 0, 5],
    })),
    ...(matters.undecided.length === 0
      ? []
      : [
          paragraph(
            'What becomes of what comes out of the wall and can be used again is still to be decided:',
          ),
          bullets(matters.undecided.map(({ what, howMany }) => `${what}, ${howMany}`)),
        ]),
  ];
}

type Stage = OwnerSummary['page']['stages'][number];

function waiting({ words, waitsOn }: Stage): string {
  return `${words}${waitsOn === '' ? '' : ` It waits on ${waitsOn}.`}`;
}

function stage(one: Stage, index: number, timeZone: string): Content {
  const when =
    one.on !== null
      ? ` Last step on ${longDayText(one.on, timeZone)}.`
      : one.state === 'to come'
        ? ' No date is set yet.'
        : '';
  return {
    margin: [0, 0, 0, 5],
    unbreakable: true,
    columns: [
      { width: 18, text: `${index + 1}.`, color: SOFT },
      {
        width: '*',
        stack: [{ text: one.title, bold: true }, { text: [waiting(one), { text: when, color: SOFT }] }],
      },
      {
        width: 64,
        alignment: 'right',
        bold: one.state !== 'to come',
        color: one.state === 'done' ? CHALK : SOFT,
        text: STATES[one.state],
      },
    ],
    columnGap: 6,
  };
}

/** Planned days in plain words, as on the page. */
function days({ page: { days: known } }: OwnerSummary): Content[] {
  return [
    ...(known.notices.length === 0
      ? []
      : [
          heading('What you will notice'),
          bullets(known.notices.map(({ dayWords, words }) => `${dayWords}: ${words}`)),
        ]),
    ...(known.days.length === 0
      ? []
      : [
          heading('Days'),
          bullets(
            known.days.map(
              ({ dayWords, words, done, movedWords }) =>
                `${dayWords}: ${words} (${done ? 'done' : 'planned'})${movedWords === '' ? '' : `. ${movedWords}`}`,
            ),
          ),
          ...(known.days.every(({ done }) => done)
            ? []
            : [paragraph('Planned days can move; the reason then stands here.', 'soft')]),
        ]),
  ];
}

function visits({ page, timeZone }: OwnerSummary): Content[] {
  if (page.visits.length === 0) return [];
  const lines = page.visits.map(({ on, words }) => `${longDayText(on, timeZone)}: ${words}`);
  const [first = '', ...others] = lines;
  return [
    // Its heading never ends a page alone.
    { stack: [heading('Inspections so far'), bullets([first])], unbreakable: true },
    ...(others.length === 0 ? [] : [bullets(others)]),
  ];
}

/** Room for the drawing on a standing sheet, in. */
const PLAN_ROOM = { widthIn: 7, heightIn: 6.6 };

function plan({ page, drawn, setHash }: OwnerSummary): Content[] {
  if (page.planNumber === 0) return [];
  const drawings = page.drawings.map(({ name, revision }) => `${name}, issue ${revision}`);
  const parts: Content[] = [
    heading('The approved plan'),
    paragraph(`Plan ${page.planNumber}; its mark in the record is ${setHash.slice(0, 16)}.`),
    ...(drawings.length === 0 ? [] : [bullets(drawings)]),
    ...(drawn === null
      ? []
      : [
          paragraph(
            'This is the opening as it will be, seen from the front, with the new beam and what it stands on:',
          ),
          figureOnPaper(
            atLargestScale((scale) => elevationFigure({ ...drawn, notes: [] }, scale), PLAN_ROOM),
          ),
        ]),
  ];
  return [{ stack: parts, unbreakable: true }];
}
