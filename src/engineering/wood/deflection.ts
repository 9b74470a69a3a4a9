import { qty } from '../trace/quantity.ts';
import type { Step } from '../trace/step.ts';
import { adjustedEPsi, type MemberFactors } from './adjusted-values.ts';
import { nds, type NdsEdition } from './clauses.ts';
import type { ServiceConditions } from './conditions.ts';
import type { WoodMember } from './member.ts';

/**
 * The sag of one span under one set of loads, as E · I · Δ (lb-in³): statics knows it without knowing the
 * member, so that one analysis serves every candidate. Downward positive.
 */
export interface DeflectionDemand {
  readonly id: string;
  /** 'span 1, L', 'span 1, 0.75L + 0.75S'. */
  readonly name: string;
  /** What the limit divides: the span, twice the length for an overhang. */
  readonly spanIn: number;
  /** Live, snow, roof live: loads that come and go. */
  readonly shortTermEiLbIn3: number;
  /** Dead and other lasting loads. */
  readonly longTermEiLbIn3: number;
}

/**
 * Creep factor Kcr, NDS 3.5.2 (from memory): 1.5 for seasoned lumber, dry glulam and composites; 2.0 for
 * unseasoned lumber and for lumber and glulam in the wet.
 */
export function creepFactor(member: WoodMember, conditions: ServiceConditions): number {
  const { family } = member.material;
  const green = family !== 'glulam' && family !== 'composite' && !conditions.seasoned;
  return conditions.wet || green ? 2 : 1.5;
}

/** E′ · I about the strong axis, lb-in². */
export function stiffnessLbIn2(member: WoodMember, factors: MemberFactors): number {
  return adjustedEPsi(member, factors) * member.section.momentOfInertiaIn4;
}

/** Sag under the loads that come and go, in; uplift counts like sag. */
export function transientDeflectionIn(demand: DeflectionDemand, stiffness: number): number {
  return Math.abs(demand.shortTermEiLbIn3) / stiffness;
}

/** ΔT = Kcr · ΔLT + ΔST, NDS Eq. 3.5-1, in. */
export function totalDeflectionIn(demand: DeflectionDemand, stiffness: number, creep: number): number {
  return Math.abs(creep * demand.longTermEiLbIn3 + demand.shortTermEiLbIn3) / stiffness;
}

export function stiffnessStep(
  id: string,
  edition: NdsEdition,
  member: WoodMember,
  factors: MemberFactors,
): Step {
  return {
    id: `${id}.E`,
    title: 'Adjusted modulus of elasticity',
    clause: nds(edition, '3.5.1'),
    formula: 'E′ = E · CM · Ct · Ci',
    values: {
      E: qty(member.material.reference.ePsi, 'psi'),
      CM: qty(factors.wet.e),
      Ct: qty(factors.temperature.e),
      Ci: qty(factors.incising.e),
    },
    result: qty(adjustedEPsi(member, factors), 'psi'),
  };
}

export function transientSteps(
  id: string,
  edition: NdsEdition,
  member: WoodMember,
  factors: MemberFactors,
  demand: DeflectionDemand,
): Step[] {
  return [
    stiffnessStep(id, edition, member, factors),
    {
      id: `${id}.short`,
      title: 'Deflection under the loads that come and go',
      clause: { standard: 'Mechanics', edition: '', section: 'elastic beam' },
      formula: 'ΔST = EIΔ ÷ (E′ · I)',
      values: {
        EIΔ: qty(demand.shortTermEiLbIn3, 'lb-in³'),
        'E′': qty(adjustedEPsi(member, factors), 'psi'),
        I: qty(member.section.momentOfInertiaIn4, 'in⁴'),
      },
      result: qty(demand.shortTermEiLbIn3 / stiffnessLbIn2(member, factors), 'in'),
      note: demand.name,
    },
  ];
}

export function totalSteps(
  id: string,
  edition: NdsEdition,
  member: WoodMember,
  factors: MemberFactors,
  demand: DeflectionDemand,
  creep: number,
): Step[] {
  const stiffness = stiffnessLbIn2(member, factors);
  return [
    ...transientSteps(id, edition, member, factors, demand),
    {
      id: `${id}.long`,
      title: 'Immediate deflection under lasting load',
      clause: { standard: 'Mechanics', edition: '', section: 'elastic beam' },
      formula: 'ΔLT = EIΔ ÷ (E′ · I)',
      values: {
        EIΔ: qty(demand.longTermEiLbIn3, 'lb-in³'),
        'E′': qty(adjustedEPsi(member, factors), 'psi'),
        I: qty(member.section.momentOfInertiaIn4, 'in⁴'),
      },
      result: qty(demand.longTermEiLbIn3 / stiffness, 'in'),
    },
    {
      id: `${id}.total`,
      title: 'Deflection with creep',
      clause: nds(edition, 'Eq. 3.5-1'),
      formula: 'ΔT = Kcr · ΔLT + ΔST',
      values: {
        Kcr: qty(creep),
        ΔLT: qty(demand.longTermEiLbIn3 / stiffness, 'in'),
        ΔST: qty(demand.shortTermEiLbIn3 / stiffness, 'in'),
      },
      result: qty((creep * demand.longTermEiLbIn3 + demand.shortTermEiLbIn3) / stiffness, 'in'),
    },
  ];
}
