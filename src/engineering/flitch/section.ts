import { notNegative, positive, refuseUnless } from '../trace/index.ts';
import { OMEGA, STEEL_E_PSI } from '../steel/index.ts';

/** The sawn or composite plies, all of one size. Stresses are allowable, every factor in. */
export interface FlitchWood {
  readonly plies: number;
  readonly thicknessIn: number;
  readonly depthIn: number;
  readonly ePsi: number;
  readonly fbPsi: number;
  readonly fvPsi: number;
}

/** The steel plates between the plies, centred on their depth. */
export interface FlitchPlate {
  readonly plates: number;
  readonly thicknessIn: number;
  readonly depthIn: number;
  readonly fyPsi: number;
  /** Allowable bending stress; omitted: Fy ÷ 1.67 at first yield (AISC 360 F1, F11). */
  readonly bendingPsi?: number;
}

/** One bolt hole through one section, off the middle of the depth: rows are staggered, holes never in line. */
export interface FlitchHole {
  readonly diameterIn: number;
  readonly fromMiddleIn: number;
}

export interface FlitchSection {
  /** Es ÷ Ew. */
  readonly modularRatio: number;
  readonly woodInertiaIn4: number;
  readonly steelInertiaIn4: number;
  /** Everything as wood: Iw + n·Is. */
  readonly transformedInertiaIn4: number;
  readonly rigidityLbIn2: number;
  /** Part of load, shear and moment that the steel takes: Es·Is ÷ ΣEI. */
  readonly steelShare: number;
  readonly momentAtWoodLimitLbIn: number;
  readonly momentAtSteelLimitLbIn: number;
  /** All plates: 0.6 Fy ÷ 1.50 (AISC 360 G2) on two thirds of the area, the parabola of an elastic rectangle. */
  readonly plateShearParabolicLb: number;
  /** All plies: two thirds of the area times Fv′ (NDS 3.4.2). */
  readonly woodShearLb: number;
}

/**
 * Transformed section of plies and plates bent to one curvature, each about its own middle. Mechanics of composite
 * beams by strain compatibility; the bolts make the curvature one. Inches, psi, lb-in.
 * Refuses plates deeper than the wood and a hole outside the plate.
 */
export function flitchSection(input: {
  readonly wood: FlitchWood;
  readonly plate: FlitchPlate;
  readonly hole?: FlitchHole;
}): FlitchSection {
  const { wood, plate, hole } = input;
  const woodWidth = positive(wood.plies, 'wood.plies') * positive(wood.thicknessIn, 'wood.thicknessIn');
  const plateWidth =
    positive(plate.plates, 'plate.plates') * positive(plate.thicknessIn, 'plate.thicknessIn');
  const woodDepth = positive(wood.depthIn, 'wood.depthIn');
  const plateDepth = positive(plate.depthIn, 'plate.depthIn');
  const ew = positive(wood.ePsi, 'wood.ePsi');
  refuseUnless(plateDepth <= woodDepth, 'plate.depthIn', 'The plate is deeper than the plies that hold it.');

  const lost = hole === undefined ? 0 : holeSecondMoment(hole, plateDepth);
  const woodInertiaIn4 = woodWidth * (woodDepth ** 3 / 12 - lost);
  const steelInertiaIn4 = plateWidth * (plateDepth ** 3 / 12 - lost);
  const woodRigidity = ew * woodInertiaIn4;
  const steelRigidity = STEEL_E_PSI * steelInertiaIn4;
  const rigidityLbIn2 = woodRigidity + steelRigidity;
  const bending = plate.bendingPsi ?? positive(plate.fyPsi, 'plate.fyPsi') / OMEGA.flexure;
  return {
    modularRatio: STEEL_E_PSI / ew,
    woodInertiaIn4,
    steelInertiaIn4,
    transformedInertiaIn4: rigidityLbIn2 / ew,
    rigidityLbIn2,
    steelShare: steelRigidity / rigidityLbIn2,
    momentAtWoodLimitLbIn: (positive(wood.fbPsi, 'wood.fbPsi') * rigidityLbIn2) / (ew * (woodDepth / 2)),
    momentAtSteelLimitLbIn:
      (positive(bending, 'plate.bendingPsi') * rigidityLbIn2) / (STEEL_E_PSI * (plateDepth / 2)),
    plateShearParabolicLb: ((2 / 3) * plateWidth * plateDepth * 0.6 * plate.fyPsi) / OMEGA.shearStockyWeb,
    woodShearLb: (2 / 3) * woodWidth * woodDepth * positive(wood.fvPsi, 'wood.fvPsi'),
  };
}

/** Second moment that one hole takes from a unit width; the small shift of the neutral axis is left out. */
function holeSecondMoment(hole: FlitchHole, plateDepthIn: number): number {
  const diameter = positive(hole.diameterIn, 'hole.diameterIn');
  const middle = notNegative(hole.fromMiddleIn, 'hole.fromMiddleIn');
  refuseUnless(
    middle + diameter / 2 < plateDepthIn / 2,
    'hole.fromMiddleIn',
    'The bolt hole reaches past the edge of the plate.',
  );
  return diameter ** 3 / 12 + diameter * middle ** 2;
}
