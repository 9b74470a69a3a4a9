import type { Survey } from '../../engineering/proposal/survey.ts';
import { formatFeetInches } from '../../engineering/units/index.ts';
import { makePdf } from '../../report/pdf/make-pdf.ts';

/** Points on paper for an inch of the house: 1/4 in = 1 ft-0 in. */
const SCALE = 18 / 12;

/**
 * A framing plan of the wall, to scale on a Letter sheet, as a contractor would draw it: wall, opening, joists, walls
 * above, braces. Marked as made for the demo.
 */
export async function demoFramingPlan(
  survey: Survey,
  words: { readonly title: string; readonly revision: string; readonly note: string },
): Promise<Buffer> {
  const pt = (inches: number) => (inches * SCALE).toFixed(2);
  const x = (inches: number) => (40 + inches * SCALE).toFixed(2);
  const wallY = 170;
  const half = (survey.wallThicknessIn * SCALE) / 2;
  const joists = Array.from(
    { length: Math.floor(survey.wallLengthIn / 16) + 1 },
    (_, index) =>
      `<path d="M${x(index * 16)} ${wallY - 120}V${wallY + 120}" stroke="#8a8f93" stroke-width=".7"/>`,
  ).join('');
  const braces = survey.braces
    .map(
      (brace) =>
        `<circle cx="${x(brace.positionIn)}" cy="${wallY + (brace.side === 'front' ? 9 : -9)}" r="3.2" fill="none" stroke="#97390f" stroke-width="1.4"/>`,
    )
    .join('');
  const dimension = (from: number, to: number, y: number) =>
    `<path d="M${x(from)} ${y}H${x(to)}M${x(from)} ${y - 4}v8M${x(to)} ${y - 4}v8" stroke="#19252e" stroke-width=".8" fill="none"/><text x="${x((from + to) / 2)}" y="${y - 5}" font-size="8" text-anchor="middle">${formatFeetInches(to - from, { to: 16 })}</text>`;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 330" width="500" height="330" font-family="Sheet" fill="#19252e">
${joists}
<rect x="${x(0)}" y="${wallY - half}" width="${pt(survey.wallLengthIn)}" height="${half * 2}" fill="#d9d2c3" stroke="#19252e"/>
<rect x="${x(survey.openingFromIn)}" y="${wallY - half}" width="${pt(survey.openingToIn - survey.openingFromIn)}" height="${half * 2}" fill="#ffffff" stroke="#19252e" stroke-dasharray="4 3"/>
${braces}
${dimension(0, survey.openingFromIn, wallY + 150)}
${dimension(survey.openingFromIn, survey.openingToIn, wallY + 150)}
${dimension(0, survey.wallLengthIn, wallY - 140)}
<text x="40" y="${wallY - 128}" font-size="8">rear</text><text x="40" y="${wallY + 134}" font-size="8">front</text>
</svg>`;
  return makePdf({
    pageSize: 'LETTER',
    pageOrientation: 'landscape',
    pageMargins: [40, 40, 40, 40],
    info: { title: `${words.title}, revision ${words.revision}` },
    defaultStyle: { font: 'Sheet', fontSize: 10 },
    content: [
      { text: `${words.title}, revision ${words.revision}`, fontSize: 16 },
      { text: 'Drawn for the demo. Invented house. Scale 1/4 in = 1 ft-0 in.', margin: [0, 2, 0, 8] },
      { svg, width: 500 },
      { text: `Datum: ${survey.datum}. ${words.note}`, margin: [0, 8, 0, 0] },
      { text: 'Record of review. Not a sealed document.', margin: [0, 8, 0, 0] },
    ],
  });
}
