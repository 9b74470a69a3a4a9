import { qty } from '../trace/quantity.ts';
import { refuseUnless } from '../trace/refusal.ts';
import type { Step } from '../trace/step.ts';
import type { MemberFactors } from './adjusted-values.ts';
import { nds, type NdsEdition } from './clauses.ts';
import type { WoodMember } from './member.ts';

/** fv = 3V ÷ (2bd), NDS Eq. 3.4-2. */
export function shearStressPsi(shearLb: number, member: WoodMember): number {
  return (1.5 * shearLb) / member.section.areaIn2;
}

/** A cut in the edge of a beam. Depth across the beam, length along it from the inner edge of the support. */
export interface Notch {
  readonly location: 'end' | 'outer third' | 'middle third';
  readonly edge: 'tension' | 'compression';
  readonly depthIn: number;
  /** e of NDS 3.4.3.2(e); needed for a notch in the compression edge. */
  readonly reachIn: number;
}

/**
 * Only a notch at an end, over its bearing, is calculated.
 * @throws Refusal elsewhere: NDS 4.4.3, 5.4.5 and 3.2.3 allow none in the middle third, and a cut in the
 *   outer thirds of a beam that takes a wall's place is a thing to repair, not to calculate.
 */
export function validateNotch(notch: Notch, member: WoodMember, path = 'notch'): void {
  refuseUnless(
    notch.location !== 'middle third',
    `${path}.location`,
    'A beam may not be notched in the middle third of its span (NDS 3.2.3, 4.4.3).',
  );
  refuseUnless(
    notch.location === 'end',
    `${path}.location`,
    'Only a notch at an end, over the bearing, is calculated; replace or reinforce a beam cut in its span.',
  );
  refuseUnless(
    Number.isFinite(notch.depthIn) && notch.depthIn > 0 && notch.depthIn < member.depthIn,
    `${path}.depthIn`,
    'The notch must be deeper than nothing and shallower than the beam.',
  );
  refuseUnless(
    Number.isFinite(notch.reachIn) && notch.reachIn >= 0,
    `${path}.reachIn`,
    'The notch reaches from the support into the span by zero or more.',
  );
}

/**
 * Deepest notch allowed at an end: sawn d/4 (NDS 4.4.3.2); glulam, tension edge, d/10 and 3 in, compression
 * edge 2d/5 (NDS 5.4.5); composites d/10 and 2d/5 (NDS 8.4.1). All from memory.
 */
export function deepestEndNotchIn(member: WoodMember, edge: Notch['edge']): number {
  const { family } = member.material;
  if (family !== 'glulam' && family !== 'composite') return member.depthIn / 4;
  if (edge === 'compression') return (2 / 5) * member.depthIn;
  return family === 'glulam' ? Math.min(member.depthIn / 10, 3) : member.depthIn / 10;
}

/** The section of the limit, by kind of wood. */
export function notchLimitSection(member: WoodMember): string {
  switch (member.material.family) {
    case 'glulam':
      return '5.4.5';
    case 'composite':
      return '8.4.1';
    case 'dimension':
    case 'southern pine dimension':
    case 'timber':
    case 'southern pine timber':
      return '4.4.3';
  }
}

/** Cvr, shear reduction factor of glulam at a notch, NDS 5.3.10 (from memory); of other wood there is none. */
const GLULAM_NOTCH_SHEAR = 0.72;

export function notchShearFactor(member: WoodMember): number {
  return member.material.family === 'glulam' ? GLULAM_NOTCH_SHEAR : 1;
}

/**
 * Shear a notched end carries, lb; of glulam with Cvr on Fv′ (NDS 5.3.10).
 * Tension edge: Vr′ = (2/3 · Fv′ · b · dn)(dn/d)², NDS Eq. 3.4-3.
 * Compression edge: Vr′ = 2/3 · Fv′ · b · [d − ((d − dn)/dn) · e], NDS Eq. 3.4-5, e ≤ dn; dn for d beyond.
 */
export function notchedShearLb(member: WoodMember, adjustedShearPsi: number, notch: Notch): number {
  const remainingIn = member.depthIn - notch.depthIn;
  const whole = (2 / 3) * adjustedShearPsi * notchShearFactor(member) * member.breadthIn;
  if (notch.edge === 'tension') return whole * remainingIn * (remainingIn / member.depthIn) ** 2;
  if (notch.reachIn > remainingIn) return whole * remainingIn;
  return whole * (member.depthIn - (notch.depthIn / remainingIn) * notch.reachIn);
}

export function shearSteps(
  id: string,
  edition: NdsEdition,
  member: WoodMember,
  factors: MemberFactors,
  loadDuration: number,
  shearLb: number,
  adjustedPsi: number,
): Step[] {
  return [
    {
      id: `${id}.stress`,
      title: 'Shear stress along the grain',
      clause: nds(edition, 'Eq. 3.4-2'),
      formula: 'fv = 3 · V ÷ (2 · b · d)',
      values: { V: qty(shearLb, 'lb'), b: qty(member.breadthIn, 'in'), d: qty(member.depthIn, 'in') },
      result: qty(shearStressPsi(shearLb, member), 'psi'),
    },
    adjustedShearStep(id, member, factors, loadDuration, adjustedPsi),
  ];
}

export function adjustedShearStep(
  id: string,
  member: WoodMember,
  factors: MemberFactors,
  loadDuration: number,
  adjustedPsi: number,
): Step {
  return {
    id: `${id}.adjusted`,
    title: 'Adjusted shear value',
    clause: member.material.clause,
    formula: 'Fv′ = Fv · CD · CM · Ct · Ci',
    values: {
      Fv: qty(member.material.reference.fvPsi, 'psi'),
      CD: qty(loadDuration),
      CM: qty(factors.wet.fv),
      Ct: qty(factors.temperature.fv),
      Ci: qty(factors.incising.fv),
    },
    result: qty(adjustedPsi, 'psi'),
  };
}

export function notchStep(
  id: string,
  edition: NdsEdition,
  member: WoodMember,
  notch: Notch,
  adjustedPsi: number,
  resistanceLb: number,
): Step {
  const reduction = notchShearFactor(member);
  const shear = reduction === 1 ? 'Fv′' : 'Fv′ · Cvr';
  const reduced = reduction === 1 ? '' : 'Cvr: 5.3.10, glulam at a notch (from memory).';
  const values = {
    'Fv′': qty(adjustedPsi, 'psi'),
    ...(reduction === 1 ? {} : { Cvr: qty(reduction) }),
    b: qty(member.breadthIn, 'in'),
    d: qty(member.depthIn, 'in'),
    dn: qty(member.depthIn - notch.depthIn, 'in'),
  };
  if (notch.edge === 'tension') {
    return {
      id: `${id}.resistance`,
      title: 'Shear at the notched end',
      clause: nds(edition, 'Eq. 3.4-3'),
      formula: `Vr′ = (2/3 · ${shear} · b · dn) · (dn/d)²`,
      values,
      result: qty(resistanceLb, 'lb'),
      ...(reduced === '' ? {} : { note: reduced }),
    };
  }
  return {
    id: `${id}.resistance`,
    title: 'Shear at the end notched on top',
    clause: nds(edition, 'Eq. 3.4-5'),
    formula: `Vr′ = 2/3 · ${shear} · b · [d − ((d − dn)/dn) · e]`,
    values: { ...values, e: qty(notch.reachIn, 'in') },
    result: qty(resistanceLb, 'lb'),
    note: `Where e is more than dn, dn stands for d and the second term falls away.${reduced === '' ? '' : ` ${reduced}`}`,
  };
}
