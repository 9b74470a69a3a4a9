/**
 * The reduction term Rd of NDS Table 12.3.1B.
 */
export interface ReductionTerms {
  /** Modes Im and Is. */
  readonly modeI: number;
  readonly modeII: number;
  /** Modes IIIm, IIIs and IV. */
  readonly modeIIIandIV: number;
}

/** KD: 2.2 up to 0.17 in, then 10 D + 0.5 below 1/4 in (NDS Table 12.3.1B). */
export function smallDiameterCoefficient(diameterIn: number): number {
  return diameterIn <= 0.17 ? 2.2 : 10 * diameterIn + 0.5;
}

/**
 * @param nominalDiameterIn D of Appendix L
 * @param yieldDiameterIn D or Dr, whichever enters the yield equations
 * @param largestAngleDeg largest angle of load to grain of any connected member, 0–90
 */
export function reductionTerms(
  nominalDiameterIn: number,
  yieldDiameterIn: number,
  largestAngleDeg: number,
): ReductionTerms {
  const kTheta = 1 + 0.25 * (largestAngleDeg / 90);
  if (nominalDiameterIn < 0.25) {
    const kd = smallDiameterCoefficient(yieldDiameterIn);
    return { modeI: kd, modeII: kd, modeIIIandIV: kd };
  }
  if (yieldDiameterIn < 0.25) {
    // Footnote 1: threaded, nominal 1/4 in or more, root less: Rd = KD Kθ.
    const kd = smallDiameterCoefficient(yieldDiameterIn) * kTheta;
    return { modeI: kd, modeII: kd, modeIIIandIV: kd };
  }
  return { modeI: 4 * kTheta, modeII: 3.6 * kTheta, modeIIIandIV: 3.2 * kTheta };
}
