import type { ServiceConditions } from './conditions.ts';
import {
  incisingFactors,
  repetitiveFactor,
  temperatureFactors,
  type ValueFactors,
  wetServiceFactors,
} from './factors.ts';
import type { WoodMember } from './member.ts';
import { flatUseFactor, type SizeFactors, sizeFactors } from './size-factor.ts';

/** Every factor of a member that neither load duration nor bracing decides. */
export interface MemberFactors {
  readonly wet: ValueFactors;
  readonly temperature: ValueFactors;
  readonly incising: ValueFactors;
  readonly size: SizeFactors;
  readonly flatUse: number;
  readonly repetitive: number;
}

/**
 * The factors of NDS Tables 4.3.1, 5.3.1 and 8.3.1 that hold for a member in its surroundings.
 * @throws Refusal where the standard has none (wet composites, incised glulam).
 */
export function memberFactors(member: WoodMember, conditions: ServiceConditions): MemberFactors {
  const { material } = member;
  const thicknessIn = member.nominalThicknessIn ?? member.plyThicknessIn;
  const widthIn = member.nominalWidthIn ?? member.depthIn;
  const size = sizeFactors(material, thicknessIn, widthIn, member.depthIn);
  return {
    wet: wetServiceFactors(
      material.family,
      conditions.wet,
      material.reference.fbPsi * size.fb,
      material.reference.fcPsi * size.fc,
    ),
    temperature: temperatureFactors(conditions.temperatureF, conditions.wet),
    incising: incisingFactors(material.family, conditions.incised),
    size,
    flatUse: flatUseFactor(material, thicknessIn, widthIn),
    repetitive: repetitiveFactor(material.family, conditions.repetitive),
  };
}

/** CM · Ct · Ci on one reference value. */
export function serviceFactor(factors: MemberFactors, key: keyof ValueFactors): number {
  return factors.wet[key] * factors.temperature[key] * factors.incising[key];
}

/** Ft′ = Ft · CD · CM · Ct · CF · Ci, NDS Table 4.3.1. */
export function adjustedTensionPsi(member: WoodMember, factors: MemberFactors, loadDuration: number): number {
  return member.material.reference.ftPsi * loadDuration * serviceFactor(factors, 'ft') * factors.size.ft;
}

/** Fc* = Fc · CD · CM · Ct · CF · Ci: all factors but CP, NDS 3.7.1. */
export function compressionStarPsi(member: WoodMember, factors: MemberFactors, loadDuration: number): number {
  return member.material.reference.fcPsi * loadDuration * serviceFactor(factors, 'fc') * factors.size.fc;
}

/** Fv′ = Fv · CD · CM · Ct · Ci. */
export function adjustedShearPsi(member: WoodMember, factors: MemberFactors, loadDuration: number): number {
  return member.material.reference.fvPsi * loadDuration * serviceFactor(factors, 'fv');
}

/** E′ = E · CM · Ct · Ci. */
export function adjustedEPsi(member: WoodMember, factors: MemberFactors): number {
  return member.material.reference.ePsi * serviceFactor(factors, 'e');
}
