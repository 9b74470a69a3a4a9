import type { Editions } from '../../trace/clause.ts';
import { qty } from '../../trace/quantity.ts';
import { notNegative, positive } from '../../trace/refusal.ts';
import type { Step } from '../../trace/step.ts';
import { slopeDegrees } from '../../units/conversions.ts';
import { snowClause } from './flat-roof.ts';

export interface SlopeFactorInput {
  readonly asce7: Editions['asce7'];
  readonly riseIn12: number;
  readonly thermalFactor: number;
  /** Unobstructed slippery surface (smooth metal, slate, glass; not shingles with granules). */
  readonly slippery: boolean;
}

export interface SlopeFactor {
  readonly factor: number;
  readonly step: Step;
}

interface Panel {
  readonly name: 'a' | 'b' | 'c';
  /** Slopes, degrees, up to which Cs is 1. */
  readonly plainDeg: number;
  readonly slipperyDeg: number;
}

const WARM: Panel = { name: 'a', plainDeg: 30, slipperyDeg: 5 };
const COLD: Panel = { name: 'b', plainDeg: 37.5, slipperyDeg: 10 };
const COLDEST: Panel = { name: 'c', plainDeg: 45, slipperyDeg: 15 };

/** No snow is counted on a roof this steep (Fig. 7.4-1). */
const BARE_DEG = 70;

/**
 * The panel of Fig. 7.4-1. 7-16: Ct ≤ 1.0, Ct = 1.1, Ct ≥ 1.2; a Ct between takes the next panel, never less
 * snow. 7-22, whose Ct runs continuously (Table 7.3-3): Ct < 1.1, 1.1 ≤ Ct < 1.2, Ct ≥ 1.2 (from memory).
 */
function panelOf(asce7: Editions['asce7'], thermalFactor: number): Panel {
  if (asce7 === '7-22') return thermalFactor < 1.1 ? WARM : thermalFactor < 1.2 ? COLD : COLDEST;
  return thermalFactor <= 1 ? WARM : thermalFactor <= 1.1 ? COLD : COLDEST;
}

/**
 * Roof slope factor Cs of ASCE 7 Fig. 7.4-1: 1 up to the panel's slope, then a straight line to 0 at 70°.
 *
 * @throws Refusal for a negative rise or Ct of zero
 */
export function slopeFactor(input: SlopeFactorInput): SlopeFactor {
  const slopeDeg = slopeDegrees(notNegative(input.riseIn12, 'riseIn12'));
  const panel = panelOf(input.asce7, positive(input.thermalFactor, 'snowThermalFactor'));
  const startDeg = input.slippery ? panel.slipperyDeg : panel.plainDeg;
  const factor = Math.min(1, Math.max(0, (BARE_DEG - slopeDeg) / (BARE_DEG - startDeg)));
  return {
    factor,
    step: {
      id: 'snow.Cs',
      title: 'Roof slope factor',
      clause: snowClause(input.asce7, `7.4, Fig. 7.4-1(${panel.name})`),
      formula: 'Cs = min(1, max(0, (70 − θ) ÷ (70 − θ0)))',
      values: { θ: qty(slopeDeg, 'deg'), θ0: qty(startDeg, 'deg') },
      result: qty(factor),
      note: input.slippery ? 'Unobstructed slippery surface.' : 'Surface that holds snow.',
    },
  };
}
