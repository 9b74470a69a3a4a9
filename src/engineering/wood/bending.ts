import type { Step } from '../trace/step.ts';
import { qty, type Quantity } from '../trace/quantity.ts';
import { serviceFactor, type MemberFactors } from './adjusted-values.ts';
import { nds, type NdsEdition } from './clauses.ts';
import type { WoodMember } from './member.ts';
import { beamStability, type BeamStability, type UnbracedLoadCase } from './stability.ts';
import { volumeFactor } from './volume-factor.ts';

/** Which face is stretched: the bottom under a positive moment, the top over an inner support. */
export type TensionFace = 'bottom' | 'top';

export interface BendingCase {
  readonly member: WoodMember;
  readonly factors: MemberFactors;
  readonly loadDuration: number;
  readonly face: TensionFace;
  /** Between points that hold the compressed edge, in; zero: held throughout. */
  readonly unbracedIn: number;
  readonly loadCase: UnbracedLoadCase;
  /** Between points of zero moment, in: for CV of glulam. */
  readonly volumeLengthIn: number;
}

/** Every number of an adjusted bending value; the trace shows these and computes none. */
export interface BendingResistance {
  readonly referencePsi: number;
  readonly serviceProduct: number;
  /** Fb* for CL: with CV only where CV is above 1 (NDS 8.3.6). */
  readonly starPsi: number;
  readonly eminPsi: number;
  readonly stability: BeamStability;
  readonly volume: number;
  /** The factor that applies of CL and CV: their lesser, or their product where CV is above 1. */
  readonly stabilityOrVolume: number;
  readonly adjustedPsi: number;
}

/**
 * Fb′ about the strong axis: Fb · CD · CM · Ct · CF · Ci · Cr with CL, CV (NDS Tables 4.3.1, 5.3.1, 8.3.1).
 */
export function bendingResistance(input: BendingCase): BendingResistance {
  const { member, factors } = input;
  const { material } = member;
  const referencePsi = input.face === 'bottom' ? material.reference.fbPsi : material.fbNegativePsi;
  const serviceProduct = serviceFactor(factors, 'fb');
  const volume = volumeFactor(material.volume, member.breadthIn, member.depthIn, input.volumeLengthIn);
  const basePsi = referencePsi * input.loadDuration * serviceProduct * factors.size.fb * factors.repetitive;
  const starPsi = basePsi * Math.max(1, volume);
  const eminPsi = material.eminWeakPsi * serviceFactor(factors, 'e');
  const stability = beamStability(
    starPsi,
    eminPsi,
    member.breadthIn,
    member.depthIn,
    input.unbracedIn,
    input.loadCase,
  );
  const stabilityOrVolume = volume > 1 ? stability.factor * volume : Math.min(stability.factor, volume);
  return {
    referencePsi,
    serviceProduct,
    starPsi,
    eminPsi,
    stability,
    volume,
    stabilityOrVolume,
    adjustedPsi: basePsi * stabilityOrVolume,
  };
}

/** fb = M ÷ S, NDS Eq. 3.3-2. */
export function bendingStressPsi(momentLbIn: number, member: WoodMember): number {
  return momentLbIn / member.section.sectionModulusIn3;
}

/** The lines a checker reads: stress, Fb*, stability, volume, Fb′. */
export function bendingSteps(
  id: string,
  edition: NdsEdition,
  input: BendingCase,
  resistance: BendingResistance,
  momentLbIn: number,
): Step[] {
  const { member, factors } = input;
  const symbolFb = input.face === 'bottom' ? 'Fb' : 'Fb_top';
  const steps: Step[] = [
    {
      id: `${id}.stress`,
      title: 'Bending stress',
      clause: nds(edition, 'Eq. 3.3-2'),
      formula: 'fb = M ÷ S',
      values: { M: qty(momentLbIn, 'lb-in'), S: qty(member.section.sectionModulusIn3, 'in³') },
      result: qty(bendingStressPsi(momentLbIn, member), 'psi'),
    },
    starStep(id, input, resistance, symbolFb),
    ...stabilitySteps(id, edition, input, resistance),
  ];
  if (member.material.volume !== undefined) steps.push(volumeStep(id, edition, input, resistance));
  const values: Record<string, Quantity> = {
    [symbolFb]: qty(resistance.referencePsi, 'psi'),
    CD: qty(input.loadDuration),
    CM: qty(factors.wet.fb),
    Ct: qty(factors.temperature.fb),
    CF: qty(factors.size.fb),
    Ci: qty(factors.incising.fb),
    Cr: qty(factors.repetitive),
    CL: qty(resistance.stability.factor),
  };
  const product = `${symbolFb} · CD · CM · Ct · CF · Ci · Cr`;
  let formula = `Fb′ = ${product} · CL`;
  if (member.material.volume !== undefined) {
    values.CV = qty(resistance.volume);
    formula = resistance.volume > 1 ? `${formula} · CV` : `Fb′ = ${product} · min(CL, CV)`;
  }
  steps.push({
    id: `${id}.adjusted`,
    title: 'Adjusted bending value',
    clause: nds(edition, valuesTable(member)),
    formula,
    values,
    result: qty(resistance.adjustedPsi, 'psi'),
  });
  return steps;
}

/** The table of applicable factors for the kind of wood. */
export function valuesTable(member: WoodMember): string {
  switch (member.material.family) {
    case 'glulam':
      return 'Table 5.3.1';
    case 'composite':
      return 'Table 8.3.1';
    case 'dimension':
    case 'southern pine dimension':
    case 'timber':
    case 'southern pine timber':
      return 'Table 4.3.1';
  }
}

function starStep(id: string, input: BendingCase, resistance: BendingResistance, symbolFb: string): Step {
  const { factors, member } = input;
  const withVolume = resistance.volume > 1;
  return {
    id: `${id}.star`,
    title: 'Bending value before stability',
    clause: member.material.clause,
    formula: `Fb* = ${symbolFb} · CD · CM · Ct · CF · Ci · Cr${withVolume ? ' · CV' : ''}`,
    values: {
      [symbolFb]: qty(resistance.referencePsi, 'psi'),
      CD: qty(input.loadDuration),
      CM: qty(factors.wet.fb),
      Ct: qty(factors.temperature.fb),
      CF: qty(factors.size.fb),
      Ci: qty(factors.incising.fb),
      Cr: qty(factors.repetitive),
      ...(withVolume ? { CV: qty(resistance.volume) } : {}),
    },
    result: qty(resistance.starPsi, 'psi'),
    ...(member.material.note === undefined ? {} : { note: member.material.note }),
  };
}

function stabilitySteps(
  id: string,
  edition: NdsEdition,
  input: BendingCase,
  resistance: BendingResistance,
): Step[] {
  const { stability } = resistance;
  const { member } = input;
  if (stability.held) {
    return [
      {
        id: `${id}.CL`,
        title: 'Beam stability factor',
        clause: nds(edition, '3.3.3'),
        formula: 'CL = 1',
        values: {},
        result: qty(1),
        note:
          input.unbracedIn === 0
            ? 'The compressed edge is held throughout (3.3.3.3).'
            : 'The member is not deeper than wide (3.3.3.1).',
      },
    ];
  }
  return [
    {
      id: `${id}.RB`,
      title: 'Slenderness in bending',
      clause: nds(edition, 'Eq. 3.3-5'),
      formula: 'RB = √(le · d ÷ b²)',
      values: {
        le: qty(stability.effectiveIn, 'in'),
        d: qty(member.depthIn, 'in'),
        b: qty(member.breadthIn, 'in'),
      },
      result: qty(stability.slenderness),
      note: `le by Table 3.3.3 for lu ${input.unbracedIn} in, load: ${input.loadCase}.`,
    },
    {
      id: `${id}.FbE`,
      title: 'Critical buckling value',
      clause: nds(edition, '3.3.3'),
      formula: 'FbE = 1.20 · Emin′ ÷ RB²',
      values: { 'Emin′': qty(resistance.eminPsi, 'psi'), RB: qty(stability.slenderness) },
      result: qty(stability.criticalPsi, 'psi'),
    },
    {
      id: `${id}.CL`,
      title: 'Beam stability factor',
      clause: nds(edition, 'Eq. 3.3-6'),
      formula: 'CL = (1 + FbE/Fb*)/1.9 − √([(1 + FbE/Fb*)/1.9]² − (FbE/Fb*)/0.95)',
      values: { FbE: qty(stability.criticalPsi, 'psi'), 'Fb*': qty(resistance.starPsi, 'psi') },
      result: qty(stability.factor),
    },
  ];
}

function volumeStep(
  id: string,
  edition: NdsEdition,
  input: BendingCase,
  resistance: BendingResistance,
): Step {
  const { member } = input;
  const volume = member.material.volume;
  if (volume?.kind === 'depth') {
    return {
      id: `${id}.CV`,
      title: 'Volume (depth) factor',
      clause: nds(edition, '8.3.6'),
      formula: 'CV = (d0 ÷ d)^x',
      values: {
        d0: qty(volume.referenceDepthIn, 'in'),
        d: qty(member.depthIn, 'in'),
        x: qty(volume.exponent),
      },
      result: qty(resistance.volume),
    };
  }
  return {
    id: `${id}.CV`,
    title: 'Volume factor',
    clause: nds(edition, 'Eq. 5.3-1'),
    formula: 'CV = [(252 in ÷ L) · (12 in ÷ d) · (5.125 in ÷ b)]^(1/x) ≤ 1',
    values: {
      L: qty(input.volumeLengthIn, 'in'),
      d: qty(member.depthIn, 'in'),
      b: qty(member.breadthIn, 'in'),
      x: qty(volume?.exponentDivisor ?? 10),
    },
    result: qty(resistance.volume),
  };
}
