import {
  notNegative,
  positive,
  qty,
  refuseUnless,
  type Editions,
  type Quantity,
  type Step,
} from '../../trace/index.ts';
import { declaredClause, ndsClause } from '../clauses.ts';
import { dowelProperties, fastenerLabel, type DowelProperties, type Fastener } from './fastener.ts';
import { memberBearingPsi, type DowelMember } from './member.ts';
import { penetration, penetrationRule, type Method, type Penetration } from './penetration.ts';
import { reductionTerms, type ReductionTerms } from './reduction-term.ts';
import {
  doubleShear,
  singleShear,
  type YieldInput,
  type YieldMode,
  type YieldResult,
} from './yield-modes.ts';

export interface ShearPlane {
  readonly fastener: Fastener;
  readonly method: Method;
  /** The piece under the head. */
  readonly side: DowelMember;
  /** The piece that holds the point (between the two side pieces in double shear). */
  readonly main: DowelMember;
  /** Present: symmetric double shear, this piece on the far side. */
  readonly farSide?: DowelMember;
  /** Material ahead of the side member, or between, that takes length but no load: other plies, sheathing. */
  readonly aheadIn: number;
  /** Prefix of refusal paths and step ids: 'rows.3'. */
  readonly path: string;
}

export interface ReferenceLateral {
  /** Reference value Z of one fastener, lb; zero where the fastener does not count. */
  readonly zLb: number;
  readonly mode: YieldMode | 'declared' | 'too short';
  readonly modesLb: Readonly<Partial<Record<YieldMode, number>>>;
  readonly femPsi: number;
  readonly fesPsi: number;
  readonly rd: ReductionTerms;
  readonly penetration: Penetration;
  /** 6 D (nails, screws) or 4 D (lag screws), in; zero for bolts. */
  readonly leastPenetrationIn: number;
  /** p ÷ 10 D (8 D), at most 1. */
  readonly penetrationFactor: number;
  readonly dowel: DowelProperties;
  readonly steps: readonly Step[];
}

const MODE_FORMULA: Readonly<Record<'single' | 'double', Readonly<Record<YieldMode, string>>>> = {
  single: {
    Im: 'Z = D · lm · Fem / Rd',
    Is: 'Z = D · ls · Fes / Rd',
    II: 'Z = k1 · D · ls · Fes / Rd',
    IIIm: 'Z = k2 · D · lm · Fem / ((1 + 2 · Re) · Rd)',
    IIIs: 'Z = k3 · D · ls · Fem / ((2 + Re) · Rd)',
    IV: 'Z = D² / Rd · √(2 · Fem · Fyb / (3 · (1 + Re)))',
  },
  double: {
    Im: 'Z = D · lm · Fem / Rd',
    Is: 'Z = 2 · D · ls · Fes / Rd',
    II: '',
    IIIm: '',
    IIIs: 'Z = 2 · k3 · D · ls · Fem / ((2 + Re) · Rd)',
    IV: 'Z = 2 · D² / Rd · √(2 · Fem · Fyb / (3 · (1 + Re)))',
  },
};

function rdOf(mode: YieldMode, rd: ReductionTerms): number {
  if (mode === 'Im' || mode === 'Is') return rd.modeI;
  return mode === 'II' ? rd.modeII : rd.modeIIIandIV;
}

function bearingStep(
  id: string,
  member: DowelMember,
  d: DowelProperties,
  fePsi: number,
  editions: Editions,
): Step {
  if (member.material === 'wood') {
    const small = d.diameterIn < 0.25;
    return {
      id,
      title: `Dowel bearing strength of the ${id.endsWith('Fem') ? 'holding' : 'outer'} piece`,
      clause: ndsClause(editions, small ? 'Table 12.3.3' : 'Table 12.3.3, 12.3.4'),
      formula: small
        ? 'Fe = 16600 · G^1.84, to 50 psi as tabulated'
        : 'Fe = Hankinson of 11200 · G and 6100 · G^1.45 / √D at θ',
      values: {
        G: qty(member.specificGravity ?? 0),
        D: qty(d.diameterIn, 'in'),
        θ: qty(member.angleDeg, 'deg'),
      },
      result: qty(fePsi, 'psi'),
    };
  }
  return {
    id,
    title: `Dowel bearing strength of ${member.material}`,
    clause: ndsClause(editions, member.material === 'steel' ? 'Appendix I.2' : 'Table 12E footnote'),
    formula: 'Fe as tabulated',
    values: { t: qty(member.thicknessIn, 'in') },
    result: qty(fePsi, 'psi'),
  };
}

function modeSteps(
  plane: ShearPlane,
  input: YieldInput,
  result: YieldResult,
  editions: Editions,
): readonly Step[] {
  const shear = plane.farSide === undefined ? 'single' : 'double';
  return Object.entries(result.modesLb).map(([name, valueLb]) => {
    const mode = name as YieldMode;
    const values: Record<string, Quantity> = {
      D: qty(input.diameterIn, 'in'),
      lm: qty(input.mainLengthIn, 'in'),
      ls: qty(input.sideLengthIn, 'in'),
      Fem: qty(input.femPsi, 'psi'),
      Fes: qty(input.fesPsi, 'psi'),
      Fyb: qty(input.fybPsi, 'psi'),
      Re: qty(result.re),
      Rt: qty(result.rt),
      k1: qty(result.k1),
      k2: qty(result.k2),
      k3: qty(result.k3),
      Rd: qty(rdOf(mode, input.rd)),
    };
    return {
      id: `${plane.path}.mode.${mode}`,
      title: `Yield mode ${mode}${mode === result.mode ? ' (governs)' : ''}`,
      clause: ndsClause(editions, 'Table 12.3.1A'),
      formula: MODE_FORMULA[shear][mode],
      values,
      result: qty(valueLb, 'lb'),
    };
  });
}

function declaredLateral(
  plane: ShearPlane,
  declaredLb: number,
  report: string,
  place: Penetration,
): { zLb: number; step: Step } {
  return {
    zLb: declaredLb,
    step: {
      id: `${plane.path}.declared`,
      title: 'Reference lateral value as declared',
      clause: declaredClause(report),
      formula: 'Z as declared',
      values: { p: qty(place.penetrationIn, 'in') },
      result: qty(declaredLb, 'lb'),
    },
  };
}

/**
 * Reference lateral value of one fastener in one shear plane, or in symmetric double shear
 * (NDS 12.3.1, Table 12.3.1A), lb, before any adjustment factor.
 *
 * Where the point enters less than the full 10 D (8 D for lag screws) the lesser of two values counts: the
 * yield equations with the true bearing length, and the full value × p ÷ 10 D of the tables' footnotes.
 * Under 6 D (4 D) the fastener does not count at all.
 * @throws Refusal for members without specific gravity, thickness of zero, sizes that the standard lacks
 */
export function referenceLateral(plane: ShearPlane, editions: Editions): ReferenceLateral {
  const { fastener, side, main, farSide, path } = plane;
  positive(side.thicknessIn, `${path}.members.0.thicknessIn`);
  positive(main.thicknessIn, `${path}.members.1.thicknessIn`);
  notNegative(plane.aheadIn, `${path}.aheadIn`);
  const dowel = dowelProperties(fastener);
  const rule = penetrationRule(fastener);
  if (farSide !== undefined) {
    positive(farSide.thicknessIn, `${path}.members.2.thicknessIn`);
    refuseUnless(
      fastener.kind === 'bolt' || fastener.kind === 'nail',
      `${path}.fastener`,
      'Double shear is worked out for bolts and nails only.',
    );
  }
  const farRule = farSide === undefined ? rule : undefined;
  const place = penetration(dowel, farRule, plane.method, side.thicknessIn, main.thicknessIn, plane.aheadIn);
  const femPsi = memberBearingPsi(main, dowel.diameterIn, `${path}.members.1`);
  const fesNearPsi = memberBearingPsi(side, dowel.diameterIn, `${path}.members.0`);
  const fesPsi =
    farSide === undefined
      ? fesNearPsi
      : Math.min(fesNearPsi, memberBearingPsi(farSide, dowel.diameterIn, `${path}.members.2`));
  const angleDeg = Math.max(
    ...[side, main, ...(farSide === undefined ? [] : [farSide])]
      .filter((member) => member.material === 'wood')
      .map((member) => member.angleDeg),
    0,
  );
  const rd = reductionTerms(dowel.diameterIn, dowel.yieldDiameterIn, angleDeg);
  const far = farSide === undefined ? undefined : farSideLength(dowel, rule, plane, farSide);
  const penetrationIn = far?.penetrationIn ?? place.penetrationIn;
  const leastPenetrationIn = rule === undefined ? 0 : rule.least * dowel.diameterIn;
  const fullPenetrationIn = rule === undefined ? 0 : rule.full * dowel.diameterIn;
  const penetrationFactor = rule === undefined ? 1 : Math.min(1, penetrationIn / fullPenetrationIn);
  const common = {
    femPsi,
    fesPsi,
    rd,
    penetration: { ...place, penetrationIn },
    leastPenetrationIn,
    penetrationFactor,
    dowel,
  };
  const bearing = [
    bearingStep(`${path}.Fem`, main, dowel, femPsi, editions),
    bearingStep(`${path}.Fes`, side, dowel, fesPsi, editions),
  ];
  if (rule !== undefined && penetrationIn < leastPenetrationIn * (1 - 1e-9)) {
    return { ...common, zLb: 0, mode: 'too short', modesLb: {}, steps: bearing };
  }
  if (fastener.kind === 'structural screw' && fastener.lateralLb !== undefined) {
    const declared = declaredLateral(plane, fastener.lateralLb, fastener.report, place);
    const zLb = declared.zLb * penetrationFactor;
    return { ...common, zLb, mode: 'declared', modesLb: {}, steps: [declared.step] };
  }
  const input: YieldInput = {
    diameterIn: dowel.yieldDiameterIn,
    fybPsi: dowel.fybPsi,
    mainLengthIn: place.mainLengthIn,
    sideLengthIn: far === undefined ? place.sideLengthIn : Math.min(place.sideLengthIn, far.bearingIn),
    femPsi,
    fesPsi,
    rd,
  };
  const solve = farSide === undefined ? singleShear : doubleShear;
  const result = solve(input);
  const steps: Step[] = [...bearing, ...modeSteps(plane, input, result, editions)];
  let zLb = result.zLb;
  if (penetrationFactor < 1) {
    const lengthened =
      farSide === undefined ? { mainLengthIn: fullPenetrationIn } : { sideLengthIn: fullPenetrationIn };
    const fullLb = solve({ ...input, ...lengthened }).zLb;
    steps.push({
      id: `${path}.penetration`,
      title: 'Value for less than full penetration, as the tables reduce it',
      clause: ndsClause(editions, rule?.section ?? ''),
      formula: 'Z = Zfull · p / pfull',
      values: { Zfull: qty(fullLb, 'lb'), p: qty(penetrationIn, 'in'), pfull: qty(fullPenetrationIn, 'in') },
      result: qty(fullLb * penetrationFactor, 'lb'),
      note: `The lesser of this and the yield equations counts for ${fastenerLabel(fastener)}.`,
    });
    zLb = Math.min(zLb, fullLb * penetrationFactor);
  }
  return { ...common, zLb, mode: result.mode, modesLb: result.modesLb, steps };
}

/** Double shear: how far the point goes into the far piece. */
function farSideLength(
  dowel: DowelProperties,
  rule: ReturnType<typeof penetrationRule>,
  plane: ShearPlane,
  farSide: DowelMember,
): { bearingIn: number; penetrationIn: number } {
  if (rule === undefined) return { bearingIn: farSide.thicknessIn, penetrationIn: farSide.thicknessIn };
  const through = plane.side.thicknessIn + plane.main.thicknessIn;
  const place = penetration(dowel, rule, 'face', through, farSide.thicknessIn, plane.aheadIn);
  return { bearingIn: place.mainLengthIn, penetrationIn: place.penetrationIn };
}
