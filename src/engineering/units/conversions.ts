/**
 * The few conversions the engine needs. Inside statics everything is inches and pounds; the trade speaks feet,
 * plf and lb-ft at the edges.
 */
export const INCHES_PER_FOOT = 12;

export function feetFromInches(inches: number): number {
  return inches / INCHES_PER_FOOT;
}

export function inchesFromFeet(feet: number): number {
  return feet * INCHES_PER_FOOT;
}

/** plf → lb/in. */
export function poundsPerInchFromPlf(plf: number): number {
  return plf / INCHES_PER_FOOT;
}

/** lb/in → plf. */
export function plfFromPoundsPerInch(poundsPerInch: number): number {
  return poundsPerInch * INCHES_PER_FOOT;
}

export function poundFeetFromPoundInches(poundInches: number): number {
  return poundInches / INCHES_PER_FOOT;
}

export function poundInchesFromPoundFeet(poundFeet: number): number {
  return poundFeet * INCHES_PER_FOOT;
}

export function squareFeetFromSquareInches(squareInches: number): number {
  return squareInches / (INCHES_PER_FOOT * INCHES_PER_FOOT);
}

export function psiFromPsf(psf: number): number {
  return psf / (INCHES_PER_FOOT * INCHES_PER_FOOT);
}

export function radiansFromDegrees(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

export function degreesFromRadians(radians: number): number {
  return (radians * 180) / Math.PI;
}

/** Roof slope from the horizontal, degrees, of a rise in 12. */
export function slopeDegrees(riseIn12: number): number {
  return degreesFromRadians(Math.atan2(riseIn12, INCHES_PER_FOOT));
}

/** Length along the slope for one unit in plan: 1 ÷ cos θ. */
export function slopeLengthRatio(riseIn12: number): number {
  return Math.hypot(INCHES_PER_FOOT, riseIn12) / INCHES_PER_FOOT;
}
