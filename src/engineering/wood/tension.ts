import { qty } from '../trace/quantity.ts';
import { notNegative } from '../trace/refusal.ts';
import { type Check, makeCheck } from '../trace/step.ts';
import { adjustedTensionPsi, memberFactors } from './adjusted-values.ts';
import { bendingResistance, bendingStressPsi } from './bending.ts';
import { nds, type NdsEdition } from './clauses.ts';
import { ORDINARY_CONDITIONS, type ServiceConditions, validateConditions } from './conditions.ts';
import { validLoadDuration } from './factors.ts';
import type { WoodMember } from './member.ts';
import type { UnbracedLoadCase } from './stability.ts';

/** A member pulled and bent about its strong axis: a ceiling joist that ties rafters, a strut. */
export interface TensionBendingInput {
  readonly id: string;
  readonly edition: NdsEdition;
  readonly member: WoodMember;
  readonly conditions?: ServiceConditions;
  readonly loadDuration: number;
  readonly tensionLb: number;
  readonly momentLbIn: number;
  readonly unbracedIn: number;
  readonly loadCase?: UnbracedLoadCase;
  readonly spanIn: number;
  readonly governing?: string;
}

/**
 * Tension with bending, NDS 3.9.1 (from memory; agrees with the AWC example in tests/published):
 * ft/Ft′ + fb/Fb* ≤ 1 (Eq. 3.9-1) and (fb − ft)/Fb** ≤ 1 (Eq. 3.9-2).
 * Fb* leaves out CL, Fb** leaves out CV.
 *
 * @returns two checks, `.tension` and `.compressedEdge`.
 * @throws Refusal for loads that are not numbers of zero or more.
 */
export function checkTensionBending(input: TensionBendingInput): Check[] {
  const conditions = input.conditions ?? ORDINARY_CONDITIONS;
  validateConditions(conditions);
  const { member, id, edition } = input;
  notNegative(input.tensionLb, `${id}.tensionLb`);
  notNegative(input.momentLbIn, `${id}.momentLbIn`);
  const loadDuration = validLoadDuration(input.loadDuration, `${id}.loadDuration`);
  const factors = memberFactors(member, conditions);
  const bending = bendingResistance({
    member,
    factors,
    loadDuration,
    face: 'bottom',
    unbracedIn: input.unbracedIn,
    loadCase: input.loadCase ?? 'any',
    volumeLengthIn: input.spanIn,
  });
  const ft = input.tensionLb / member.section.areaIn2;
  const fb = bendingStressPsi(input.momentLbIn, member);
  const tensionPsi = adjustedTensionPsi(member, factors, loadDuration);
  // Above 1, CV is in starPsi already; below, it reduces the stretched edge.
  const stretchedPsi = bending.starPsi * Math.min(1, bending.volume);
  const compressedPsi = bending.starPsi * bending.stability.factor;
  const governing = input.governing === undefined ? {} : { governing: input.governing };
  const stretched = ft / tensionPsi + fb / stretchedPsi;
  const compressed = (fb - ft) / compressedPsi;
  return [
    makeCheck({
      id: `${id}.tension`,
      title: 'Tension with bending',
      clause: nds(edition, 'Eq. 3.9-1'),
      demand: qty(stretched),
      capacity: qty(1),
      ...governing,
      steps: [
        {
          id: `${id}.tension.ratio`,
          title: 'Stretched edge',
          clause: nds(edition, 'Eq. 3.9-1'),
          formula: 'r = ft/Ft′ + fb/Fb*',
          values: {
            ft: qty(ft, 'psi'),
            'Ft′': qty(tensionPsi, 'psi'),
            fb: qty(fb, 'psi'),
            'Fb*': qty(stretchedPsi, 'psi'),
          },
          result: qty(stretched),
        },
      ],
    }),
    makeCheck({
      id: `${id}.compressedEdge`,
      title: 'Compressed edge of a pulled member',
      clause: nds(edition, 'Eq. 3.9-2'),
      demand: qty(compressed),
      capacity: qty(1),
      ...governing,
      steps: [
        {
          id: `${id}.compressedEdge.ratio`,
          title: 'Compressed edge',
          clause: nds(edition, 'Eq. 3.9-2'),
          formula: 'r = (fb − ft) ÷ Fb**',
          values: { fb: qty(fb, 'psi'), ft: qty(ft, 'psi'), 'Fb**': qty(compressedPsi, 'psi') },
          result: qty(compressed),
        },
      ],
    }),
  ];
}
