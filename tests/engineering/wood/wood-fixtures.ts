import { clauseText } from '../../../src/engineering/trace/clause.ts';
import { formatQuantity } from '../../../src/engineering/trace/quantity.ts';
import { type Check, substitution } from '../../../src/engineering/trace/step.ts';
import {
  type WoodBeamCombination,
  type WoodBeamInput,
  type WoodMember,
  woodMember,
} from '../../../src/engineering/wood/index.ts';

export function sawn(species: string, grade: string, size: string, plies = 1): WoodMember {
  return woodMember({ kind: 'sawn', species, grade, size, plies }, '2018');
}

export function lvl(depthIn: number, plies: number, name = 'LVL 2.0E'): WoodMember {
  return woodMember({ kind: 'composite', class: name, thicknessIn: 1.75, depthIn, plies }, '2018');
}

export function glulam(combination: string, widthIn: number, depthIn: number): WoodMember {
  return woodMember({ kind: 'glulam', combination, widthIn, depthIn }, '2018');
}

export interface UniformLoad {
  readonly name: string;
  readonly loadDuration: number;
  readonly plf: number;
}

/** A simple span under uniform loads, its effects in closed form (mechanics). */
export function simpleBeam(
  member: WoodMember,
  spanIn: number,
  loads: readonly UniformLoad[],
  deadPlf: number,
  livePlf: number,
): WoodBeamInput {
  const combinations: WoodBeamCombination[] = loads.map(({ name, loadDuration, plf }) => {
    const w = plf / 12;
    return {
      name,
      loadDuration,
      momentLbIn: (w * spanIn ** 2) / 8,
      shearLb: w * (spanIn / 2 - member.depthIn),
      shearAtSupportLb: (w * spanIn) / 2,
      reactionsLb: [(w * spanIn) / 2, (w * spanIn) / 2],
    };
  });
  const sag = (plf: number) => (5 * (plf / 12) * spanIn ** 4) / 384;
  return {
    edition: '2018',
    member,
    spanIn,
    combinations,
    bearings: [
      { id: 'left', label: 'left jacks', lengthIn: 3, endDistanceIn: 0 },
      { id: 'right', label: 'right jacks', lengthIn: 3, endDistanceIn: 0 },
    ],
    deflections: [
      {
        id: 'span',
        name: 'L',
        spanIn,
        shortTermEiLbIn3: sag(livePlf),
        longTermEiLbIn3: sag(deadPlf),
      },
    ],
    limits: { liveRatio: 360, totalRatio: 240 },
    bracing: { topIn: 16 },
  };
}

const HEADER_LOADS: readonly UniformLoad[] = [
  { name: 'D', loadDuration: 0.9, plf: 200 },
  { name: 'D + L', loadDuration: 1, plf: 600 },
  { name: 'D + 0.75L + 0.75S', loadDuration: 1.15, plf: 620 },
];

/** A simple span with 200 plf dead and 400 plf live; the snow combination is heavier, but lasts less. */
export function header(member: WoodMember, spanIn = 96): WoodBeamInput {
  return simpleBeam(member, spanIn, HEADER_LOADS, 200, 400);
}

/** The checks as a calculation sheet would print them: every word and number that a reader sees. */
export function sheet(checks: readonly Check[]): string {
  return checks
    .map((check) =>
      [
        `${check.id} | ${check.title} | ${clauseText(check.clause)}`,
        `  ${formatQuantity(check.demand)} of ${formatQuantity(check.capacity)}, ratio ${check.ratio.toFixed(4)}, ${check.passes ? 'passes' : 'fails'}${check.governing === undefined ? '' : `, under ${check.governing}`}`,
        `  ${check.sentence}`,
        ...check.steps.flatMap((step) => [
          `  - ${step.id} | ${step.title} | ${clauseText(step.clause)}`,
          `    ${step.formula}`,
          `    = ${substitution(step)} = ${formatQuantity(step.result)}`,
          ...(step.note === undefined ? [] : [`    ${step.note}`]),
        ]),
      ].join('\n'),
    )
    .join('\n');
}

/** A copy that lacks some fields, as a form that was not filled in. */
export function without<T extends object, K extends keyof T & string>(value: T, ...keys: K[]): Omit<T, K> {
  const left = Object.entries(value).filter(([key]) => !(keys as string[]).includes(key));
  return Object.fromEntries(left) as Omit<T, K>;
}
