import {
  makeCheck,
  notNegative,
  positive,
  qty,
  refuseUnless,
  type Check,
  type Editions,
} from '../trace/index.ts';
import { aci, irc, STATICS } from './clauses.ts';
import {
  bearingStrength,
  effectiveThicknessIn,
  plainFlexure,
  plainOneWayShear,
  plainTwoWayShear,
  THINNEST_FOOTING_IN,
} from './plain-concrete.ts';

/** Along: the way the removed wall ran. Across: at right angles to it. */
export interface Pad {
  readonly alongIn: number;
  readonly acrossIn: number;
  readonly thicknessIn: number;
}

/** What stands on the concrete: plate, post or base plate, centred on the pad. */
export interface Footprint {
  readonly alongIn: number;
  readonly acrossIn: number;
}

export interface PadInput {
  readonly pad: Pad;
  readonly footprint: Footprint;
  /** The heaviest ASD load. */
  readonly serviceLb: number;
  /** The heaviest strength-level load (ACI 318-19 5.3, ASCE 7 2.3). */
  readonly factoredLb: number;
  readonly soilBearingPsf: number;
  readonly concretePsi: number;
  readonly editions: Editions;
  readonly governing?: { readonly service?: string; readonly factored?: string };
}

/** Normalweight plain concrete, ASCE 7 Table C3.1-2 (144 plain, 150 reinforced; the heavier taken). From memory. */
export const CONCRETE_PCF = 150;

/** Service pressure, psf: of the load alone, and with the pad's own weight. */
export function soilPressurePsf(
  serviceLb: number,
  pad: Pad,
): { readonly netPsf: number; readonly grossPsf: number } {
  const netPsf = (serviceLb / (pad.alongIn * pad.acrossIn)) * 144;
  return { netPsf, grossPsf: netPsf + (CONCRETE_PCF * pad.thicknessIn) / 12 };
}

/** Largest factored moment at the face of the footprint (ACI 318-19 13.2.7.1), lb-in, and the width that resists it. */
export function faceMoment(
  factoredPsi: number,
  pad: Pad,
  footprint: Footprint,
): { readonly alongLbIn: number; readonly acrossLbIn: number } {
  const moment = (width: number, projection: number) =>
    (factoredPsi * width * Math.max(0, projection) ** 2) / 2;
  return {
    alongLbIn: moment(pad.acrossIn, (pad.alongIn - footprint.alongIn) / 2),
    acrossLbIn: moment(pad.alongIn, (pad.acrossIn - footprint.acrossIn) / 2),
  };
}

/** Factored punching shear outside a perimeter at half the depth (ACI 318-19 22.6.4.1), lb, and that perimeter, in. */
export function punching(
  factoredPsi: number,
  pad: Pad,
  footprint: Footprint,
  depthIn: number,
): { readonly shearLb: number; readonly perimeterIn: number } {
  const along = footprint.alongIn + depthIn;
  const across = footprint.acrossIn + depthIn;
  // The cone that reaches an edge of the pad has nothing left to punch through there.
  const inside = along < pad.alongIn && across < pad.acrossIn;
  const shearLb = inside ? factoredPsi * (pad.alongIn * pad.acrossIn - along * across) : 0;
  return { shearLb, perimeterIn: 2 * (along + across) };
}

/** Factored one-way shear at the distance `depthIn` from the face (ACI 318-19 13.2.7.2 with h for d), lb. */
export function oneWayShear(
  factoredPsi: number,
  widthIn: number,
  projectionIn: number,
  depthIn: number,
): number {
  return factoredPsi * widthIn * Math.max(0, projectionIn - depthIn);
}

/**
 * A plain concrete pad under one pack, load centred: soil pressure with the pad's weight, thickness, bending both
 * ways, one-way and punching shear, bearing under the footprint. ACI 318-19 chapter 14.
 * Refuses a footprint larger than the pad.
 */
export function checkPad(prefix: string, input: PadInput): Check[] {
  const { pad, footprint, editions, concretePsi } = input;
  for (const key of ['alongIn', 'acrossIn', 'thicknessIn'] as const)
    positive(pad[key], `${prefix}.pad.${key}`);
  for (const key of ['alongIn', 'acrossIn'] as const) {
    positive(footprint[key], `${prefix}.footprint.${key}`);
    refuseUnless(
      footprint[key] <= pad[key],
      `${prefix}.pad.${key}`,
      'The pad is smaller than what stands on it.',
    );
  }
  const service = notNegative(input.serviceLb, `${prefix}.serviceLb`);
  const factored = notNegative(input.factoredLb, `${prefix}.factoredLb`);
  const depth = effectiveThicknessIn(pad.thicknessIn);
  const area = pad.alongIn * pad.acrossIn;
  const qu = factored / area;
  const byService = input.governing?.service === undefined ? {} : { governing: input.governing.service };
  const byFactored = input.governing?.factored === undefined ? {} : { governing: input.governing.factored };

  const { netPsf, grossPsf } = soilPressurePsf(service, pad);
  const checks: Check[] = [
    makeCheck({
      id: `${prefix}.soil`,
      title: 'Pressure on the soil',
      clause: irc(editions, 'R401.4'),
      demand: qty(grossPsf, 'psf'),
      capacity: qty(positive(input.soilBearingPsf, 'soilBearingPsf'), 'psf'),
      ...byService,
      steps: [
        {
          id: `${prefix}.soil.net`,
          title: 'Pressure from the load alone',
          clause: STATICS,
          formula: 'qn = 144 · P / (L · B)',
          values: { P: qty(service, 'lb'), L: qty(pad.alongIn, 'in'), B: qty(pad.acrossIn, 'in') },
          result: qty(netPsf, 'psf'),
        },
        {
          id: `${prefix}.soil.gross`,
          title: 'With the weight of the concrete',
          clause: STATICS,
          formula: 'q = qn + γ · t / 12',
          values: { qn: qty(netPsf, 'psf'), γ: qty(CONCRETE_PCF, 'pcf'), t: qty(pad.thicknessIn, 'in') },
          result: qty(grossPsf, 'psf'),
        },
      ],
    }),
    makeCheck({
      id: `${prefix}.thickness`,
      title: 'Thickness of plain concrete',
      clause: aci(editions, '14.3.2.1'),
      demand: qty(THINNEST_FOOTING_IN, 'in'),
      capacity: qty(pad.thicknessIn, 'in'),
      sentence: (passes) =>
        passes
          ? `${pad.thicknessIn} in thick, at least the ${THINNEST_FOOTING_IN} in of a plain concrete footing.`
          : `${pad.thicknessIn} in is thinner than the ${THINNEST_FOOTING_IN} in of a plain concrete footing.`,
    }),
  ];
  const pressureStep = {
    id: `${prefix}.qu`,
    title: 'Factored pressure, without the weight that lies flat on the soil',
    clause: STATICS,
    formula: 'qu = Pu / (L · B)',
    values: { Pu: qty(factored, 'lb'), L: qty(pad.alongIn, 'in'), B: qty(pad.acrossIn, 'in') },
    result: qty(qu, 'psi'),
  };
  const moments = faceMoment(qu, pad, footprint);
  for (const way of ['along', 'across'] as const) {
    const width = way === 'along' ? pad.acrossIn : pad.alongIn;
    const projection =
      (way === 'along' ? pad.alongIn - footprint.alongIn : pad.acrossIn - footprint.acrossIn) / 2;
    const flexure = plainFlexure(concretePsi, width, depth, editions);
    const moment = way === 'along' ? moments.alongLbIn : moments.acrossLbIn;
    const shear = plainOneWayShear(concretePsi, width, depth, editions);
    const shearDemand = oneWayShear(qu, width, projection, depth);
    checks.push(
      makeCheck({
        id: `${prefix}.flexure.${way}`,
        title: `Bending ${way} the wall`,
        clause: aci(editions, '14.5.2'),
        demand: qty(moment, 'lb-in'),
        capacity: qty(flexure.design, 'lb-in'),
        ...byFactored,
        steps: [
          pressureStep,
          {
            id: `${prefix}.flexure.${way}.Mu`,
            title: 'Moment at the face of what stands on it',
            clause: aci(editions, '13.2.7.1'),
            formula: 'Mu = qu · b · c^2 / 2',
            values: { qu: qty(qu, 'psi'), b: qty(width, 'in'), c: qty(projection, 'in') },
            result: qty(moment, 'lb-in'),
          },
          flexure.step,
        ],
      }),
      makeCheck({
        id: `${prefix}.shear.one-way.${way}`,
        title: `One-way shear ${way} the wall`,
        clause: aci(editions, '14.5.5.1(a)'),
        demand: qty(shearDemand, 'lb'),
        capacity: qty(shear.design, 'lb'),
        ...byFactored,
        steps: [
          {
            id: `${prefix}.shear.one-way.${way}.Vu`,
            title: 'Shear at the distance h from the face',
            clause: aci(editions, '13.2.7.2'),
            formula: 'Vu = qu · b · (c − h)',
            values: {
              qu: qty(qu, 'psi'),
              b: qty(width, 'in'),
              c: qty(projection, 'in'),
              h: qty(depth, 'in'),
            },
            result: qty(shearDemand, 'lb'),
            note: 'Zero where the section lies outside the pad.',
          },
          shear.step,
        ],
      }),
    );
  }

  const beta =
    Math.max(footprint.alongIn, footprint.acrossIn) / Math.min(footprint.alongIn, footprint.acrossIn);
  const { shearLb, perimeterIn } = punching(qu, pad, footprint, depth);
  const twoWay = plainTwoWayShear(concretePsi, perimeterIn, depth, beta, editions);
  const loaded = footprint.alongIn * footprint.acrossIn;
  const bearing = bearingStrength(concretePsi, loaded, similarRatio(pad, footprint), editions);
  checks.push(
    makeCheck({
      id: `${prefix}.shear.two-way`,
      title: 'Punching shear',
      clause: aci(editions, '14.5.5.1(b)'),
      demand: qty(shearLb, 'lb'),
      capacity: qty(twoWay.design, 'lb'),
      ...byFactored,
      steps: [
        {
          id: `${prefix}.shear.two-way.Vu`,
          title: 'Shear outside the perimeter at half the depth',
          clause: aci(editions, '22.6.4.1'),
          formula: 'Vu = qu · (L · B − (a + h) · (b + h))',
          values: {
            qu: qty(qu, 'psi'),
            L: qty(pad.alongIn, 'in'),
            B: qty(pad.acrossIn, 'in'),
            a: qty(footprint.alongIn, 'in'),
            b: qty(footprint.acrossIn, 'in'),
            h: qty(depth, 'in'),
          },
          result: qty(shearLb, 'lb'),
          note: 'Zero where the perimeter lies outside the pad.',
        },
        twoWay.step,
      ],
    }),
    makeCheck({
      id: `${prefix}.bearing`,
      title: 'Bearing on the concrete',
      clause: aci(editions, '14.5.6'),
      demand: qty(factored, 'lb'),
      capacity: qty(bearing.design, 'lb'),
      ...byFactored,
      steps: [bearing.step],
    }),
  );
  return checks;
}

/**
 * √(A2/A1): the loaded area grown in its own shape until it meets an edge of the pad, or leaves the pad's depth at
 * 1 down to 2 out (ACI 318-19 14.5.6.1, R22.8.3.2).
 */
function similarRatio(pad: Pad, footprint: Footprint): number {
  return Math.min(
    pad.alongIn / footprint.alongIn,
    pad.acrossIn / footprint.acrossIn,
    1 + (4 * pad.thicknessIn) / Math.max(footprint.alongIn, footprint.acrossIn),
  );
}
