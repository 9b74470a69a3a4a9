import { positive } from '../../trace/index.ts';
import type { ReductionTerms } from './reduction-term.ts';

export type YieldMode = 'Im' | 'Is' | 'II' | 'IIIm' | 'IIIs' | 'IV';

export interface YieldInput {
  /** D or Dr, in. */
  readonly diameterIn: number;
  readonly fybPsi: number;
  readonly mainLengthIn: number;
  readonly sideLengthIn: number;
  readonly femPsi: number;
  readonly fesPsi: number;
  readonly rd: ReductionTerms;
}

export interface YieldResult {
  readonly re: number;
  readonly rt: number;
  readonly k1: number;
  readonly k2: number;
  readonly k3: number;
  /** Reference lateral value of each mode, lb, one shear plane (or the whole double-shear joint). */
  readonly modesLb: Readonly<Partial<Record<YieldMode, number>>>;
  readonly mode: YieldMode;
  readonly zLb: number;
}

function coefficients(input: YieldInput): { re: number; rt: number; k1: number; k2: number; k3: number } {
  const { diameterIn: d, fybPsi, mainLengthIn: lm, sideLengthIn: ls, femPsi, fesPsi } = input;
  positive(d, 'diameterIn');
  positive(fybPsi, 'fybPsi');
  positive(lm, 'mainLengthIn');
  positive(ls, 'sideLengthIn');
  positive(femPsi, 'femPsi');
  positive(fesPsi, 'fesPsi');
  const re = femPsi / fesPsi;
  const rt = lm / ls;
  const k1 =
    (Math.sqrt(re + 2 * re ** 2 * (1 + rt + rt ** 2) + rt ** 2 * re ** 3) - re * (1 + rt)) / (1 + re);
  // k2 carries (1 + 2 Re) and k3 (2 + Re): they agree only where both members are alike.
  const k2 = -1 + Math.sqrt(2 * (1 + re) + (2 * fybPsi * (1 + 2 * re) * d ** 2) / (3 * femPsi * lm ** 2));
  const k3 = -1 + Math.sqrt((2 * (1 + re)) / re + (2 * fybPsi * (2 + re) * d ** 2) / (3 * femPsi * ls ** 2));
  return { re, rt, k1, k2, k3 };
}

function least(modesLb: Readonly<Partial<Record<YieldMode, number>>>): { mode: YieldMode; zLb: number } {
  let mode: YieldMode = 'Im';
  let zLb = Infinity;
  for (const [name, value] of Object.entries(modesLb)) {
    if (value < zLb) {
      mode = name as YieldMode;
      zLb = value;
    }
  }
  return { mode, zLb };
}

/** All six modes of single shear, lb (NDS Table 12.3.1A, Eq. 12.3-1 to 12.3-6). */
export function singleShear(input: YieldInput): YieldResult {
  const { diameterIn: d, fybPsi, mainLengthIn: lm, sideLengthIn: ls, femPsi, fesPsi, rd } = input;
  const { re, rt, k1, k2, k3 } = coefficients(input);
  const modesLb = {
    Im: (d * lm * femPsi) / rd.modeI,
    Is: (d * ls * fesPsi) / rd.modeI,
    II: (k1 * d * ls * fesPsi) / rd.modeII,
    IIIm: (k2 * d * lm * femPsi) / ((1 + 2 * re) * rd.modeIIIandIV),
    IIIs: (k3 * d * ls * femPsi) / ((2 + re) * rd.modeIIIandIV),
    IV: (d ** 2 / rd.modeIIIandIV) * Math.sqrt((2 * femPsi * fybPsi) / (3 * (1 + re))),
  };
  return { re, rt, k1, k2, k3, modesLb, ...least(modesLb) };
}

/** The four modes of symmetric double shear, lb for both planes together (NDS Eq. 12.3-7 to 12.3-10). */
export function doubleShear(input: YieldInput): YieldResult {
  const { diameterIn: d, fybPsi, mainLengthIn: lm, sideLengthIn: ls, femPsi, fesPsi, rd } = input;
  const { re, rt, k1, k2, k3 } = coefficients(input);
  const modesLb = {
    Im: (d * lm * femPsi) / rd.modeI,
    Is: (2 * d * ls * fesPsi) / rd.modeI,
    IIIs: (2 * k3 * d * ls * femPsi) / ((2 + re) * rd.modeIIIandIV),
    IV: ((2 * d ** 2) / rd.modeIIIandIV) * Math.sqrt((2 * femPsi * fybPsi) / (3 * (1 + re))),
  };
  return { re, rt, k1, k2, k3, modesLb, ...least(modesLb) };
}
