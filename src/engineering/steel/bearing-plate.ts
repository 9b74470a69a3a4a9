import { makeCheck, notNegative, positive, qty, type Check, type Editions } from '../trace/index.ts';
import { aisc, A36, OMEGA } from './grades.ts';
import type { WideFlange } from './wide-flange.ts';

/** How one end of the beam stands on wood. */
export interface SteelBearing {
  readonly end: 'left' | 'right';
  readonly reactionLb: number;
  /** Length of the beam on the support, along the beam. */
  readonly lengthIn: number;
  /** Width of the wood under it, across the beam: the pack or the plate of the wall. */
  readonly supportWidthIn: number;
  /** Allowable compression perpendicular (plate) or parallel (end grain) of the wood, with every factor in it. */
  readonly woodAllowablePsi: number;
  /** A bearing plate under the flange; omitted: the flange stands on the wood. */
  readonly plate?: BearingPlate;
}

export interface BearingPlate {
  /** Along the beam. */
  readonly lengthIn: number;
  /** Across the beam. */
  readonly widthIn: number;
  readonly thicknessIn: number;
  readonly fyPsi?: number;
}

/**
 * Steel thickness, in, that keeps an overhanging strip from yielding in bending under uniform pressure: the plate or
 * flange cantilevers from the fillet toe of the beam. AISC 360 F11 with Mn = Fy·t²/4, Ω 1.67; AISC Manual part 14.
 */
export function plateThicknessIn(pressurePsi: number, overhangIn: number, fyPsi: number): number {
  const pressure = notNegative(pressurePsi, 'pressurePsi');
  return Math.max(0, overhangIn) * Math.sqrt((2 * OMEGA.flexure * pressure) / positive(fyPsi, 'fyPsi'));
}

/** Area on the wood, and the steel that spreads the reaction over it. */
export function bearingChecks(
  shape: WideFlange,
  beamFyPsi: number,
  bearing: SteelBearing,
  editions: Editions,
): Check[] {
  const path = `bearings.${bearing.end}`;
  const reaction = notNegative(bearing.reactionLb, `${path}.reactionLb`);
  const plate = bearing.plate;
  const along = Math.min(
    positive(bearing.lengthIn, `${path}.lengthIn`),
    plate === undefined ? Infinity : positive(plate.lengthIn, `${path}.plate.lengthIn`),
  );
  const across = Math.min(
    positive(bearing.supportWidthIn, `${path}.supportWidthIn`),
    plate === undefined ? shape.flangeWidthIn : positive(plate.widthIn, `${path}.plate.widthIn`),
  );
  const allowable = positive(bearing.woodAllowablePsi, `${path}.woodAllowablePsi`);
  const pressure = reaction / (along * across);
  const fy = plate === undefined ? beamFyPsi : (plate.fyPsi ?? A36.fyPsi);
  const overhang = across / 2 - shape.filletToeIn;
  const needed = plateThicknessIn(pressure, overhang, fy);
  const thickness =
    plate === undefined ? shape.flangeIn : positive(plate.thicknessIn, `${path}.plate.thicknessIn`);
  const part = plate === undefined ? 'flange' : 'bearing plate';
  return [
    makeCheck({
      id: `steel.bearing.${bearing.end}.wood`,
      title: `Wood under the ${part}, ${bearing.end} end`,
      clause: { standard: 'NDS', edition: editions.nds, section: '3.10', provenance: 'from memory' },
      demand: qty(pressure, 'psi'),
      capacity: qty(allowable, 'psi'),
      steps: [
        {
          id: `steel.bearing.${bearing.end}.pressure`,
          title: 'Pressure on the wood',
          clause: { standard: 'Mechanics', edition: '', section: 'mean pressure' },
          formula: 'fc = R / (N · B)',
          values: { R: qty(reaction, 'lb'), N: qty(along, 'in'), B: qty(across, 'in') },
          result: qty(pressure, 'psi'),
        },
      ],
    }),
    makeCheck({
      id: `steel.bearing.${bearing.end}.${plate === undefined ? 'flange' : 'plate'}`,
      title: `Thickness of the ${part}, ${bearing.end} end`,
      clause: aisc(editions, 'F11'),
      demand: qty(needed, 'in'),
      capacity: qty(thickness, 'in'),
      steps: [
        {
          id: `steel.bearing.${bearing.end}.thickness`,
          title: `Thickness at which the overhang of the ${part} does not yield`,
          clause: aisc(editions, 'F11, Mn = Fy · t²/4'),
          formula: 't = n · √(2 · Ω · fp / Fy)',
          values: {
            n: qty(Math.max(0, overhang), 'in'),
            Ω: qty(OMEGA.flexure),
            fp: qty(pressure, 'psi'),
            Fy: qty(fy, 'psi'),
          },
          result: qty(needed, 'in'),
        },
      ],
    }),
  ];
}

/** Plates are cut to half inches and come in eighths. Common practice. */
const PLATE_MODULE_IN = 0.5;
const THICKNESS_MODULE_IN = 0.125;

/**
 * A plate that would pass on the wood there is: as long as the beam bears, as wide as need be, never narrower than
 * the flange. Undefined where even the full width of the support crushes: then the bearing has to grow.
 */
export function proposeBearingPlate(
  shape: WideFlange,
  bearing: Omit<SteelBearing, 'plate'>,
  fyPsi: number = A36.fyPsi,
): BearingPlate | undefined {
  const up = (value: number, module: number) => Math.ceil(value / module - 1e-9) * module;
  const area = bearing.reactionLb / positive(bearing.woodAllowablePsi, 'woodAllowablePsi');
  const wanted = Math.max(area / positive(bearing.lengthIn, 'lengthIn'), shape.flangeWidthIn);
  const widthIn = up(wanted, PLATE_MODULE_IN);
  if (widthIn > bearing.supportWidthIn + 1e-9) return undefined;
  const pressure = bearing.reactionLb / (bearing.lengthIn * widthIn);
  const thickness = plateThicknessIn(pressure, widthIn / 2 - shape.filletToeIn, fyPsi);
  return {
    lengthIn: bearing.lengthIn,
    widthIn,
    thicknessIn: Math.max(0.25, up(thickness, THICKNESS_MODULE_IN)),
    fyPsi,
  };
}
