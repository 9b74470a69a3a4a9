import type { Content } from 'pdfmake/interfaces.js';
import { minuteText } from '../../house-time.ts';
import type { CheckStatus, FindingOnCheck } from '../../inspection/status.ts';
import { CRAYON, documentOf, facts, heading, INK, paragraph, SOFT } from '../pdf/blocks.ts';
import { makePdf } from '../pdf/make-pdf.ts';
import type { Paper } from '../pdf/paper.ts';
import type { ChecklistGroup, ChecklistSheet } from './gather.ts';

const WORDS: Readonly<Record<CheckStatus['state'], string>> = {
  open: 'open',
  pass: 'pass',
  correction: 'correction needed',
  not_applicable: 'does not apply',
};

/** The list on paper, with the code that leads to the live one; boxes where something is to be filled in. */
export async function checklistPdf(sheet: ChecklistSheet, paper: Paper = 'LETTER'): Promise<Buffer> {
  const of = `opening ${sheet.opening.ordinal}: ${sheet.opening.name}`;
  return makePdf(
    documentOf(
      {
        title: `${sheet.title}, ${of}, ${sheet.project.name}`,
        head: `${sheet.project.name} · ${of} · ${sheet.title}`,
        foot: `Set ${sheet.set.number} · ${sheet.set.hash.slice(0, 16)}`,
        madeAt: sheet.madeAt,
      },
      [
        front(sheet, of),
        ...(sheet.closing === null ? [] : [heading('How it was closed'), facts(sheet.closing)]),
        ...held(sheet),
        ...sheet.groups.flatMap((group) => groupOf(group, sheet)),
        paragraph('The authority having jurisdiction decides. Approved plans have to be on site.', 'soft'),
      ],
      { paper },
    ),
  );
}

function front(
  { title, project, jurisdiction, opening, set, closing, liveUrl, madeAt }: ChecklistSheet,
  of: string,
): Content {
  const warnings =
    set.supersededBy === null
      ? []
      : [
          closing === null
            ? `Superseded: set ${set.supersededBy} is in force. This list is kept for the record.`
            : `Set ${set.supersededBy} was issued since. What was found here stays with set ${set.number}.`,
        ];
  return {
    columns: [
      {
        width: '*',
        stack: [
          heading(title, 1),
          facts([
            ['House', [project.name, project.address].filter((one) => one !== '').join(', ')],
            ['Opening', of.replace(/^opening \d+/, `${opening.ordinal}`)],
            ['Jurisdiction', jurisdiction === '' ? 'none given' : jurisdiction],
            ['Permit', project.permitNumber === '' ? 'none given' : project.permitNumber],
            ['Approved set', `${set.number}`],
            ['Hash of the set', set.hash],
            ['Printed', minuteText(madeAt, project.timeZone)],
          ]),
          ...warnings.map((one) => paragraph(one, 'crayon')),
        ],
      },
      {
        width: 108,
        stack: [
          { qr: liveUrl, fit: 92, foreground: INK },
          {
            text: 'The code opens the list as it is now: look there before you rely on this paper.',
            fontSize: 7,
            color: SOFT,
            margin: [0, 3, 0, 0],
          },
        ],
      },
    ],
    columnGap: 14,
  };
}

function held({ held: steps }: ChecklistSheet): Content[] {
  if (steps.length === 0) return [];
  return [
    heading('Held until checks pass'),
    ...steps.map(({ step, words }): Content => ({
      text: [{ text: `${step}: `, bold: true }, words],
      margin: [0, 0, 0, 3],
    })),
  ];
}

function groupOf({ title, instead, statuses }: ChecklistGroup, sheet: ChecklistSheet): Content[] {
  return [
    heading(title),
    ...(instead === ''
      ? []
      : [
          paragraph(
            `The project has no such inspection: ${instead} decides what these checks hold back.`,
            'crayon',
          ),
        ]),
    ...(statuses.length === 0 ? [paragraph('No checks of its own.', 'soft')] : []),
    ...statuses.map((status, index) => check(status, index + 1, sheet)),
  ];
}

function check(
  status: CheckStatus,
  place: number,
  { closing, photos, withoutPhoto, project: { timeZone } }: ChecklistSheet,
): Content {
  const toFill = closing === null && (status.state === 'open' || status.state === 'correction');
  const accepted = status.accepted ?? null;
  return {
    margin: [0, 0, 0, 6],
    unbreakable: status.history.length < 4,
    columns: [
      { width: 20, text: `${place}.`, color: SOFT },
      {
        width: '*',
        stack: [
          { text: status.title, bold: true },
          { text: status.criterion },
          soft(
            [
              status.about === undefined || status.about === '' ? '' : `${status.about}.`,
              `${status.clause}.`,
              status.howToLook,
              status.photoRequired ? 'Photo wanted.' : '',
              status.holdPoint === '' ? '' : `Holds: ${status.holdPoint}.`,
            ]
              .filter((one) => one !== '')
              .join(' '),
          ),
          ...(accepted === null
            ? []
            : [
                {
                  text: `Accepted in place of an inspection by ${accepted.byName}, ${minuteText(accepted.at, timeZone)}: ${accepted.basis}`,
                },
              ]),
          ...(status.reopened === null ? [] : [{ text: `Open again. ${status.reopened}`, bold: true }]),
          ...(status.carriedFromSet === null
            ? []
            : [soft(`Carried over from set ${status.carriedFromSet}: the version is the same.`)]),
          ...status.history.flatMap((finding) =>
            found(finding, photos[finding.findingId]?.length ?? 0, timeZone),
          ),
          ...(withoutPhoto.has(status.checkId) ? [soft('No photo, though one is wanted.')] : []),
          ...(toFill ? [boxes()] : []),
        ],
      },
      {
        width: 92,
        alignment: 'right',
        bold: true,
        text: accepted !== null && status.state === 'open' ? 'accepted' : WORDS[status.state],
        ...(status.state === 'correction' ? { color: CRAYON } : {}),
      },
    ],
    columnGap: 6,
  };
}

function found(finding: FindingOnCheck, photos: number, timeZone: string): Content[] {
  const { result, visitNumber, byName, at, location, place, reason, answers } = finding;
  const where = [location, place ? `${place.sheetName}, square ${place.square}` : ''].filter(
    (one) => one !== '',
  );
  return [
    {
      margin: [8, 2, 0, 0],
      text: [
        { text: WORDS[result], bold: true, ...(result === 'correction' ? { color: CRAYON } : {}) },
        `, visit ${visitNumber}, ${byName}, ${minuteText(at, timeZone)}`,
        where.length === 0 ? '' : `, at ${where.join('; ')}`,
        photos === 0 ? '' : `, ${photos} ${photos === 1 ? 'photo' : 'photos'}`,
        reason === '' ? '' : `: ${reason}`,
      ],
    },
    ...answers.map((answer): Content => ({
      margin: [16, 0, 0, 0],
      text: `Put right, ${answer.byName}, ${minuteText(answer.at, timeZone)}: ${answer.note}`,
    })),
  ];
}

function boxes(): Content {
  return {
    margin: [0, 4, 0, 0],
    text: '□ pass    □ correction needed    □ does not apply    ______________________________________',
  };
}

function soft(text: string) {
  return { text, fontSize: 7.5, color: SOFT };
}
