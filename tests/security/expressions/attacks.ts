import { partsOf, type Part } from './parts.ts';
import type { Expression } from './collect.ts';

/** Signs to tell sets of characters apart by: ASCII, and some of what Unicode's properties speak of. */
const SIGNS = [
  ...Array.from({ length: 128 }, (_, code) => String.fromCharCode(code)),
  ...[
    'é',
    'É',
    'א',
    'ب',
    '\u0301',
    '“',
    '’',
    '″',
    '′',
    '⁄',
    '¼',
    '½',
    '×',
    '–',
    '\u00a0',
    '\u00ad',
    '\u2028',
  ],
  ...['\ufffe', '\u{1f528}'],
];

/**
 * Strings that make an expression try again as often as it can: what leads up to one of its repetitions, then a
 * piece over and over, then something that may not follow. The pieces are all of one and two signs, one sign for each
 * kind that the expression tells apart, and what each of its repetitions takes.
 */
export function* attacksOn({ source, flags }: Expression, length: number): Generator<string> {
  const whole = partsOf(source);
  const signs = kindsOfSigns(setsIn(whole), flags);
  const repetitions = repetitionsIn(whole).filter(({ part }) => part.most > 8);
  if (repetitions.length === 0) return;
  const pieces = new Set([...signs, ...repetitions.flatMap(({ part }) => samples(part.part, flags))]);
  pieces.delete('');
  const pairs = signs.flatMap((first) => signs.map((second) => first + second));
  const before = new Set(['', ...signs, ...repetitions.flatMap(({ lead }) => lead(flags))]);
  for (const lead of before) {
    for (const piece of lead === '' ? [...pieces, ...pairs] : pieces) {
      const pumped = lead + piece.repeat(Math.ceil(length / piece.length));
      for (const end of signs) yield pumped + end;
    }
  }
}

function setsIn(part: Part): string[] {
  switch (part.is) {
    case 'set':
      return [part.source];
    case 'nothing':
      return [];
    case 'repeated':
      return setsIn(part.part);
    case 'choice':
    case 'row':
      return part.parts.flatMap(setsIn);
  }
}

/** One sign for each combination of sets that it belongs to, and one that belongs to none. */
function kindsOfSigns(sets: readonly string[], flags: string): string[] {
  const tests = [...new Set(sets)].map((set) => memberTest(set, flags));
  const kinds = new Map<string, string>();
  for (const sign of SIGNS) {
    const kind = tests.map((test) => (test(sign) ? '1' : '0')).join('');
    if (!kinds.has(kind)) kinds.set(kind, sign);
  }
  return [...kinds.values()];
}

function memberTest(set: string, flags: string): (sign: string) => boolean {
  const pattern = new RegExp(`^(?:${set})$`, flags.replace(/[gymd]/g, ''));
  return (sign) => pattern.test(sign);
}

interface Repetition {
  readonly part: Extract<Part, { is: 'repeated' }>;
  /** Some of what takes the expression up to here. */
  readonly lead: (flags: string) => string[];
}

function repetitionsIn(part: Part, before: readonly Part[] = []): Repetition[] {
  switch (part.is) {
    case 'choice':
      return part.parts.flatMap((one) => repetitionsIn(one, before));
    case 'row':
      return part.parts.flatMap((one, place) =>
        repetitionsIn(one, [...before, ...part.parts.slice(0, place)]),
      );
    case 'repeated': {
      const lead = (flags: string) => samples({ is: 'row', parts: before }, flags);
      return [{ part, lead }, ...repetitionsIn(part.part, before)];
    }
    case 'set':
    case 'nothing':
      return [];
  }
}

const SAMPLES = 3;

/** A few strings that the part takes. */
function samples(part: Part, flags: string): string[] {
  switch (part.is) {
    case 'nothing':
      return [''];
    case 'set': {
      const test = memberTest(part.source, flags);
      const members = SIGNS.filter(test);
      const first = members[0];
      if (first === undefined) return [''];
      const letter = members.find((sign) => /[a-z]/.test(sign));
      return [...new Set([letter ?? first, first])];
    }
    case 'choice':
      return some(
        part.parts.flatMap((one) => samples(one, flags).slice(0, 2)),
        2 * SAMPLES,
      );
    case 'row':
      return part.parts.reduce<string[]>(
        (starts, one) =>
          some(
            samples(one, flags).flatMap((end) => starts.map((start) => start + end)),
            SAMPLES,
          ),
        [''],
      );
    case 'repeated': {
      const once = samples(part.part, flags).map((one) => one.repeat(Math.max(part.least, 1)));
      return some(part.least === 0 ? [...once, ''] : once, SAMPLES);
    }
  }
}

function some(all: readonly string[], most: number): string[] {
  return [...new Set(all)].slice(0, most);
}
