import type { Piece } from './beam-analysis.ts';
import { stationAt, type PlacedLoads } from './place-loads.ts';

/** What is in the beam at one place; slope and deflection as EI × slope (lb-in²) and EI × deflection (lb-in³). */
export interface March {
  readonly shear: number;
  readonly moment: number;
  readonly bend: number;
  readonly sag: number;
}

export const AT_REST: March = { shear: 0, moment: 0, bend: 0, sag: 0 };

/** Where solved pieces go, and the EI that turns bend and sag into slope and deflection. */
export interface Track {
  readonly pieces: Piece[];
  readonly ei: number;
}

/**
 * Integrates from just right of one break to just left of another: dV/dx = −w, dM/dx = V, EI·dθ/dx = −M,
 * dy/dx = θ, exactly, piece by piece, with the jumps of point loads and couples at the breaks between.
 */
export function marchOver(
  placed: PlacedLoads,
  fromBreak: number,
  toBreak: number,
  start: March,
  track?: Track,
): March {
  let { shear, moment, bend, sag } = start;
  for (let index = fromBreak; index < toBreak; index++) {
    const stretch = placed.stretches[index];
    if (stretch === undefined) break;
    if (index > fromBreak) {
      const station = stationAt(placed.stations, index);
      shear -= station.pointLb;
      moment += station.coupleLbIn;
    }
    const { fromIn, lengthIn: h, loadLbPerIn: w, loadChangeLbPerIn: dw } = stretch;
    track?.pieces.push({
      fromIn,
      lengthIn: h,
      loadLbPerIn: w,
      loadChangeLbPerIn: dw,
      shearLb: shear,
      momentLbIn: moment,
      slopeRad: bend / track.ei,
      deflectionIn: sag / track.ei,
    });
    sag += h * (bend - h * (moment / 2 + h * (shear / 6 - h * (w / 24 + dw / 120))));
    bend -= h * (moment + h * (shear / 2 - h * (w / 6 + dw / 24)));
    moment += h * (shear - h * (w / 2 + dw / 6));
    shear -= h * (w + dw / 2);
  }
  return { shear, moment, bend, sag };
}
