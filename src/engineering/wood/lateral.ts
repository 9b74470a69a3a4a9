import { qty } from '../trace/quantity.ts';
import { notNegative, positive } from '../trace/refusal.ts';
import { type Check, makeCheck } from '../trace/step.ts';
import { memberFactors } from './adjusted-values.ts';
import type { NdsEdition } from './clauses.ts';
import { ORDINARY_CONDITIONS, type ServiceConditions, validateConditions } from './conditions.ts';
import { stiffnessLbIn2, stiffnessStep } from './deflection.ts';
import type { WoodMember } from './member.ts';

const SQUARE_INCHES_PER_SQUARE_FOOT = 144;

/** Wind on the wall as a line load on the kings beside an opening, lb/in (mechanics). */
export function lateralLoadLbPerIn(pressurePsf: number, tributaryWidthIn: number): number {
  notNegative(pressurePsf, 'pressurePsf');
  notNegative(tributaryWidthIn, 'tributaryWidthIn');
  return (pressurePsf * tributaryWidthIn) / SQUARE_INCHES_PER_SQUARE_FOOT;
}

/** M = w · h² ÷ 8 of a king held at floor and ceiling, lb-in (mechanics). */
export function lateralMomentLbIn(loadLbPerIn: number, heightIn: number): number {
  notNegative(loadLbPerIn, 'loadLbPerIn');
  positive(heightIn, 'heightIn');
  return (loadLbPerIn * heightIn ** 2) / 8;
}

export interface LateralDeflectionInput {
  readonly id: string;
  readonly edition: NdsEdition;
  /** The kings, bent about their strong axis. */
  readonly member: WoodMember;
  readonly conditions?: ServiceConditions;
  readonly loadLbPerIn: number;
  readonly heightIn: number;
  /** Height ÷ this (IRC Table R301.7: 240 for walls with flexible finish, 360 with plaster). */
  readonly ratio: number;
  readonly governing?: string;
}

/**
 * Sideways deflection of kings: 5wh⁴ ÷ (384E′I) against h ÷ n.
 * @throws Refusal for a height or limit of zero or less, or a negative load.
 */
export function checkLateralDeflection(input: LateralDeflectionInput): Check {
  const conditions = input.conditions ?? ORDINARY_CONDITIONS;
  validateConditions(conditions);
  const loadLbPerIn = notNegative(input.loadLbPerIn, 'loadLbPerIn');
  const heightIn = positive(input.heightIn, 'heightIn');
  const ratio = positive(input.ratio, 'ratio');
  const factors = memberFactors(input.member, conditions);
  const stiffness = stiffnessLbIn2(input.member, factors);
  const deflectionIn = (5 * loadLbPerIn * heightIn ** 4) / (384 * stiffness);
  const modulus = stiffnessStep(input.id, input.edition, input.member, factors);
  return makeCheck({
    id: input.id,
    title: 'Sideways deflection of the kings',
    clause: { standard: 'IRC', edition: '', section: 'Table R301.7' },
    demand: qty(deflectionIn, 'in'),
    capacity: qty(heightIn / ratio, 'in'),
    ...(input.governing === undefined ? {} : { governing: input.governing }),
    steps: [
      modulus,
      {
        id: `${input.id}.deflection`,
        title: 'Deflection at mid-height',
        clause: { standard: 'Mechanics', edition: '', section: 'uniform load on a simple span' },
        formula: 'Δ = 5 · w · h⁴ ÷ (384 · E′ · I)',
        values: {
          w: qty(loadLbPerIn, 'lb/in'),
          h: qty(heightIn, 'in'),
          'E′': modulus.result,
          I: qty(input.member.section.momentOfInertiaIn4, 'in⁴'),
        },
        result: qty(deflectionIn, 'in'),
      },
    ],
  });
}
