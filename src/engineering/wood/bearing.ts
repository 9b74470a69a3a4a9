import type { WoodMaterial } from '../materials/wood-material.ts';
import { qty } from '../trace/quantity.ts';
import { notNegative, positive } from '../trace/refusal.ts';
import { type Check, makeCheck, type Step } from '../trace/step.ts';
import { compressionStarPsi, memberFactors, type MemberFactors } from './adjusted-values.ts';
import { nds, type NdsEdition } from './clauses.ts';
import { ORDINARY_CONDITIONS, type ServiceConditions, validateConditions } from './conditions.ts';
import { bearingAreaFactor, temperatureFactors, validLoadDuration, wetServiceFactors } from './factors.ts';
import type { WoodMember } from './member.ts';

/** Wood pressed across the grain: a beam on its jack, a plate under a stud pack. */
export interface BearingInput {
  readonly id: string;
  readonly title: string;
  readonly material: WoodMaterial;
  readonly edition: NdsEdition;
  readonly conditions?: ServiceConditions;
  readonly loadLb: number;
  /** Along the grain of the wood that is pressed. */
  readonly lengthIn: number;
  /** Across it. */
  readonly widthIn: number;
  /** From the bearing to the nearer end of the wood that is pressed; 0 at an end. */
  readonly endDistanceIn: number;
  readonly governing?: string;
}

export interface BearingResistance {
  readonly wet: number;
  readonly temperature: number;
  readonly areaFactor: number;
  readonly adjustedPsi: number;
}

/** Fc⊥′ = Fc⊥ · CM · Ct · Cb (Ci is 1, CD never applies): NDS 3.10.2, 3.10.4. */
export function bearingResistance(
  material: WoodMaterial,
  conditions: ServiceConditions,
  lengthIn: number,
  endDistanceIn: number,
): BearingResistance {
  // The moisture footnotes concern Fb and Fc alone, so the sized values play no part here.
  const wet = wetServiceFactors(material.family, conditions.wet, 0, 0).fcPerp;
  const temperature = temperatureFactors(conditions.temperatureF, conditions.wet).fcPerp;
  const areaFactor = bearingAreaFactor(lengthIn, endDistanceIn);
  return {
    wet,
    temperature,
    areaFactor,
    adjustedPsi: material.reference.fcPerpPsi * wet * temperature * areaFactor,
  };
}

/**
 * Bearing across the grain: fc⊥ = R ÷ (lb · b) against Fc⊥′.
 * @throws Refusal for a bearing without length or width, or a load that is not a number.
 */
export function checkBearing(input: BearingInput): Check {
  const conditions = input.conditions ?? ORDINARY_CONDITIONS;
  validateConditions(conditions);
  notNegative(input.loadLb, `${input.id}.loadLb`);
  positive(input.lengthIn, `${input.id}.lengthIn`);
  positive(input.widthIn, `${input.id}.widthIn`);
  notNegative(input.endDistanceIn, `${input.id}.endDistanceIn`);
  const resistance = bearingResistance(input.material, conditions, input.lengthIn, input.endDistanceIn);
  const stressPsi = input.loadLb / (input.lengthIn * input.widthIn);
  return makeCheck({
    id: input.id,
    title: input.title,
    clause: nds(input.edition, '3.10.2'),
    demand: qty(stressPsi, 'psi'),
    capacity: qty(resistance.adjustedPsi, 'psi'),
    ...(input.governing === undefined ? {} : { governing: input.governing }),
    steps: [
      {
        id: `${input.id}.stress`,
        title: 'Bearing stress across the grain',
        clause: nds(input.edition, '3.10.2'),
        formula: 'fc⊥ = R ÷ (lb · b)',
        values: {
          R: qty(input.loadLb, 'lb'),
          lb: qty(input.lengthIn, 'in'),
          b: qty(input.widthIn, 'in'),
        },
        result: qty(stressPsi, 'psi'),
      },
      {
        id: `${input.id}.Cb`,
        title: 'Bearing area factor',
        clause: nds(input.edition, '3.10.4'),
        formula: resistance.areaFactor === 1 ? 'Cb = 1' : 'Cb = (lb + 0.375 in) ÷ lb',
        values: resistance.areaFactor === 1 ? {} : { lb: qty(input.lengthIn, 'in') },
        result: qty(resistance.areaFactor),
        ...(resistance.areaFactor === 1
          ? { note: 'At an end of the member, or 6 in or more long: no increase.' }
          : {}),
      },
      {
        id: `${input.id}.adjusted`,
        title: 'Adjusted bearing value',
        clause: input.material.clause,
        formula: 'Fc⊥′ = Fc⊥ · CM · Ct · Cb',
        values: {
          'Fc⊥': qty(input.material.reference.fcPerpPsi, 'psi'),
          CM: qty(resistance.wet),
          Ct: qty(resistance.temperature),
          Cb: qty(resistance.areaFactor),
        },
        result: qty(resistance.adjustedPsi, 'psi'),
        note: `${input.material.label}: load duration does not raise it.`,
      },
    ],
  });
}

/** Wood pressed end on: a post under a post, a jack on a steel plate. */
export interface EndBearingInput {
  readonly id: string;
  readonly title: string;
  readonly member: WoodMember;
  readonly edition: NdsEdition;
  readonly conditions?: ServiceConditions;
  readonly loadDuration: number;
  readonly loadLb: number;
  readonly governing?: string;
}

/** NDS 3.10.1.3: above this share of Fc*, wood ends meet on a metal plate or another rigid insert. */
const PLATE_ABOVE = 0.75;

/**
 * Bearing along the grain on the whole end: fc ≤ Fc* (NDS 3.10.1).
 * @throws Refusal for a load that is not a number.
 */
export function checkEndBearing(input: EndBearingInput): Check {
  const conditions = input.conditions ?? ORDINARY_CONDITIONS;
  validateConditions(conditions);
  notNegative(input.loadLb, `${input.id}.loadLb`);
  const factors = memberFactors(input.member, conditions);
  const loadDuration = validLoadDuration(input.loadDuration, `${input.id}.loadDuration`);
  const starPsi = compressionStarPsi(input.member, factors, loadDuration);
  const stressPsi = input.loadLb / input.member.section.areaIn2;
  const needsPlate = stressPsi > PLATE_ABOVE * starPsi;
  return makeCheck({
    id: input.id,
    title: input.title,
    clause: nds(input.edition, '3.10.1'),
    demand: qty(stressPsi, 'psi'),
    capacity: qty(starPsi, 'psi'),
    ...(input.governing === undefined ? {} : { governing: input.governing }),
    ...(needsPlate
      ? {
          sentence: (passes: boolean) =>
            passes
              ? 'More than three quarters of Fc*: put a metal plate or another rigid insert between the ends.'
              : 'The end crushes: more wood, or a plate that spreads the load.',
        }
      : {}),
    steps: [
      {
        id: `${input.id}.stress`,
        title: 'Bearing stress along the grain',
        clause: nds(input.edition, '3.10.1'),
        formula: 'fc = P ÷ A',
        values: { P: qty(input.loadLb, 'lb'), A: qty(input.member.section.areaIn2, 'in²') },
        result: qty(stressPsi, 'psi'),
      },
      compressionStarStep(input.id, input.member, factors, loadDuration, starPsi),
    ],
  });
}

/** Fc* = Fc · CD · CM · Ct · CF · Ci, as a line of a calculation. */
export function compressionStarStep(
  id: string,
  member: WoodMember,
  factors: MemberFactors,
  loadDuration: number,
  starPsi: number,
): Step {
  return {
    id: `${id}.star`,
    title: 'Compression value before stability',
    clause: member.material.clause,
    formula: 'Fc* = Fc · CD · CM · Ct · CF · Ci',
    values: {
      Fc: qty(member.material.reference.fcPsi, 'psi'),
      CD: qty(loadDuration),
      CM: qty(factors.wet.fc),
      Ct: qty(factors.temperature.fc),
      CF: qty(factors.size.fc),
      Ci: qty(factors.incising.fc),
    },
    result: qty(starPsi, 'psi'),
  };
}
