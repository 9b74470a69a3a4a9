// Lengths read back as they are understood, beside the field. Only spellings that can be read in one way; on
// everything else this stays silent and leaves the word to the server, which knows more of them.

const FRACTION = String.raw`\d+/(?:2|4|8|16|32|64)`;
const INCHES = String.raw`(?:(?<whole>\d+)[ -](?<fraction>${FRACTION})|(?<only>${FRACTION})|(?<number>\d+(?:\.\d+)?))`;
const FEET_AND_INCHES = new RegExp(String.raw`^(?<feet>\d+)'(?:[ -]?${INCHES}"?)?$`);
const MARKED_INCHES = new RegExp(String.raw`^${INCHES}"$`);
/** 12-6, 12-6 1/2: feet, a dash, inches. */
const DASHED = new RegExp(
  String.raw`^(?<feet>\d+)-(?<number>\d+(?:\.\d+)?)(?:[ -](?<fraction>${FRACTION}))?"?$`,
);
const LONGEST_IN = 100000;

function partOfInch(text) {
  if (text === undefined) return 0;
  const [top, bottom] = text.split('/').map(Number);
  return top < bottom ? top / bottom : NaN;
}

function inchesOf(groups) {
  const number = Number(groups.number ?? groups.whole ?? 0);
  if (groups.number?.includes('.') && groups.fraction) return NaN;
  return number + partOfInch(groups.fraction ?? groups.only);
}

/** Inches, or undefined where only the server can say. */
export function readLength(written) {
  const text = written
    .trim()
    .replaceAll(/″|”|''/g, '"')
    .replaceAll(/[′’]/g, "'")
    .replaceAll(/\s+/g, ' ')
    .replaceAll(/ ?(['"]) ?/g, '$1')
    .replaceAll(/ ?([-/]) ?/g, '$1');
  const feet = (FEET_AND_INCHES.exec(text) ?? DASHED.exec(text))?.groups;
  if (feet) {
    const rest = inchesOf(feet);
    const inches = Number(feet.feet) * 12 + rest;
    return rest < 12 && inches <= LONGEST_IN ? inches : undefined;
  }
  const marked = MARKED_INCHES.exec(text)?.groups;
  const inches = marked ? inchesOf(marked) : NaN;
  return inches <= LONGEST_IN ? inches : undefined;
}

export function readBackLengths() {
  for (const input of document.querySelectorAll('input[data-length]')) {
    const out = input.parentElement.querySelector('output');
    if (!out) continue;
    const show = () => {
      const inches = readLength(input.value);
      out.textContent = inches === undefined ? '' : `= ${Math.round(inches * 1e4) / 1e4} in`;
    };
    input.addEventListener('input', show);
    show();
  }
}
