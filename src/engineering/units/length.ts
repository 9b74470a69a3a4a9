import { formatFeetInches } from './length-format.ts';

export { formatFeetInches, formatInches, type TapeGrid } from './length-format.ts';

/**
 * Lengths as the trade writes them: 12'-6", 12-6 1/2, 12' 6 1/2", 150.5", 8ft 1-1/8in, 5/8, 8'-1⅛".
 *
 * Two readings of one text is how walls get cut in the wrong place, so nothing is guessed: a text that can be
 * read in two ways is a problem with a sentence, and a bare decimal comes back with a reading to confirm.
 */
export type LengthReading =
  | {
      readonly inches: number;
      /** Present where the writer should say yes to the reading before it counts. */
      readonly confirm?: string;
    }
  | { readonly problem: string };

export interface LengthContext {
  /** What a number without any mark means here. `nothing`: it is sent back. */
  readonly bareNumber: 'inches' | 'nothing';
}

/** A mile and a bit: anything longer in a house is a slip of the finger. */
const LONGEST_IN = 100_000;

const VULGAR_FRACTIONS: Readonly<Record<string, string>> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
  '⅙': '1/6',
  '⅚': '5/6',
};

/** One spelling for every way to type a prime, a dash, a space and a fraction. */
function normalize(text: string): string {
  return text
    .replace(/[¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚]/g, (sign) => ` ${VULGAR_FRACTIONS[sign] ?? sign}`)
    .replace(/[\u2044\u2215]/g, '/')
    .replace(/[\u2010-\u2015\u2212]/g, '-')
    .replace(/[\u2033\u201C\u201D\u201F\uFF02]|''|[\u2032\u2018\u2019]{2}/g, '"')
    .replace(/[\u2032\u2018\u2019\u201B\u00B4\u0060\uFF07]/g, "'")
    .replace(/\s+/gu, ' ')
    .toLowerCase()
    .replace(/(?<=[\d' .])(?:feet|foot|ft)\b\.?/g, "'")
    .replace(/(?<=[\d" .])(?:inches|inch|in)\b\.?/g, '"')
    .replace(/ ?(['"]) ?/g, '$1')
    .replace(/ ?\/ ?/g, '/')
    .replace(/ ?- ?/g, '-')
    .trim();
}

const NUMBER = String.raw`\d+(?:\.\d+)?|\.\d+`;
const FRACTION = String.raw`\d+/\d+`;
/** Inches: a number, a fraction, or a whole number and a fraction held by a space or a dash. */
const INCHES = String.raw`(?:(?<whole>\d+)[ -](?<fraction>${FRACTION})|(?<only>${FRACTION})|(?<number>${NUMBER}))`;

const FEET_AND_INCHES = new RegExp(String.raw`^(?<feet>${NUMBER})'(?:[ -]?${INCHES}"?)?$`);
const MARKED_INCHES = new RegExp(String.raw`^${INCHES}"$`);
/** 12-6, 12-6 1/2, 12-6-1/2, 12-6.5: feet, a dash, inches. */
const DASHED = /^(?<feet>\d+)-(?<inches>\d+(?:\.\d+)?)(?:[ -](?<fraction>\d+\/\d+))?"?$/;
const DASHED_FRACTION = /^(?<first>\d+)-(?<fraction>\d+\/\d+)$/;
const BARE = new RegExp(String.raw`^${INCHES}$`);

/** Denominators on a tape. */
const TAPE_DENOMINATORS: ReadonlySet<number> = new Set([2, 4, 8, 16, 32, 64]);

function readFraction(text: string): number | string {
  const [top, bottom] = text.split('/').map(Number);
  if (top === undefined || bottom === undefined || !TAPE_DENOMINATORS.has(bottom)) {
    return `${text} is not a fraction on a tape: use halves, quarters, eighths, sixteenths, 32nds or 64ths.`;
  }
  if (top >= bottom) return `${text} is not less than one inch; write the whole inches before the fraction.`;
  return top / bottom;
}

type Groups = Readonly<Record<string, string | undefined>>;

function readInches(groups: Groups): number | string {
  if (groups.number !== undefined) return Number(groups.number);
  const fraction = readFraction(groups.fraction ?? groups.only ?? '');
  if (typeof fraction === 'string') return fraction;
  return Number(groups.whole ?? 0) + fraction;
}

function joinFeet(feetText: string, inches: number, said: string): LengthReading {
  if (feetText.includes('.') && inches > 0) {
    return { problem: `${said} has both a decimal of feet and inches; write one or the other.` };
  }
  if (inches >= 12) {
    return {
      problem: `${said} has ${inches} in after the feet; that is a foot or more, so one of the two is wrong.`,
    };
  }
  return bounded(Number(feetText) * 12 + inches, said);
}

function bounded(inches: number, said: string): LengthReading {
  if (!Number.isFinite(inches) || inches > LONGEST_IN) return { problem: `${said} is too long to be meant.` };
  return { inches };
}

/**
 * Reads one length.
 *
 * @param text what was typed
 * @param context what a number without a mark means in this field
 * @returns inches (exact, not rounded), with `confirm` where the reading should be shown before it counts;
 *   or one sentence that says what is wrong
 */
export function parseLength(text: string, context: LengthContext): LengthReading {
  const said = `“${text.trim()}”`;
  const plain = normalize(text);
  if (plain === '') return { problem: 'A length is missing.' };
  if (text.length > 60) return { problem: 'That is too much text for one length.' };
  if (/^[-+]/.test(plain)) return { problem: `${said}: a length is written without a sign.` };
  if (plain.includes(',')) {
    return { problem: `${said}: a comma can't be read; use a point for decimals and none for thousands.` };
  }

  const feetAndInches = FEET_AND_INCHES.exec(plain)?.groups;
  if (feetAndInches) {
    const feet = feetAndInches.feet ?? '';
    const nothingAfter = !['number', 'only', 'fraction'].some((name) => feetAndInches[name] !== undefined);
    const inches = nothingAfter ? 0 : readInches(feetAndInches);
    return typeof inches === 'string' ? { problem: inches } : joinFeet(feet, inches, said);
  }

  const marked = MARKED_INCHES.exec(plain)?.groups;
  if (marked) {
    const inches = readInches(marked);
    return typeof inches === 'string' ? { problem: inches } : bounded(inches, said);
  }

  const dashedFraction = DASHED_FRACTION.exec(plain)?.groups;
  if (dashedFraction) {
    const { first, fraction } = dashedFraction;
    return {
      problem: `${said} can be read as ${first} ft ${fraction} in or as ${first} ${fraction} in; write ${first}'-0 ${fraction}" or ${first} ${fraction}".`,
    };
  }

  const dashed = DASHED.exec(plain)?.groups;
  if (dashed) {
    const inchesText = dashed.inches ?? '';
    const fraction = dashed.fraction === undefined ? 0 : readFraction(dashed.fraction);
    if (typeof fraction === 'string') return { problem: fraction };
    if (fraction > 0 && inchesText.includes('.')) {
      return { problem: `${said} has both a decimal and a fraction of an inch; write one or the other.` };
    }
    return joinFeet(dashed.feet ?? '', Number(inchesText) + fraction, said);
  }

  const bare = BARE.exec(plain)?.groups;
  if (bare) return readBare(bare, plain, said, context);

  return { problem: `${said} can't be read as a length. Write it like 12'-6 1/2", 12-6 1/2 or 150.5".` };
}

/** A number without a mark: inches where the field says so; a decimal is read back before it counts. */
function readBare(groups: Groups, plain: string, said: string, context: LengthContext): LengthReading {
  const inches = readInches(groups);
  if (typeof inches === 'string') return { problem: inches };
  const isDecimal = groups.number?.includes('.') === true;
  // A fraction (5/8, 6 1/2) can only be inches; a plain number could be feet.
  // Nothing is nothing in feet and in inches.
  if (context.bareNumber === 'nothing' && groups.number !== undefined && inches !== 0) {
    return { problem: `${said}: feet or inches? Write ${plain}' or ${plain}".` };
  }
  const reading = bounded(inches, said);
  if ('problem' in reading || !isDecimal) return reading;
  const [feet = '0', after = ''] = plain.split('.');
  return {
    inches,
    confirm: `${said} is read as ${plain} inches, which is ${formatFeetInches(inches, { to: 16 })}; it is not ${feet === '' ? '0' : feet} ft ${after} in. Is that what you mean?`,
  };
}
